"""Amounts told in other units than an item is counted in."""

from fractions import Fraction

from joblog.model import Amount, Item
from joblog.reconcile.units import in_unit_of

FASCIA = Item("fascia", "stick", stock_length=Fraction(144))
SIDING = Item("siding", "sheet", stock_length=Fraction(144), covers=Amount(Fraction(8), "ft2"))
COIL = Item("coil", "roll", covers=Amount(Fraction(50), "ft"))


def test_feet_of_what_comes_in_sticks_are_lengths_of_them() -> None:
    assert in_unit_of(FASCIA, Fraction(40), "ft") == Fraction(40, 12)


def test_squares_are_turned_by_what_one_covers() -> None:
    # A square is 100 square feet (common practice).
    assert in_unit_of(SIDING, Fraction(3), "square") == Fraction(300, 8)


def test_feet_are_turned_by_the_length_that_one_covers() -> None:
    assert in_unit_of(COIL, Fraction(20), "ft") == Fraction(2, 5)


def test_feet_of_a_sheet_say_nothing_of_how_many() -> None:
    assert (
        in_unit_of(Item("panel", "sheet", stock_length=Fraction(144)), Fraction(40), "ft") is None
    )


def test_pounds_of_sticks_are_not_turned() -> None:
    assert in_unit_of(FASCIA, Fraction(4), "lb") is None
