"""Amounts told in other units than an item is counted in."""

from fractions import Fraction

from joblog.model import Amount, Item
from joblog.reconcile.units import crew_hours, in_unit_of

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


def test_a_bare_number_is_in_the_items_own_unit_and_nothing_stays_nothing() -> None:
    assert in_unit_of(FASCIA, Fraction(4), None) == 4
    assert in_unit_of(FASCIA, None, "ft") is None


def test_the_items_own_other_units_go_before_everything_else() -> None:
    half = Item("half stick", "stick", stock_length=Fraction(144), also=(("ft", Fraction(1, 6)),))
    assert in_unit_of(half, Fraction(3), "ft") == Fraction(1, 2)
    two = Item("nails", "lb", also=(("sack", Fraction(9)), ("box", Fraction(5))))
    assert in_unit_of(two, Fraction(3), "box") == 15


def test_general_units_are_turned_before_what_one_covers() -> None:
    strip = Item("strip", "ft", covers=Amount(Fraction(50), "ft"))
    assert in_unit_of(strip, Fraction(24), "in") == 2


def test_what_covers_nothing_or_another_dimension_turns_nothing() -> None:
    assert (
        in_unit_of(Item("coil", "roll", covers=Amount(Fraction(0), "ft")), Fraction(2), "ft")
        is None
    )
    assert in_unit_of(COIL, Fraction(20), "ft2") is None


def test_sticks_of_no_known_length_are_not_turned() -> None:
    assert in_unit_of(Item("fascia", "stick"), Fraction(40), "ft") is None


def test_crew_hours_are_people_times_hours() -> None:
    assert crew_hours(Fraction(7, 2), 3) == Fraction(21, 2)
    assert crew_hours(Fraction(7, 2), None) == Fraction(7, 2)
    assert crew_hours(None, 3) == 0


def test_what_covers_one_foot_is_one_a_foot() -> None:
    assert in_unit_of(Item("mat", "roll", covers=Amount(Fraction(1), "ft")), Fraction(3), "ft") == 3
