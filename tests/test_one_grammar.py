"""Every text that is taken for a number, a length or money means the same in another reading.

The reading below shares nothing with ours: it takes texts apart by blanks and marks, with the
standard library's numbers. It is looser; ours may refuse what it reads, never read it otherwise.
"""

from __future__ import annotations

import contextlib
import unicodedata
from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction

import pint
import pytest
from babel.numbers import NumberFormatError, parse_decimal
from hypothesis import example, given
from hypothesis import strategies as st

from joblog.catalog.amounts import amount_of, openings_of, pitch_of
from joblog.quantity import (
    decimal_sign,
    either_way,
    feet_and_inches,
    fraction_of,
    inches_of,
    money_of,
    tape,
)

# --- another reading ----------------------------------------------------------------------------


def meant(text: str, decimal: str) -> Fraction | None:
    """The number that a text without a unit means; None for none."""
    words = _parted(text)
    sign = -1 if words[:1] == ["-"] else 1
    words = words[1:] if words[:1] in (["-"], ["+"]) else words
    values = [_one(word, decimal) for word in words]
    if not values or None in values or (len(values) > 1 and "/" not in words[-1]):
        whole = "".join(words)
        thousands = decimal == "," and all(len(word[:3]) == 3 for word in words[1:])
        return sign * found if thousands and (found := _one(whole, decimal)) is not None else None
    if len(values) > 2:
        before = _one("".join(words[:-1]), decimal)
        return None if before is None else sign * (before + (values[-1] or 0))
    return sign * sum((value or Fraction(0) for value in values), Fraction(0))


def _one(word: str, decimal: str) -> Fraction | None:
    if "/" in word:
        above, _, below = word.partition("/")
        plain = above.isdecimal() and below.isdecimal() and (above + below).isascii()
        return Fraction(int(above), int(below)) if plain and int(below) else None
    group = "," if decimal == "." else "."
    whole, _, decimals = word.partition(decimal)
    head, *groups = whole.split(group)
    if groups and (any(len(part) != 3 for part in groups) or not 1 <= len(head) <= 3):
        return None
    digits = "".join([head, *groups])
    if not (digits + decimals).isdecimal() or not (digits + decimals).isascii():
        return None
    return Fraction(Decimal(f"{digits or 0}.{decimals or 0}"))


def _parted(text: str) -> list[str]:
    """Its words; every fraction is a word by itself, and so is a sign before all."""
    out = ""
    for sign in text.strip("\ufeff \n\t\N{NO-BREAK SPACE}\N{THIN SPACE}"):
        kind, parts = unicodedata.category(sign), unicodedata.decomposition(sign)
        if parts.startswith("<fraction>"):
            exact = Fraction(unicodedata.numeric(sign)).limit_denominator(10)
            out += f" {exact.numerator}/{exact.denominator} "
        elif parts.startswith(("<super>", "<sub>")):
            out += (" " if parts.startswith("<super>") and out[-1:] not in _RISEN else "") + (
                _RISEN[int(unicodedata.digit(sign, 10) % 10)]
                if parts.startswith("<super>")
                else str(unicodedata.digit(sign, 0))
            )
        elif kind == "Pd" or sign == "\N{MINUS SIGN}":
            out += "-"
        elif kind == "Zs" or sign == "\t":
            out += " "
        else:
            out += "/" if sign in "\N{FRACTION SLASH}\N{DIVISION SLASH}" else sign
    for figure, risen in enumerate(_RISEN):
        out = out.replace(risen, str(figure))
    while " /" in out or "/ " in out:
        out = out.replace(" /", "/").replace("/ ", "/")
    if out[:1] in ("-", "+"):
        out = f"{out[0]} {out[1:]}"
    return out.split()


_RISEN = "".join(map(chr, range(0xE000, 0xE00A)))


def inches_meant(text: str, decimal: str, bare: int = 1) -> Fraction | None:
    """The inches that a length means; a bare number is of `bare` inches."""
    plain = text.lower()
    for one, other in _MARKS:
        plain = plain.replace(one, other)
    sign = -1 if plain.strip()[:1] in ("-", "\N{MINUS SIGN}", "\N{EN DASH}") else 1
    plain = plain.strip().lstrip("-+\N{MINUS SIGN}\N{EN DASH}")
    feet, foot, inches = plain.partition("'")
    if not foot:
        number = inches.strip() or feet
        unit = '"' in number
        value = _hyphened(number.replace('"', ""), decimal)
        return None if value is None else sign * value * (1 if unit else bare)
    inches = inches.strip().lstrip("-").replace('"', "")
    wide = _hyphened(feet, decimal)
    rest = _hyphened(inches, decimal) if inches.strip() else Fraction(0)
    return None if wide is None or rest is None else sign * (wide * 12 + rest)


def _hyphened(number: str, decimal: str) -> Fraction | None:
    """A number whose fraction may hang on a hyphen: 147-3/8."""
    dashes = str.maketrans(dict.fromkeys("-\N{HYPHEN}\N{NON-BREAKING HYPHEN}\N{EN DASH}", " "))
    return meant(number.translate(dashes), decimal)


_MARKS = [
    *((sign, "'") for sign in ("′", "’", "‘", "´", "feet", "foot", "ft.", "ft")),
    *((sign, '"') for sign in ("''", "″", "“", "”", "inches", "inch", "in.", "in")),
]

# --- texts as people, programs and slips write them -----------------------------------------------

DIGITS = st.sampled_from(["0", "1", "2", "3", "5", "7", "8", "11", "12", "16", "41", "125", "200"])
FRACTIONS = st.sampled_from(
    ["1/2", "7/8", "3/16", "9/8", "12/8", "1/0", "15 / 16", "7⁄8", "⁷⁄₈", "¹⁵/₁₆", *"½¼¾⅛⅜⅝⅞⅓⅔⅟"]
)
BLANKS = st.sampled_from([" ", "  ", "\N{NO-BREAK SPACE}", "\N{THIN SPACE}", "\t", "\n"])
SEPARATORS = st.sampled_from([",", ".", "-", "–", "−", "/", "+"])
MARKS = st.sampled_from(
    [
        "'",
        '"',
        "′",
        "″",
        "’",
        "”",
        "''",
        " ft ",
        "ft",
        " in",
        "in.",
        " feet ",
        "$",
        "x",
        "١",
        "８",
        "%",
    ]
)
PARTS = st.one_of(DIGITS, DIGITS, FRACTIONS, BLANKS, SEPARATORS, MARKS)
TEXTS = st.lists(PARTS, min_size=1, max_size=7).map("".join)
SIGNS = st.sampled_from([".", ","])


def _read(read: Callable[..., object], *args: object, **said: object) -> object:
    with contextlib.suppress(ValueError, ZeroDivisionError):
        return read(*args, **said)
    return None


@given(TEXTS, SIGNS)
@example("½8", ".")
@example("11⁷⁄₈", ".")
@example("1 200 1/2", ",")
@example("1 200/300", ",")
@example("0,125", ".")
@example("1.234.567,5", ",")
def test_a_number_that_is_read_means_the_same_in_another_reading(text: str, decimal: str) -> None:
    number = _read(fraction_of, text, decimal=decimal)
    assert number is None or number == meant(text, decimal)


@given(TEXTS, SIGNS)
@example("12 ft2", ".")
@example("5 ft.3 in", ".")
@example("12'-4 ⅞\"", ".")
def test_a_length_that_is_read_means_the_same_in_another_reading(text: str, decimal: str) -> None:
    length = _read(inches_of, text, decimal=decimal)
    assert length is None or length == inches_meant(text, decimal)


@given(TEXTS, SIGNS)
@example("-12' 4", ".")
def test_an_amount_of_feet_that_is_read_means_the_same_in_another_reading(
    text: str, decimal: str
) -> None:
    amount = _read(lambda: amount_of(text, "ft", decimal=decimal).quantity)
    found = inches_meant(text, decimal, bare=12)
    assert amount is None or (found is not None and amount == found / 12)


@given(TEXTS, SIGNS)
@example("1 200,50", ",")
@example("$ 1,250.00", ".")
def test_money_that_is_read_means_the_same_in_another_reading(text: str, decimal: str) -> None:
    amount = _read(money_of, text, decimal=decimal)
    plain = text.replace("$", "", 1).strip().removesuffix(decimal)
    assert amount is None or Fraction(str(amount)) == meant(plain, decimal)


@given(TEXTS)
def test_what_both_we_and_the_standard_library_read_is_the_same_number(text: str) -> None:
    ours, theirs = _read(fraction_of, text), _read(Fraction, text.replace("\N{MINUS SIGN}", "-"))
    assert ours is None or theirs is None or ours == theirs


@given(TEXTS)
def test_what_both_we_and_the_languages_of_the_world_read_is_the_same_number(text: str) -> None:
    for decimal, language in ((".", "en"), (",", "de"), (",", "fr"), (",", "es")):
        ours = _read(fraction_of, text, decimal=decimal)
        theirs = None
        with contextlib.suppress(NumberFormatError):
            theirs = parse_decimal(text, locale=language, strict=True)
        # Babel takes every digit of the world, and a minus sign of its language.
        assert ours is None or theirs is None or ours == Fraction(theirs), language


# --- what people write is read --------------------------------------------------------------------


@given(st.integers(0, 10**6), st.integers(1, 63), st.sampled_from([2, 4, 8, 16, 32, 64]), SIGNS)
def test_every_mark_of_a_tape_is_read_back_from_either_kind_of_fraction(
    whole: int, above: int, below: int, decimal: str
) -> None:
    length = whole + Fraction(above % below, below)
    assert fraction_of(tape(length), decimal=decimal) == length
    assert inches_of(feet_and_inches(length), decimal=decimal) == length


@given(st.decimals(0, 10**9, places=3, allow_nan=False), st.sampled_from(["", ",", ".", " "]))
def test_a_number_in_groups_of_three_is_read_by_its_decimal_sign(
    number: Decimal, group: str
) -> None:
    decimal = "." if group in ("", ",") else ","
    apart = f"{number:,.3f}".replace(",", "G").replace(".", decimal).replace("G", group)
    assert fraction_of(apart, decimal=decimal) == Fraction(number)
    assert money_of(apart, decimal=decimal) == number


@given(st.fractions(0, 100, max_denominator=64), st.sampled_from(["in", "ft"]))
def test_an_amount_is_put_in_another_unit_as_pint_does(number: Fraction, unit: str) -> None:
    units = pint.UnitRegistry(non_int_type=Fraction)
    for into, named in (("in", "inch"), ("ft", "foot")):
        ours = amount_of(f"{tape(number)} {unit}", into).quantity
        theirs = units.Quantity(number, {"in": "inch", "ft": "foot"}[unit]).to(named).magnitude
        assert ours == theirs


# Decimal equivalents of an inch, as a table of them has it (any machinist's handbook).
@pytest.mark.parametrize(
    ("written", "decimal"),
    [
        ("1/64", "0.015625"),
        ("1/32", "0.03125"),
        ("1/16", "0.0625"),
        ("⅛", "0.125"),
        ("3/16", "0.1875"),
        ("¼", "0.25"),
        ("21/64", "0.328125"),
        ("⅜", "0.375"),
        ("½", "0.5"),
        ("⅝", "0.625"),
        ("11⁄16", "0.6875"),
        ("¾", "0.75"),
        ("¹³⁄₁₆", "0.8125"),
        ("⅞", "0.875"),
        ("15/16", "0.9375"),
        ("63/64", "0.984375"),
    ],
)
def test_a_fraction_of_an_inch_is_its_decimal_equivalent(written: str, decimal: str) -> None:
    assert fraction_of(written) == Fraction(Decimal(decimal))
    assert inches_of(f'11 {written}"') == 11 + Fraction(Decimal(decimal))


@pytest.mark.parametrize(
    ("called", "worked_out"),
    [
        # US Navy, NAVEDTRA 14044, the example with figure 2-17: 13.89 x 8, called so.
        ("9 ft 3 1/8 in", "111.12"),
        # US Army, FM 5-426, table method: 17.69 x 10 1/3, called so.
        ("15 ft 3 in", "182.8"),
        # Griffith, Carpentry (1916): 12.5 ft x 13.42, "about 14 ft".
        ("14 ft", "167.75"),
    ],
)
def test_a_published_length_is_read_to_the_mark_that_it_was_called_by(
    called: str, worked_out: str
) -> None:
    assert abs(inches_of(called) - Fraction(worked_out)) <= Fraction(1, 4)


# --- what means two things is asked about ---------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "question"),
    [
        ("41,5", "is it 41.5?"),
        ("12,50", "is it 12.50?"),
        ("1.234,5", "is it 1,234.5?"),
        ("0,125", "is it 0.125?"),
        ("1 200", "is it 1200?"),
        ("1\N{NARROW NO-BREAK SPACE}200", "is it 1200?"),
        ("11 9/8", "is it 12 1/8?"),
        ("11 8/8", "is it 12?"),
        ("12 1/0", "divides by zero"),
        ("1,23,456", "is not a number"),
        ("١٢", "write it with the digits 0 to 9"),
        ("１２", "write it with the digits 0 to 9"),
        ("½8", "is not a number"),
        ("11\n7/8", "is not a number"),
        ("1\N{ZERO WIDTH SPACE}2", "is not a number"),
    ],
)
def test_a_number_that_may_be_another_is_refused_with_the_question(
    text: str, question: str
) -> None:
    with pytest.raises(ValueError) as refused:
        fraction_of(text)
    assert question in str(refused.value)


@pytest.mark.parametrize(
    ("text", "question"),
    [
        ("41,5 ft", "is it 41.5 ft?"),
        ("5' 1,5\"", "is it 5' 1.5\"?"),
        ("117/8", "is it 11 7/8, or 14 5/8?"),
        ('11 9/8"', "is it 12 1/8?"),
        ("5' 12\"", "has 12 inches beside its feet"),
        ("1'011", "has 011 inches beside its feet"),
        ("5.5' 3\"", "has parts of a foot and inches beside them"),
        ("12 ft2", "is not a length"),
        ("8-10 ft", "is not a length"),
        ("-3 in", "it is below zero"),
    ],
)
def test_a_length_that_may_be_another_is_refused_with_the_question(
    text: str, question: str
) -> None:
    with pytest.raises(ValueError) as refused:
        inches_of(text)
    assert question in str(refused.value)


@pytest.mark.parametrize(
    ("text", "question"),
    [("12,50", "is it 12.50?"), ("$1.234,50", "is it $1,234.50?"), ("1 200", "is it 1200?")],
)
def test_money_that_may_be_another_sum_is_refused_with_the_question(
    text: str, question: str
) -> None:
    with pytest.raises(ValueError) as refused:
        money_of(text)
    assert question in str(refused.value)


@pytest.mark.parametrize("text", ["24/18", "9/6", "½", "-6/12", "11 7/12"])
def test_a_rise_that_may_be_over_something_else_is_refused(text: str) -> None:
    with pytest.raises(ValueError):
        pitch_of(text)


def test_inches_said_of_one_side_of_an_opening_are_asked_about() -> None:
    with pytest.raises(ValueError, match="say the unit of both"):
        openings_of('36 x 48"')
    assert openings_of('36" x 48"') == openings_of("3 x 4") == openings_of("3 ft x 4")


@pytest.mark.parametrize(
    ("cells", "sign"),
    [
        (["41,5"], ","),
        (["41.5"], "."),
        (["1,200"], None),
        (["1.200"], None),
        (["1,200", "41,5"], ","),
        (["1,234,567"], "."),
        (["1.234.567"], ","),
        (["1.234,567"], ","),
        (["0,125"], ","),
        (["1234,567"], ","),
        ([",5 in"], ","),
        (["0: 11,5; 20: 12"], ","),
        (["24.12.2026", "1,2,3", "fascia 1x6", "", "11 7/8"], None),
    ],
)
def test_a_table_shows_its_decimal_sign_where_one_of_its_numbers_can_have_no_other(
    cells: list[str], sign: str | None
) -> None:
    assert decimal_sign(cells) == sign


def test_a_table_with_both_decimal_signs_is_refused_with_a_cell_of_each() -> None:
    with pytest.raises(
        ValueError, match=r"'41,5' has a decimal comma and '12\.50' a decimal point"
    ):
        decimal_sign(["11", "41,5", "12.50"])


def test_the_first_number_that_is_another_with_the_other_sign_is_told() -> None:
    assert either_way(["12", "41,5", "1,200 ft", "1.500"]) == "1,200 ft"
    assert either_way(["12", "41,5", "0,125"]) is None


@given(st.decimals(0, 10**6, places=2, allow_nan=False), SIGNS, SIGNS)
def test_no_table_is_read_with_a_sign_that_its_numbers_were_not_written_with(
    number: Decimal, wrote: str, taken: str
) -> None:
    written = f"{number:.2f}".replace(".", wrote)
    assert decimal_sign([written]) == wrote
    assert wrote == taken or _read(fraction_of, written, decimal=taken) is None
