"""Exact lengths, areas, counts and money. No float here, ever.

A length is a `Fraction` of an inch. Conversion between general units goes through pint with
exact fractions; what one box or bundle of an item holds is the catalog's business.
"""

from __future__ import annotations

import re
from decimal import Decimal, DefaultContext, InvalidOperation, getcontext
from fractions import Fraction
from functools import cache
from typing import Any

# A book of earlier days may hold a price of any length; Decimal's usual 28 digits would round its
# sums without a word. The first holds for threads to come, the second for this one.
DefaultContext.prec = getcontext().prec = 500

UNITS = {
    "in": "inch", "ft": "foot", "ft2": "foot**2", "lb": "pound", "gal": "gallon",
    "square": "trade_square", "each": "trade_each", "pair": "trade_pair",
    "sheet": "trade_sheet", "stick": "trade_stick", "box": "trade_box", "roll": "trade_roll",
    "bundle": "trade_bundle", "tube": "trade_tube",
}  # fmt: skip
"""Our unit names and pint's. A square is 100 square feet (common practice)."""

_SPELLINGS = {
    "in": "in inch inches \"", "ft": "ft foot feet '", "ft2": "ft2 sqft sf",
    "lb": "lb lbs pound pounds", "gal": "gal gallon gallons", "square": "square squares sq",
    "each": "each ea piece pieces pc pcs", "pair": "pair pairs pr", "sheet": "sheet sheets",
    "stick": "stick sticks", "box": "box boxes", "roll": "roll rolls",
    "bundle": "bundle bundles", "tube": "tube tubes",
}  # fmt: skip
_SPELLED = {word: unit for unit, words in _SPELLINGS.items() for word in words.split()}


def unit_named(text: str) -> str | None:
    """Our name of a unit written by a person ("Sheets" -> "sheet"), None when we have none."""
    word = " ".join(text.lower().split()).rstrip(".")
    if word in ("square feet", "square foot", "sq ft", "sq. ft"):
        return "ft2"
    return _SPELLED.get(word)


def convert(quantity: Fraction, unit: str, into: str) -> Fraction | None:
    """`quantity` of `unit` expressed in `into`, exactly; None when the two do not mix."""
    if unit == into:
        return quantity
    if unit not in UNITS or into not in UNITS:
        return None
    units = registry()
    try:
        converted = units.Quantity(quantity, UNITS[unit]).to(UNITS[into])
    except _dimensionality_error():
        return None
    return Fraction(converted.magnitude)


@cache
def registry() -> Any:
    """pint's units and ours, all in exact fractions."""
    # pint takes a third of a second to import; parsing a sentence must not wait for it.
    import pint

    units: Any = pint.UnitRegistry(non_int_type=Fraction, cache_folder=None)
    units.define("trade_square = 100 * foot**2")
    units.define("trade_each = [trade_count]")
    units.define("trade_pair = 2 * trade_each")
    for name in ("sheet", "stick", "box", "roll", "bundle", "tube"):
        units.define(f"trade_{name} = [trade_{name}]")
    return units


def fraction_of(text: str) -> Fraction:
    """A number as people write it: "3", "0.625", "95/8", "11 7/8", "1,200".

    Raises ValueError with a plain line when it is not one, or one that nothing on a job amounts to.
    """
    cleaned = text.strip().replace("\N{FRACTION SLASH}", "/")
    if not _NUMBER.fullmatch(cleaned):
        raise ValueError(f"{_brief(text)} is not a number")
    if len(cleaned) > _LONGEST_TEXT:
        raise ValueError(f"{_brief(text)} is a number beyond reason")
    try:
        number = sum((Fraction(part) for part in cleaned.replace(",", "").split()), Fraction(0))
    except ZeroDivisionError:
        raise ValueError(f"{text!r} divides by zero") from None
    if abs(number) > MOST:
        raise ValueError(f"{_brief(text)} is a number beyond reason")
    return number


MOST = 10**12
"""Beyond any amount, length or price of a job; with it all sums stay within Decimal's 28 digits."""


def _brief(text: str) -> str:
    return repr(text) if len(text) <= _LONGEST_TEXT else f"{text[:_LONGEST_TEXT]!r}..."


def inches_of(text: str) -> Fraction:
    """A length in inches from tape-measure text, exactly: 12' 4 1/2", 147-3/8, 14.625, 5 ft 3 in.

    A bare number is inches. Raises ValueError with a plain line when it is no length.
    """
    cleaned = text.translate(_MARKS).strip().lower()
    for sign, part in _VULGAR.items():
        cleaned = cleaned.replace(sign, f" {part}")
    found = _LENGTH.fullmatch(" ".join(cleaned.split()))
    if found is None or not any(found.groups()) or len(text) > _LONGEST_TEXT:
        raise ValueError(f"{_brief(text)} is not a length")
    feet, inches = (
        fraction_of(_MIXED.sub(r"\1 \2", part)) if part else Fraction(0) for part in found.groups()
    )
    if found["feet"] and inches >= 12:
        raise ValueError(f"{text!r} is not a length: it has 12 inches or more besides the feet")
    return 12 * feet + inches


def money_of(text: str) -> Decimal:
    """An amount of money: "13.50", "$1,250". Raises ValueError when it is not one."""
    try:
        amount = Decimal(text.strip().lstrip("$").replace(",", ""))
    except InvalidOperation:
        raise ValueError(f"{_brief(text)} is not an amount of money") from None
    exponent = amount.as_tuple().exponent
    # "1e-999999" is a number to a computer, and a million digits to whoever prints it.
    if not isinstance(exponent, int) or exponent < -6 or amount.adjusted() >= _DIGITS_OF_MONEY:
        raise ValueError(f"{_brief(text)} is not an amount of money that a job may hold")
    return amount


_DIGITS_OF_MONEY = 12


def money(amount: Fraction) -> Decimal:
    """An exact amount rounded to the cent, halves to even, for showing and for the book."""
    cents = round(amount * 100)
    # Made of its digits: arithmetic would round to the 28 that Decimal's context has.
    return Decimal((int(cents < 0), tuple(map(int, str(abs(cents)))), -2))


def down_to(inches: Fraction, part: int) -> Fraction:
    """The longest length in parts of an inch, such as 16ths, that is not longer than this one."""
    return Fraction(inches * part // 1, part)


def tape(quantity: Fraction) -> str:
    """A number as a tape measure reads it: "11 7/8", "41", "-1/2". Always exact."""
    sign = "-" if quantity < 0 else ""
    whole, part = divmod(abs(quantity), 1)
    if not part:
        return f"{sign}{whole}"
    return f"{sign}{whole} {part}" if whole else f"{sign}{part}"


def about(quantity: Fraction, places: int = 4) -> str:
    """A number with so many decimals: "0.41", and "~3.4473" where there are more."""
    near = round(quantity, places)
    decimals = f"{Decimal(near.numerator) / near.denominator:f}"
    return decimals if near == quantity else f"~{decimals}"


def feet_and_inches(inches: Fraction) -> str:
    """A length as feet and inches: 12' 4 1/2\". Always exact."""
    sign = "-" if inches < 0 else ""
    feet, rest = divmod(abs(inches), 12)
    if not feet:
        return f'{sign}{tape(rest)}"'
    return f"{sign}{feet}' {tape(rest)}\"" if rest else f"{sign}{feet}'"


_MARKS = str.maketrans(
    {"\N{PRIME}": "'", "\N{DOUBLE PRIME}": '"', "\N{LEFT SINGLE QUOTATION MARK}": "'",
     "\N{RIGHT SINGLE QUOTATION MARK}": "'", "\N{LEFT DOUBLE QUOTATION MARK}": '"',
     "\N{RIGHT DOUBLE QUOTATION MARK}": '"', "\N{FRACTION SLASH}": "/"}
)  # fmt: skip
_VULGAR = {
    "\N{VULGAR FRACTION ONE QUARTER}": "1/4", "\N{VULGAR FRACTION ONE HALF}": "1/2",
    "\N{VULGAR FRACTION THREE QUARTERS}": "3/4", "\N{VULGAR FRACTION ONE EIGHTH}": "1/8",
    "\N{VULGAR FRACTION THREE EIGHTHS}": "3/8", "\N{VULGAR FRACTION FIVE EIGHTHS}": "5/8",
    "\N{VULGAR FRACTION SEVEN EIGHTHS}": "7/8",
}  # fmt: skip
_MEASURE = r"\d+[ -]\d+/\d+|\d+/\d+|(?:\d{1,3}(?:,\d{3})+|\d+)(?:\.\d+)?|\.\d+"
_LENGTH = re.compile(
    rf"(?:(?P<feet>{_MEASURE}) ?(?:'|ft\.?|feet|foot)(?: ?- ?| ?))?"
    rf"(?:(?P<inches>{_MEASURE}) ?(?:\"|''|in\.?|inch|inches)?)?",
    re.ASCII,
)
_LONGEST_TEXT = 40
_MIXED = re.compile(r"(\d)[ -](\d+/)")
_NUMBER = re.compile(
    r"[-+]?(?:\d[\d,]*(?:\.\d+)?|\.\d+)(?:\s+\d+/\d+)?|[-+]?\d+\s*/\s*\d+",
)


def _dimensionality_error() -> type[Exception]:
    import pint

    return pint.DimensionalityError
