"""Prices that were said or paid on any job: the newest counts, and the catalog is not written."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from joblog.book import decisions
from joblog.model import Doubt, Entry, Item, Plan, PlannedItem, Reading
from joblog.report import as_csv
from joblog.report.planned import catalog_table
from joblog.service import Desk, ServiceError, catalog, decide, places, planning, prices
from joblog.service.planning import Bought, Measured
from tests.service.conftest import MORNING
from tests.service.test_planning import EAVE

PRICE = Entry("price", item="soffit panel", unit="sheet", unit_cost=Decimal("23.75"))
SAID = "soffit panel: $23.75 a panel was said on Mon, Oct 5, 2026 (Corner porch)"
PAID = replace(PRICE, kind="delivered", quantity=Fraction(12))


def tell(
    desk: Desk, entry: Entry, *, job: str | None = None, doubt: str = "", minutes: int = 30
) -> int:
    doubts = (Doubt(0, doubt),) if doubt else ()
    at = MORNING + timedelta(minutes=minutes)
    [id] = decisions.add_typed(desk.book, job or desk.job.name, Reading((entry,), doubts), "", at)
    return id


def order(desk: Desk) -> Bought:
    return planning.what_to_buy(places.place_of(desk.book.folder), desk.job.name, Measured())


def cost(desk: Desk) -> Decimal | None:
    return order(desk).lines[0].unit_cost


def test_an_order_counts_what_was_paid_last_and_the_catalog_is_not_written(desk: Desk) -> None:
    assert cost(desk) is None
    tell(desk, PAID)
    assert cost(desk) == Decimal("23.75")
    assert all(item.unit_cost is None for item in desk.book.catalog().items)
    [panel] = [one for one in prices.priced_catalog(desk.book).items if one.name == "soffit panel"]
    assert (panel.unit_cost, panel.priced) == (Decimal("23.75"), MORNING.date())


def test_the_price_of_the_latest_day_counts_whenever_it_was_told(desk: Desk) -> None:
    tell(desk, PAID)
    tell(desk, replace(PAID, unit_cost=Decimal("19"), day=date(2026, 9, 28)), minutes=60)
    assert cost(desk) == Decimal("23.75")
    tell(desk, replace(PAID, unit_cost=Decimal("24.50")), minutes=90)
    assert cost(desk) == Decimal("24.50")


def test_a_price_follows_its_delivery_when_that_is_put_right_and_undone(desk: Desk) -> None:
    tell(desk, PAID)
    later = tell(desk, replace(PAID, unit_cost=Decimal("32.75")), minutes=60)
    decide.drop(desk, later)
    assert cost(desk) == Decimal("23.75")
    decide.undo(desk)
    assert cost(desk) == Decimal("32.75")


def test_an_order_keeps_the_price_that_was_set_later_by_hand(desk: Desk) -> None:
    catalog.set_line(desk.book, "soffit panel", {"cost": "21.00", "priced": "2026-10-05"})
    tell(desk, PRICE)
    assert cost(desk) == Decimal("21.00")
    assert not [note for note in order(desk).notes if note.startswith(SAID)]


def test_a_price_of_no_known_day_gives_way_and_that_is_told(desk: Desk) -> None:
    catalog.set_line(desk.book, "soffit panel", {"cost": "21.00"})
    catalog.set_line(desk.book, "soffit panel", {"priced": ""})
    tell(desk, PRICE)
    assert cost(desk) == Decimal("23.75")
    assert f"{SAID}; $21.00 stood in the catalog, of no known day" in order(desk).notes


def test_a_price_that_is_set_is_of_today_and_one_that_stays_keeps_its_day(desk: Desk) -> None:
    def priced() -> date | None:
        return next(one.priced for one in desk.book.catalog().items if one.name == "fascia")

    before = date.today()
    catalog.set_line(desk.book, "fascia", {"cost": "14.90"})
    assert before <= (priced() or before - timedelta(days=1)) <= date.today()
    catalog.set_line(desk.book, "fascia", {"priced": "2026-10-01"})
    catalog.set_line(desk.book, "fascia", {"said": "fascia board"})
    catalog.keep_line(desk, "fascia", {"line": "item", "kerf": "1/8 in"}, new=False)
    assert priced() == date(2026, 10, 1)
    catalog.set_line(desk.book, "fascia", {"cost": ""})
    assert priced() is None
    with pytest.raises(ServiceError, match="write the day like 2026-10-05"):
        catalog.set_line(desk.book, "fascia", {"cost": "3", "priced": "last week"})


def test_a_catalog_written_out_and_taken_in_changes_no_price(desk: Desk) -> None:
    catalog.set_line(desk.book, "fascia", {"cost": "14.90", "priced": "2026-10-01"})
    tell(desk, PAID)
    stored, file = desk.book.catalog(), desk.book.folder / "catalog.csv"
    shown = prices.newest_at(places.place_of(desk.book.folder))
    file.write_text(as_csv(catalog_table(shown)))
    catalog.take_in_catalog(desk.book, file)
    assert desk.book.catalog() == stored
    file.write_text(file.read_text().replace("23.75,2026-10-05", "22.00,"))
    catalog.take_in_catalog(desk.book, file)
    [panel] = [one for one in desk.book.catalog().items if one.name == "soffit panel"]
    assert panel.unit_cost == Decimal("22.00")
    assert panel.priced is not None


def test_a_price_said_on_another_job_is_known_here(desk: Desk) -> None:
    tell(desk, PRICE, job="Mill house")
    assert cost(desk) == Decimal("23.75")


def test_a_price_that_is_dropped_or_in_doubt_counts_nowhere(desk: Desk) -> None:
    decide.drop(desk, tell(desk, PRICE))
    tell(desk, PRICE, doubt="23.75 or 43.75?")
    tell(desk, PAID, doubt="12 or 20?")
    assert prices.prices_in(desk.book) == ()
    assert cost(desk) is None


def test_what_is_not_in_the_catalog_and_was_asked_for_is_counted_at_its_price(desk: Desk) -> None:
    flashing = Entry("price", item="copper flashing", unit="roll", unit_cost=Decimal("88"))
    tell(desk, flashing)
    tell(desk, Entry("needed", item="copper flashing", unit="roll", quantity=Fraction(2)))
    [line] = [one for one in order(desk).lines if one.item == "copper flashing"]
    assert line.cost == Decimal("176.00")


def test_a_price_far_from_the_planned_one_is_none_until_somebody_says_it_is(desk: Desk) -> None:
    panel = Item("soffit panel", "sheet", ("soffit",))
    plan = Plan((PlannedItem(panel, Fraction(5), Decimal("21.00")),))
    decisions.load_plan(desk.book, desk.job.name, plan)
    far = tell(desk, replace(PAID, unit_cost=Decimal("233.75")))
    assert prices.prices_in(desk.book) == ()
    decide.accept(desk, far)
    assert prices.prices_in(desk.book)[0].unit_cost == Decimal("233.75")


def test_what_was_paid_under_another_name_is_the_price_of_the_item(desk: Desk) -> None:
    tell(desk, replace(PAID, item="soffit board"))
    [price] = prices.prices_in(desk.book)
    assert (price.item, price.paid, price.job) == ("soffit panel", True, "Corner porch")


def test_a_plan_is_made_with_the_price_that_was_paid_last(desk: Desk) -> None:
    tell(desk, PAID)
    place = places.place_of(desk.book.folder)
    planning.make_plan(desk, planning.take_off(place, desk.job.name, EAVE, to_plan=True))
    [panel] = [line for line in desk.plan.items if line.item.name == "soffit panel"]
    assert panel.unit_cost == Decimal("23.75")


def test_the_catalog_tells_where_prices_came_from_and_of_items_it_does_not_have(
    desk: Desk,
) -> None:
    tell(desk, PRICE)
    tell(desk, Entry("price", item="copper flashing", unit="roll", unit_cost=Decimal("88")))
    assert beside(desk) == (
        "copper flashing: $88.00 a roll was said on Mon, Oct 5, 2026 (Corner porch); it is not in"
        " the catalog",
    )
    where = prices.where_priced(prices.prices_in(desk.book), desk.book.catalog())
    assert where == {"soffit panel": SAID.removeprefix("soffit panel: ")}


def beside(desk: Desk) -> tuple[str, ...]:
    return prices.beside_catalog(prices.prices_in(desk.book), desk.book.catalog())


def test_without_a_book_nothing_was_said(tmp_path: Path) -> None:
    assert prices.prices_at(places.Place(tmp_path / "nowhere", asked=False)) == ()


def test_what_was_paid_on_the_job_itself_goes_before_the_price_of_its_plan(desk: Desk) -> None:
    panel = Item("soffit panel", "sheet", ("soffit",))
    plan = Plan((PlannedItem(panel, Fraction(5), Decimal("21.00")),))
    decisions.load_plan(desk.book, desk.job.name, plan)
    tell(desk, PAID, job="Mill house")
    assert cost(desk) == Decimal("21.00")
    told = "soffit panel: $23.75 a panel was paid on Mon, Oct 5, 2026 (Mill house)"
    assert f"{told}; the order counts $21.00" in order(desk).notes
    tell(desk, PAID, minutes=60)
    assert cost(desk) == Decimal("23.75")
