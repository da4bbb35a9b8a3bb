"""Two counts of what is left that cannot both be right."""

from fractions import Fraction

import pytest

from joblog.model import BookEntry, Entry, Item
from joblog.reconcile.counts import Clash, clashing_counts, counts_in, whole
from tests.reconcile.told import PANEL, kept, stock


def clashes(*entries: BookEntry) -> list[Clash]:
    return list(clashing_counts(PANEL, entries))


def count(number: int, left: object, minutes: int, unit: str = "sheet") -> BookEntry:
    return kept(number, stock("on_hand", left, unit), minutes=minutes)


def came(number: int, quantity: object, minutes: int) -> BookEntry:
    return kept(number, stock("delivered", quantity), minutes=minutes)


def test_what_came_since_is_taken_into_account_and_named() -> None:
    earlier, later = count(1, 2, 60), count(3, 9, 600)
    [clash] = clashes(earlier, came(2, "4.5", 90), later)
    assert clash == Clash(
        earlier, later, Fraction(5, 2), "9 left, where 2 were left before and only 4 1/2 came since"
    )


def test_a_count_that_grew_by_just_what_came_is_right() -> None:
    assert clashes(count(1, 2, 60), came(2, 4, 90), count(3, 6, 600)) == []


def test_a_count_that_stayed_or_fell_is_right() -> None:
    assert clashes(count(1, 6, 60), count(2, 6, 600), count(3, 1, 900)) == []


def test_what_came_before_the_earlier_count_was_in_it() -> None:
    [clash] = clashes(came(1, 9, 59), count(2, 2, 60), count(3, 5, 600))
    assert clash.over == 3


def test_what_came_at_the_moment_of_the_earlier_count_may_explain_the_later_one() -> None:
    assert clashes(count(1, 2, 60), came(2, 4, 60), count(3, 6, 600)) == []


def test_what_is_told_to_have_come_half_an_hour_after_the_later_count_was_in_it() -> None:
    assert clashes(count(1, 2, 60), count(2, 6, 600), came(3, 4, 630)) == []
    [clash] = clashes(count(1, 2, 60), count(2, 6, 600), came(3, 4, 631))
    assert clash.over == 4


def test_what_was_used_in_between_explains_nothing() -> None:
    used = kept(2, stock("used", 4), minutes=90)
    assert [one.over for one in clashes(count(1, 2, 60), used, count(3, 6, 600))] == [4]


def test_each_count_is_held_against_the_one_before_it() -> None:
    first, second, third = count(1, 2, 60), count(2, 8, 600), count(3, 9, 900)
    assert [(one.earlier, one.later) for one in clashes(first, second, third)] == [
        (first, second),
        (second, third),
    ]


def test_a_count_or_a_delivery_in_a_unit_that_does_not_fit_is_passed_over() -> None:
    odd = kept(2, Entry("delivered", item="panel", quantity=Fraction(3), unit="gal"), minutes=90)
    entries = (count(1, 2, 60), odd, count(3, 9, 300, "gal"), count(4, 5, 600))
    assert [one.over for one in clashes(*entries)] == [3]


# --- offcuts beside whole ones --------------------------------------------------------------------


def piece(number: int, inches: int, minutes: int, many: int = 1) -> BookEntry:
    return kept(number, stock("on_hand", many, length=Fraction(inches)), minutes=minutes)


def found(*entries: BookEntry) -> list[tuple[Fraction, Fraction, tuple[int, ...]]]:
    counts = counts_in(PANEL, entries)
    return [(one.quantity, one.parts, tuple(told.id for told in one.told)) for one in counts]


def test_offcuts_told_in_one_go_with_whole_ones_are_one_count() -> None:
    # Of sheets of 144 in.
    quarter = Fraction(1, 4)
    assert found(count(1, 2, 60), piece(2, 36, 70)) == [(2 + quarter, quarter, (1, 2))]
    assert found(piece(1, 36, 60), count(2, 2, 90)) == [(2 + quarter, quarter, (1, 2))]
    assert found(piece(1, 36, 60), piece(2, 72, 61), count(3, 2, 62)) == [
        (2 + 3 * quarter, 3 * quarter, (1, 2, 3))
    ]


def test_an_offcut_told_half_an_hour_later_is_a_count_of_its_own() -> None:
    quarter = Fraction(1, 4)
    assert found(count(1, 2, 60), piece(2, 36, 91)) == [(2, 0, (1,)), (quarter, quarter, (2,))]


def test_the_same_offcut_told_again_is_the_same_one() -> None:
    quarter = Fraction(1, 4)
    told = (count(1, 2, 60), piece(2, 36, 61), piece(3, 36, 62))
    assert found(*told) == [(2 + quarter, quarter, (1, 3))]


def test_whole_ones_counted_again_take_the_place_of_the_count_before() -> None:
    assert found(count(1, 2, 60), count(2, 3, 61)) == [(2, 0, (1,)), (3, 0, (2,))]
    half = Fraction(1, 2)
    assert found(count(1, "2.5", 60)) == [(2 + half, half, (1,))]


def test_feet_of_what_is_counted_in_sticks_are_an_offcut() -> None:
    stick = Item("panel", "stick", stock_length=Fraction(144))
    [one] = counts_in(stick, (count(1, 2, 60, "stick"), count(2, 4, 61, "ft")))
    assert (one.quantity, one.parts) == (2 + Fraction(1, 3), Fraction(1, 3))


def test_a_length_that_is_bought_is_a_whole_one() -> None:
    came = kept(1, stock("delivered", 9, length=Fraction(120)), minutes=0)
    assert found(came, piece(2, 120, 60, 3)) == [(3, 0, (2,))]
    # Nobody told of sheets of ten feet: three of them are 2 1/2 of twelve.
    assert found(piece(2, 120, 60, 3)) == [(Fraction(5, 2), Fraction(5, 2), (2,))]


def test_an_offcut_explains_no_growth_of_the_whole_ones() -> None:
    assert [one.over for one in clashes(count(1, 2, 60), count(2, 2, 600), piece(3, 36, 610))] == [
        Fraction(1, 4)
    ]


@pytest.mark.parametrize(
    "item, one",
    [
        (Item("stick", "stick"), 1),
        (Item("panel", "sheet"), 1),
        (Item("cap", "each"), 1),
        (Item("board", "ft", stock_length=Fraction(144)), 12),
        (Item("board", "in", stock_length=Fraction(144)), 144),
        (Item("board", "ft"), None),
        (Item("nails", "lb"), None),
        (Item("paint", "gal"), None),
    ],
)
def test_what_is_only_measured_comes_in_no_whole_ones(item: Item, one: int | None) -> None:
    assert whole(item) == one
