"""Prices that were said: newer than the catalog, told beside it, and never put into it."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from zoneinfo import ZoneInfo

from joblog.model import BookEntry, Catalog, Entry, Item, SaidPrice
from joblog.reconcile import reconcile
from joblog.reconcile.prices import newest, price_notes, said_prices, with_prices
from tests.reconcile.told import BEGIN, JOB, PANEL, PLAN, book, kept, stock

ZONE = ZoneInfo(JOB.zone)
SCREWS = Item("screws", "each", pack=Fraction(250), pack_name="box")
ITEMS = {item.name: item for item in (PANEL, SCREWS)}
PRICE = Entry("price", item="panel", unit="sheet", unit_cost=Decimal("23.75"))


def prices(*entries: BookEntry) -> tuple[SaidPrice, ...]:
    return newest(said_prices(entries, ZONE, ITEMS))


def notes(catalog: Catalog, *entries: BookEntry) -> tuple[str, ...]:
    costs = {item.name: item.unit_cost for item in catalog.items}
    return price_notes(prices(*entries), costs, "the catalog has", catalog)


def with_cost(cost: str | None) -> Catalog:
    return Catalog((replace(PANEL, unit_cost=None if cost is None else Decimal(cost)),))


def test_the_price_that_was_said_last_counts() -> None:
    [price] = prices(kept(2, PRICE), kept(1, replace(PRICE, unit_cost=Decimal("19"))))
    assert (price.unit_cost, price.entry) == (Decimal("23.75"), 2)


def test_a_price_of_an_earlier_day_is_not_the_newest() -> None:
    monday = replace(PRICE, unit_cost=Decimal("19"), day=date(2026, 9, 28))
    [price] = prices(kept(1, PRICE), kept(2, monday))
    assert price.entry == 1


def test_a_price_in_doubt_or_dropped_is_none() -> None:
    assert prices(kept(1, PRICE, "23.75 or 43.75?"), kept(2, PRICE, standing="dropped")) == ()


def test_a_price_of_a_pack_is_that_of_one_only_where_it_comes_out() -> None:
    box = Entry("price", item="screws", unit="box", unit_cost=Decimal("31.25"))
    assert prices(kept(1, box))[0].unit_cost == Decimal("0.125")
    assert prices(kept(1, replace(box, unit_cost=Decimal("31.99"))))[0].unit_cost is None
    assert prices(kept(1, replace(box, unit="lb")))[0].unit_cost is None


def test_what_was_said_is_told_where_the_catalog_has_something_else() -> None:
    assert notes(with_cost("21.00"), kept(1, PRICE)) == (
        "panel: $23.75 a panel was said on Mon, Oct 5, 2026; the catalog has $21.00",
    )
    assert notes(with_cost("23.75"), kept(1, PRICE)) == ()


def test_only_a_price_that_is_missing_is_taken_from_what_was_said() -> None:
    said = prices(kept(1, PRICE))
    assert with_prices(with_cost(None), said).items[0].unit_cost == Decimal("23.75")
    assert with_prices(with_cost("21.00"), said).items[0].unit_cost == Decimal("21.00")
    counted = {"panel": Decimal("23.75")}
    assert price_notes(said, counted, "the order counts", with_cost(None)) == (
        "panel: $23.75 a panel was said on Mon, Oct 5, 2026; the catalog has no price, so that one"
        " is counted",
    )


def test_a_price_changes_no_money_of_the_job() -> None:
    told = (stock("delivered", 12), stock("used", 9), stock("on_hand", 3))
    before = reconcile(JOB, PLAN, book(*told))
    after = reconcile(JOB, PLAN, book(*told, PRICE))
    assert after == before
    assert BEGIN.astimezone(ZONE).date() == date(2026, 10, 5)
