"""A plan and the catalog meet: nothing of the plan is lost, and nothing is turned but exactly."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.model import Catalog, Item, Plan, PlannedItem
from joblog.plan.meeting import as_item, met, met_again

FASCIA = Item("fascia", "stick", ("fascia board",), stock_length=Fraction(144))
CATALOG = Catalog((FASCIA, Item("nails", "lb")))


def line(name: str, unit: str, quantity: int = 24, **more: object) -> PlannedItem:
    return PlannedItem(Item(name, unit), Fraction(quantity), **more)  # type: ignore[arg-type]


def test_every_part_of_a_planned_line_is_put_in_the_catalogs_unit() -> None:
    planned = line(
        "fascia board", "ft", 48, opening=Fraction(12), net=Fraction(36), offcut=Fraction(6),
        unit_cost=Decimal("1.25"), source="5 jobs",
    )  # fmt: skip
    [now] = met(Plan((planned,)), CATALOG).plan.items
    # Twelve feet a stick.
    assert (now.quantity, now.opening, now.net, now.offcut) == (4, 1, 3, Fraction(1, 2))
    assert (now.unit_cost, now.source) == (Decimal("15.00"), "5 jobs")
    assert now.item == FASCIA


def test_a_planned_line_of_the_same_name_and_unit_keeps_what_it_knows_itself() -> None:
    own = replace(line("Fascia", "stick"), item=Item("Fascia", "stick", ("white board",)))
    [now] = met(Plan((own,)), CATALOG).plan.items
    assert now.item == Item("fascia", "stick", ("white board",))


@given(
    st.lists(
        st.tuples(
            st.sampled_from(
                ["fascia", "fascia board", "board fascia", "nails", "tar", "1x8 fascia"]
            ),
            st.sampled_from(["stick", "ft", "in", "lb", "each"]),
            st.integers(1, 999),
            st.one_of(st.none(), st.decimals(0, 99, places=2)),
        ),
        unique_by=lambda row: row[0],
    )
)
def test_whatever_meets_costs_and_measures_what_it_did(
    rows: list[tuple[str, str, int, Decimal | None]],
) -> None:
    plan = Plan(
        tuple(line(name, unit, quantity, unit_cost=cost) for name, unit, quantity, cost in rows)
    )
    found = met(plan, CATALOG)
    names = [one.item.name for one in found.plan.items]
    assert len(names) == len(set(names)) == len(plan.items)
    for was, now in zip(plan.items, found.plan.items, strict=True):
        if was.unit_cost is not None:
            assert now.unit_cost is not None
            assert now.quantity * Fraction(now.unit_cost) == was.quantity * Fraction(was.unit_cost)
        if now.item.unit == was.item.unit:
            assert now.quantity == was.quantity


def test_meeting_twice_is_meeting_once() -> None:
    plan = Plan((line("fascia board", "ft"), line("tar", "gal")))
    once = met(plan, CATALOG)
    again = met(once.plan, CATALOG)
    assert (again.plan, again.notes, again.apart) == (once.plan, (), once.apart)


def test_a_line_that_cannot_be_turned_is_none() -> None:
    assert as_item(line("fascia", "lb"), FASCIA) is None
    assert as_item(line("fascia", "ft", unit_cost=Decimal("0.00001")), FASCIA) is None


@pytest.mark.parametrize("cost", [None, Decimal("3.00")])
def test_a_change_of_price_alone_is_no_reason_to_meet_again(cost: Decimal | None) -> None:
    plan = Plan((line("fascia board", "ft"),))
    dearer = replace(FASCIA, unit_cost=cost)
    assert met_again(CATALOG, Catalog((dearer, *CATALOG.items[1:])), plan) == plan
    cut = replace(FASCIA, kerf=Fraction(1, 8))
    assert met_again(CATALOG, Catalog((cut, *CATALOG.items[1:])), plan) != plan


@pytest.mark.parametrize("unit", ["sheet", "stick", "panel", "tube", "roll"])
def test_one_each_of_what_is_counted_one_by_one_is_one_of_it_and_is_said(unit: str) -> None:
    item = Item("soffit panel", unit)
    found = met(
        Plan((line("Soffit panel", "each", 9, unit_cost=Decimal("31.25")),)), Catalog((item,))
    )
    [now] = found.plan.items
    assert (now.quantity, now.item.unit, now.unit_cost) == (9, unit, Decimal("31.25"))
    assert found.refused == ()
    [note] = found.notes
    assert note.startswith("Soffit panel: planned 9 each; one each is taken for one ")


@pytest.mark.parametrize("unit", ["box", "bundle", "pack", "bag", "lb", "ft"])
def test_one_each_of_what_holds_or_measures_many_is_refused(unit: str) -> None:
    found = met(Plan((line("tar", "each"),)), Catalog((Item("tar", unit),)))
    assert found.plan.items[0].item.unit == "each"
    assert len(found.refused) == 1


def test_what_the_catalog_says_of_a_piece_counts_before_that() -> None:
    item = Item("soffit panel", "sheet", also=(("each", Fraction(1, 3)),))
    [now] = met(Plan((line("soffit panel", "each", 9),)), Catalog((item,))).plan.items
    assert now.quantity == 3
