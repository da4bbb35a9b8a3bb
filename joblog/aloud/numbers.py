"""Numbers in words, exactly: `joblog.dictation` reads from them the number they were made of."""

from __future__ import annotations

import re
from datetime import time
from decimal import Decimal
from fractions import Fraction

from joblog.dictation.numbers import ONES, TENS
from joblog.quantity import about, inches_of

MOST = 99_999
"""The largest whole number that has words here; a larger one is said in figures."""


def in_words(number: Fraction | int) -> str:
    """ "fourteen and five eighths", "two point seven five"; "about ..." only where no words are
    exact, such as for sevenths."""
    if number < 0:
        return f"minus {in_words(-number)}"
    whole, part = divmod(Fraction(number), 1)
    if not part:
        return _whole(whole)
    if part.denominator in _PARTS:
        fraction = _fraction(part)
        return f"{_whole(whole)} and {fraction}" if whole else fraction
    shown = about(Fraction(number))
    return f"about {_decimal(shown[1:])}" if shown.startswith("~") else _decimal(shown)


def is_sayable(number: Fraction) -> bool:
    """Whether `in_words` has exact words for it that are no decimals."""
    return number.denominator == 1 or number.denominator in _PARTS


def length_in_words(inches: Fraction, as_said: str | None = None) -> str:
    """A length as it was measured: in inches, or in feet where it was said in feet, and heavy or
    light where it was. Never another length than `inches`."""
    said = as_said or ""
    plain, shade = _without_shade(said)
    length = inches - shade[1] if shade else inches
    if shade and not _is(plain, length):
        length, shade = inches, None
    ending = f" {shade[0]}" if shade else ""
    if _FEET.search(plain) and _is(plain, length):
        return _feet(length, plain) + ending
    if is_sayable(length) or not said:
        return in_words(length) + ending
    return spelled(said)


def area_in_words(square_inches: Fraction, as_said: str | None = None) -> str:
    """An area as it was said: "nine by fourteen", "eight square feet", "two squares"."""
    said = as_said or ""
    if " by " in said or not is_sayable(square_inches / 144):
        return spelled(said) if said else f"{in_words(square_inches)} square inches"
    if said.endswith(("square", "squares")):
        squares = square_inches / 14_400
        return f"{in_words(squares)} {'square' if squares == 1 else 'squares'}"
    return f"{in_words(square_inches / 144)} square feet"


def money_in_words(amount: Decimal) -> str:
    """ "fourteen ninety", "twelve dollars", "eighty five cents"."""
    dollars, cents = divmod(Fraction(amount) * 100, 100)
    if cents.denominator != 1:
        return f"{in_words(Fraction(amount))} dollars"
    if not cents:
        return f"{_whole(dollars)} {'dollar' if dollars == 1 else 'dollars'}"
    if not dollars:
        return f"{_whole(int(cents))} cents"
    like_a_hundred = dollars < 10 and 10 < cents < 20  # "One eighteen": a hundred and eighteen.
    if dollars < 100 and cents >= 10 and not like_a_hundred:
        return f"{_whole(dollars)} {_whole(int(cents))}"
    name = "dollar" if dollars == 1 else "dollars"
    return f"{_whole(dollars)} {name} {_whole(int(cents))} cents"


def time_in_words(clock: time, usual: range) -> str:
    """ "seven thirty", "seven oh five", "noon"; with "a m" or "p m" outside the `usual` hours."""
    if (clock.hour, clock.minute) in ((12, 0), (0, 0)):
        return "noon" if clock.hour else "midnight"
    hour = _whole(clock.hour % 12 or 12)
    half = "" if clock.hour in usual else " pm" if clock.hour >= 12 else " am"
    if not clock.minute:
        return f"{hour}{half}" if half else f"{hour} o'clock"
    oh = "oh " if clock.minute < 10 else ""
    return f"{hour} {oh}{_whole(clock.minute)}{half}"


def size_in_words(text: str) -> str:
    """Sizes as they are said: "fascia 1x6" as "fascia one by six", "8d nails" as "eight penny
    nails", "1 1/2 in trim nails" as "one and a half inch trim nails"."""
    text = _FIVE_QUARTER.sub("five quarter ", text)
    text = _BY.sub(r" by ", text)
    text = _PENNY.sub(r"\1 penny", text)
    text = _GAUGE.sub(r"\1 gauge", text)
    text = _INCH.sub(r"\1 inch", text)
    words = " ".join(spelled(text.replace("#", "number ")).split())
    return _OF_AN_INCH.sub(r"\1 inch", words).replace("three quarters inch", "three quarter inch")


def spelled(text: str) -> str:
    """The text with every number in figures put into words."""
    return _FIGURES.sub(lambda found: _in_figures(found.group()), text)


_PARTS = {
    2: ("half", "halves"),
    3: ("third", "thirds"),
    4: ("quarter", "quarters"),
    8: ("eighth", "eighths"),
    16: ("sixteenth", "sixteenths"),
    32: ("thirty second", "thirty seconds"),
    64: ("sixty fourth", "sixty fourths"),
}
_WHOLES = {value: word for word, value in (*ONES.items(), *TENS.items())}
_SHADES = {"heavy": Fraction(1, 16), "light": -Fraction(1, 16)}
_FEET = re.compile(r"\b(?:feet|foot|ft)\b")
_FIVE_QUARTER = re.compile(r"(?<![\d/])5/4(?=x\d)")
_BY = re.compile(r"(?<=[\d ])x(?=\d)")
_PENNY = re.compile(r"\b(\d+)d\b")
_GAUGE = re.compile(r"\b(\d+) ga\b")
_INCH = re.compile(r"(\d) in\b")
_OF_AN_INCH = re.compile(r"(?<!and )\ban? (half|quarter|eighth|sixteenth) inch")
_FIGURES = re.compile(r"\d+ \d+/\d+|\d+/\d+|\d+(?:\.\d+)?")


def _whole(number: int) -> str:
    if number > MOST:
        return str(number)
    if number in _WHOLES:
        return _WHOLES[number]
    if number < 100:
        return f"{_WHOLES[number // 10 * 10]} {_WHOLES[number % 10]}"
    hundreds = number < 1000 or (number < 10_000 and not number % 100 and number % 1000)
    size, name = (100, "hundred") if hundreds else (1000, "thousand")
    rest = f" {_whole(number % size)}" if number % size else ""
    return f"{_whole(number // size)} {name}{rest}"


def _fraction(part: Fraction) -> str:
    one, many = _PARTS[part.denominator]
    if part.numerator == 1:
        return f"{'an' if one == 'eighth' else 'a'} {one}"
    return f"{_whole(part.numerator)} {many}"


def _decimal(shown: str) -> str:
    whole, _, digits = shown.partition(".")
    said = " ".join(_WHOLES[int(digit)] for digit in digits)
    return f"{_whole(int(whole))} point {said}" if digits else _whole(int(whole))


def _in_figures(text: str) -> str:
    return in_words(sum(map(Fraction, text.split()), Fraction(0)))


def _without_shade(said: str) -> tuple[str, tuple[str, Fraction] | None]:
    plain, _, last = said.rpartition(" ")
    return (plain, (last, _SHADES[last])) if last in _SHADES else (said, None)


def _is(said: str, length: Fraction) -> bool:
    try:
        return inches_of(said) == length
    except ValueError:
        return False


def _feet(length: Fraction, said: str) -> str:
    feet, rest = divmod(length, 12)
    if "/" in said.partition("f")[0] or not feet:
        return f"{in_words(length / 12)} {'feet' if length > 12 else 'foot'}"
    foot = f"{_whole(feet)} {'foot' if feet == 1 else 'feet'}"
    if not rest:
        return foot
    # "Four feet and a half" would be half a foot.
    inch = " of an inch" if rest < 1 else ""
    return f"{foot} {in_words(rest)}{inch}"
