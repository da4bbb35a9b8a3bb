"""Exact quantities."""

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.quantity import (
    convert,
    feet_and_inches,
    fraction_of,
    money,
    money_of,
    tape,
    unit_named,
)


@given(st.fractions(min_value=-5000, max_value=5000, max_denominator=64))
def test_tape_text_reads_back_exactly(length: Fraction) -> None:
    written = tape(abs(length))
    assert fraction_of(written) == abs(length)


@pytest.mark.parametrize(
    ("quantity", "unit", "into", "expected"),
    [
        ("3", "square", "ft2", "300"),  # common practice: a square is 100 square feet
        ("1/3", "ft", "in", "4"),
        ("2", "pair", "each", "4"),
    ],
)
def test_units_convert_exactly(quantity: str, unit: str, into: str, expected: str) -> None:
    assert convert(Fraction(quantity), unit, into) == Fraction(expected)


def test_units_that_do_not_mix_give_nothing() -> None:
    assert convert(Fraction(2), "box", "lb") is None


def test_a_length_is_shown_in_feet_and_inches() -> None:
    assert feet_and_inches(Fraction(297, 2)) == "12' 4 1/2\""


@pytest.mark.parametrize("text", ["", "two", "1/0", "--3", "1e5", "nan", "inf"])
def test_what_is_no_number_is_refused_in_words(text: str) -> None:
    with pytest.raises(ValueError, match=r"is not a number|divides by zero"):
        fraction_of(text)


@pytest.mark.parametrize("text", ["", "abc", "NaN", "Infinity"])
def test_what_is_no_money_is_refused_in_words(text: str) -> None:
    with pytest.raises(ValueError, match="is not an amount of money"):
        money_of(text)


def test_money_is_rounded_to_the_cent_halves_to_even() -> None:
    assert (money(Fraction(1, 8)), money(Fraction(3, 8))) == (Decimal("0.12"), Decimal("0.38"))


def test_units_are_known_by_their_usual_spellings() -> None:
    assert [unit_named(text) for text in ("Sheets", "sq ft", "LBS.", "furlong")] == [
        "sheet", "ft2", "lb", None,
    ]  # fmt: skip


@pytest.mark.parametrize("text", ["1e-999999", "1e999999", "nan", "Infinity"])
def test_what_no_purse_holds_is_no_money(text: str) -> None:
    with pytest.raises(ValueError, match="not an amount of money"):
        money_of(text)
