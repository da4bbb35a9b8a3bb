"""Two counts of what is left that cannot both be right."""

from fractions import Fraction

from joblog.model import BookEntry, Entry
from joblog.reconcile.counts import Clash, clashing_counts
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
