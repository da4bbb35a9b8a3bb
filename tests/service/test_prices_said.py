"""Prices that were said on any job: an order tells of them, and the catalog stays as it is."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

from joblog.book import decisions
from joblog.model import Doubt, Entry, Reading
from joblog.service import Desk, catalog, decide, places, planning, prices
from joblog.service.planning import Bought, Measured
from tests.service.conftest import MORNING
from tests.service.test_planning import EAVE

PRICE = Entry("price", item="soffit panel", unit="sheet", unit_cost=Decimal("23.75"))
SAID = "soffit panel: $23.75 a panel was said on Mon, Oct 5, 2026; "


def tell(desk: Desk, entry: Entry, *, job: str | None = None, doubt: str = "") -> int:
    doubts = (Doubt(0, doubt),) if doubt else ()
    at = MORNING + timedelta(minutes=30)
    [id] = decisions.add_typed(desk.book, job or desk.job.name, Reading((entry,), doubts), "", at)
    return id


def order(desk: Desk) -> Bought:
    return planning.what_to_buy(places.place_of(desk.book.folder), desk.job.name, Measured())


def cost(desk: Desk) -> Decimal | None:
    return order(desk).lines[0].unit_cost


def test_an_order_counts_a_price_that_was_said_where_there_is_no_other(desk: Desk) -> None:
    assert cost(desk) is None
    tell(desk, PRICE)
    assert cost(desk) == Decimal("23.75")
    assert f"{SAID}the catalog has no price, so that one is counted" in order(desk).notes
    assert all(item.unit_cost is None for item in desk.book.catalog().items)


def test_an_order_keeps_the_price_of_the_catalog_and_tells_of_the_newer_one(desk: Desk) -> None:
    catalog.set_line(desk.book, "soffit panel", {"cost": "21.00"})
    tell(desk, PRICE)
    assert cost(desk) == Decimal("21.00")
    assert f"{SAID}the order counts $21.00" in order(desk).notes


def test_a_price_said_on_another_job_is_known_here(desk: Desk) -> None:
    tell(desk, PRICE, job="Mill house")
    assert cost(desk) == Decimal("23.75")


def test_a_price_that_is_dropped_or_in_doubt_counts_nowhere(desk: Desk) -> None:
    decide.drop(desk, tell(desk, PRICE))
    tell(desk, PRICE, doubt="23.75 or 43.75?")
    assert prices.prices_in(desk.book) == ()
    assert cost(desk) is None


def test_what_is_not_in_the_catalog_and_was_asked_for_is_counted_at_its_price(desk: Desk) -> None:
    flashing = Entry("price", item="copper flashing", unit="roll", unit_cost=Decimal("88"))
    tell(desk, flashing)
    tell(desk, Entry("needed", item="copper flashing", unit="roll", quantity=Fraction(2)))
    [line] = [one for one in order(desk).lines if one.item == "copper flashing"]
    assert line.cost == Decimal("176.00")


def test_a_plan_is_made_with_the_price_that_was_said_and_says_so(desk: Desk) -> None:
    tell(desk, PRICE)
    place = places.place_of(desk.book.folder)
    taken = planning.take_off(place, desk.job.name, EAVE, to_plan=True)
    assert f"{SAID}the catalog has no price, so that one is counted" in taken.found.notes
    planning.make_plan(desk, taken)
    [panel] = [line for line in desk.plan.items if line.item.name == "soffit panel"]
    assert panel.unit_cost == Decimal("23.75")


def test_the_catalog_tells_of_prices_that_were_said_and_of_items_it_does_not_have(
    desk: Desk,
) -> None:
    tell(desk, PRICE)
    tell(desk, Entry("price", item="copper flashing", unit="roll", unit_cost=Decimal("88")))
    assert beside(desk) == (
        "copper flashing: $88.00 a roll was said on Mon, Oct 5, 2026; it is not in the catalog",
        f"{SAID}the catalog has no price",
    )
    catalog.set_line(desk.book, "soffit panel", {"cost": "23.75"})
    assert len(beside(desk)) == 1


def beside(desk: Desk) -> tuple[str, ...]:
    return prices.beside_catalog(prices.prices_in(desk.book), desk.book.catalog())


def test_without_a_book_nothing_was_said(tmp_path: Path) -> None:
    assert prices.prices_at(places.Place(tmp_path / "nowhere", asked=False)) == ()
