"""Names that a person types are those of things that there are, or are refused with the nearest."""

from __future__ import annotations

from fractions import Fraction

import pytest

from joblog.catalog.naming import surely_called
from joblog.model import Item, Wanted
from joblog.named import Known, nearest, one_named, spoken_of, under_names
from joblog.ordering.foresee import Need
from joblog.ordering.order import with_wanted
from joblog.ordering.wishes import counts_of, in_order, shares_of

THERE = ["soffit panel", "F channel", "fascia", "trim nails"]
ITEMS = [
    Item("soffit panel", "sheet", spoken=("soffit",)),
    Item("F channel", "stick", spoken=("channel",)),
    Item("fascia", "stick", spoken=("fascia board",)),
    Item("J channel", "stick", spoken=("channel",)),
    Item("wall anchor", "each"),
]


def test_a_name_is_found_however_it_is_written() -> None:
    assert one_named("  f   CHANNEL ", THERE, "this order") == "F channel"


@pytest.mark.parametrize("known", [spoken_of(ITEMS), surely_called(ITEMS)])
def test_a_name_that_is_said_for_one_item_alone_counts_as_that_item(known: Known) -> None:
    assert one_named("fascia board", THERE, "this order", known) == "fascia"
    with pytest.raises(ValueError, match="nothing in this order is called 'channel'; is it F"):
        one_named("channel", THERE, "this order", known)


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("fasica", "fascia"), ("sofit panel", "soffit panel"), ("trim nail", "trim nails")],
)
def test_a_slip_is_refused_with_the_name_that_is_nearest(typed: str, meant: str) -> None:
    assert nearest(typed, THERE)[0] == meant
    with pytest.raises(ValueError, match=f"is called '{typed}'; is it {meant}"):
        one_named(typed, THERE, "this order")


def test_what_is_like_nothing_is_refused_with_all_that_there_is() -> None:
    with pytest.raises(ValueError, match=r"it has soffit panel, F channel, fascia, trim nails$"):
        one_named("zzz", THERE, "this order")
    with pytest.raises(ValueError, match=r"and 12 more$"):
        one_named("zzz", [f"item {number}" for number in range(20)], "this order")


def test_what_the_catalog_has_and_the_order_has_not_is_told_by_its_own_name() -> None:
    with pytest.raises(ValueError, match=r"is called 'wall anchors' \(wall anchor\)"):
        one_named("wall anchors", THERE, "this order", surely_called(ITEMS))


def test_one_thing_said_by_two_names_is_refused() -> None:
    with pytest.raises(ValueError, match="fascia is said twice"):
        under_names({"fascia": 3, "fascia board": 4}, THERE, "this order", spoken_of(ITEMS))


def test_what_is_on_hand_is_counted_for_the_item_that_is_meant() -> None:
    needs = [Need(item, None, Fraction(10)) for item in ITEMS[:3]]
    counted = counts_of(["f channel=3", "soffit=2", "fascia board=1 1/2"])
    assert in_order(counted, needs, ITEMS) == {
        "F channel": 3,
        "soffit panel": 2,
        "fascia": Fraction(3, 2),
    }
    # Of two channels only one is needed.
    assert in_order(counts_of(["channel=3"]), needs, ITEMS) == {"F channel": 3}
    with pytest.raises(
        ValueError, match=r"nothing in this order is called 'fasica'; is it fascia\?"
    ):
        in_order(counts_of(["fasica=4"]), needs, ITEMS)
    with pytest.raises(ValueError, match="is it soffit panel"):
        in_order(shares_of(["sofit panel=7%"]).items, needs, ITEMS)


def test_what_was_asked_for_on_a_job_may_be_on_hand_too() -> None:
    needs = [Need(ITEMS[2], None, Fraction(10))]
    counted = in_order(counts_of(["wall anchors=3"]), needs, ITEMS, asked=ITEMS[4:])
    wanted = Wanted("wall anchor", "each", Fraction(8), (1,))
    [line], _ = with_wanted((), [wanted], {"wall anchor": ITEMS[4]}, None, counted)
    assert (line.needed, line.on_hand, line.bought) == (8, 3, 5)


@pytest.mark.parametrize("said", [["fascia=3", "Fascia=4"], ["fascia=3", "fascia=3"]])
def test_one_name_said_twice_is_refused(said: list[str]) -> None:
    with pytest.raises(ValueError, match="fascia is said twice"):
        counts_of(said)
    with pytest.raises(ValueError, match="fascia is said twice"):
        shares_of(said)
