"""Amounts as people write them in a table."""

from fractions import Fraction

import pytest

from joblog.catalog.amounts import amount_of, openings_of, pitch_of
from joblog.model import Amount


@pytest.mark.parametrize(
    ("text", "unit", "amount"),
    [
        ("41", "ft", 41),
        ("41 ft", "in", 492),
        ("41'", "ft", 41),
        ("12' 4 1/2\"", "in", Fraction(297, 2)),
        ("12'4\"", "in", 148),
        ("12 ft 6", "in", 150),
        ("12'-6\"", "in", 150),
        ("11 7/8 in", "in", Fraction(95, 8)),
        ('11 7/8"', "in", Fraction(95, 8)),
        ("3 squares", "ft2", 300),
        ("1,200 sq ft", "square", 12),
        ("2 pieces", "", 2),
    ],
)
def test_an_amount_comes_in_the_unit_that_is_wanted(
    text: str, unit: str, amount: int | Fraction
) -> None:
    assert amount_of(text, unit) == Amount(Fraction(amount), unit)


@pytest.mark.parametrize(
    ("text", "unit", "why"),
    [
        ("41 cubits", "ft", "there is no unit 'cubits'"),
        ("41 ft2", "ft", "is no amount in ft"),
        ("3 lb", "ft", "is no amount in ft"),
        ("6 ft", "", "needs no unit"),
        ("12 ft 14 in", "in", "has 14 inches beside its feet"),
        ("1/0", "ft", "divides by zero"),
        ("1e3", "ft", "there is no unit 'e3'"),
        ("many", "ft", "is not an amount"),
        ("", "ft", "is not an amount"),
        ("5 in 3 ft", "in", "there is no unit"),
        ("9" * 5000, "ft", "is not an amount"),
        ("9" * 5000 + "'", "ft", "is not a length"),
    ],
)
def test_what_is_no_such_amount_is_refused_in_words(text: str, unit: str, why: str) -> None:
    with pytest.raises(ValueError, match=why):
        amount_of(text, unit)


@pytest.mark.parametrize("text", ["6", "6/12", "6 in 12", "6:12", "6 on 12"])
def test_a_pitch_is_its_rise_over_twelve_however_written(text: str) -> None:
    assert pitch_of(text) == Amount(Fraction(6))


@pytest.mark.parametrize(("text", "why"), [("1/2", "two things"), ("100", "steeper"), ("x", "not")])
def test_a_pitch_that_may_mean_something_else_is_refused(text: str, why: str) -> None:
    with pytest.raises(ValueError, match=why):
        pitch_of(text)


def test_openings_have_an_area_and_an_edge() -> None:
    # 3 x 4 ft: 12 square feet, 14 ft around; 2 1/2 x 6 2/3 ft: 16 2/3 square feet, 18 1/3 ft.
    area, edge = openings_of("3x4; 2' 6\" x 6' 8\"")
    assert area == Amount(Fraction(86, 3), "ft2")
    assert edge == Amount(Fraction(97, 3), "ft")


def test_an_opening_given_as_an_area_has_no_edge() -> None:
    assert openings_of("12 ft2") == (Amount(Fraction(12), "ft2"), Amount(Fraction(0), "ft"))


@pytest.mark.parametrize("text", ["3x4x5", "0 x 4", "door", "3 x"])
def test_what_is_no_opening_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"opening|amount|no size"):
        openings_of(text)
