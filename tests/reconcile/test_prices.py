"""Prices that were said or paid, beside the catalog and in the place of an older one there."""

from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction
from zoneinfo import ZoneInfo

from joblog.model import BookEntry, Catalog, Entry, Item, SaidPrice
from joblog.reconcile import reconcile
from joblog.reconcile.prices import price_notes, price_of, with_newest, with_prices
from tests.reconcile.told import BEGIN, JOB, PANEL, PLAN, book, kept, stock

ZONE = ZoneInfo(JOB.zone)
SCREWS = Item("screws", "each", pack=Fraction(250), pack_name="box")
ITEMS = {item.name: item for item in (PANEL, SCREWS)}
PRICE = Entry("price", item="panel", unit="sheet", unit_cost=Decimal("23.75"))


def prices(*entries: BookEntry) -> tuple[SaidPrice, ...]:
    found = (price_of(one, ZONE, ITEMS[one.entry.item or ""], "porch") for one in entries)
    return tuple(price for price in found if price is not None)


def notes(catalog: Catalog, *entries: BookEntry) -> tuple[str, ...]:
    costs = {item.name: item.unit_cost for item in catalog.items}
    return price_notes(prices(*entries), costs, "the catalog has", catalog)


def with_cost(cost: str | None, priced: date | None = None) -> Catalog:
    own = replace(PANEL, unit_cost=None if cost is None else Decimal(cost), priced=priced)
    return Catalog((own,))


SAID = "panel: $23.75 a panel was said on Mon, Oct 5, 2026 (porch)"
SAID_ON = date(2026, 10, 5)


def test_a_delivery_with_a_price_says_what_was_paid_for_one() -> None:
    came = replace(PRICE, kind="delivered", quantity=Fraction(12))
    [price] = prices(kept(1, came))
    assert (price.unit_cost, price.paid, price.job) == (Decimal("23.75"), True, "porch")
    assert prices(kept(1, replace(came, unit_cost=None)), kept(2, replace(came, kind="used"))) == ()


def test_a_price_holds_for_the_day_that_it_was_said_of() -> None:
    [price] = prices(kept(1, replace(PRICE, day=date(2026, 9, 28))))
    assert price.at.date() == date(2026, 9, 28)


def test_a_price_in_doubt_or_dropped_is_none() -> None:
    assert prices(kept(1, PRICE, "23.75 or 43.75?"), kept(2, PRICE, standing="dropped")) == ()


def test_a_price_of_a_pack_is_that_of_one_only_where_it_comes_out() -> None:
    box = Entry("price", item="screws", unit="box", unit_cost=Decimal("31.25"))
    assert prices(kept(1, box))[0].unit_cost == Decimal("0.125")
    assert prices(kept(1, replace(box, unit_cost=Decimal("31.99"))))[0].unit_cost is None
    assert prices(kept(1, replace(box, unit="lb")))[0].unit_cost is None


def test_the_newest_price_counts_with_its_day() -> None:
    said = prices(kept(1, PRICE))
    for older in (with_cost(None), with_cost("21.00"), with_cost("21.00", date(2026, 10, 4))):
        [panel] = with_newest(older, said).items
        assert (panel.unit_cost, panel.priced) == (Decimal("23.75"), SAID_ON)


def test_a_price_that_a_person_set_on_that_day_or_later_stays() -> None:
    for day in (SAID_ON, date(2026, 10, 6)):
        own = with_cost("21.00", day)
        assert with_newest(own, prices(kept(1, PRICE))) == own
        assert notes(own, kept(1, PRICE)) == ()


def test_what_took_the_place_of_a_price_of_no_known_day_is_told() -> None:
    said, own = prices(kept(1, PRICE)), with_cost("21.00")
    counted = {"panel": Decimal("23.75")}
    assert price_notes(said, counted, "the order counts", own) == (
        f"{SAID}; $21.00 stood in the catalog, of no known day",
    )
    assert price_notes(said, counted, "the order counts", with_cost(None)) == ()


def test_what_counts_another_price_than_the_newest_is_told() -> None:
    counted = {"panel": Decimal("20.00")}
    own = with_cost("21.00", SAID_ON)
    assert price_notes(prices(kept(1, PRICE)), counted, "the order counts", own) == (
        f"{SAID}; the order counts $20.00",
    )


def test_a_price_that_is_no_exact_one_changes_nothing_and_is_told() -> None:
    box = Entry("price", item="screws", unit="box", unit_cost=Decimal("31.99"))
    own = Catalog((replace(SCREWS, unit_cost=Decimal("0.12")),))
    assert with_newest(own, prices(kept(1, box))) == own
    assert notes(own, kept(1, box)) == (
        "screws: $31.99 a box was said on Mon, Oct 5, 2026 (porch); that is no exact price of one"
        " each, so the catalog has $0.12",
    )


def test_what_the_catalog_does_not_have_is_counted_as_it_was_said() -> None:
    said = prices(kept(1, PRICE))
    [panel] = with_prices(Catalog(), said).items
    assert (panel.unit_cost, panel.priced) == (Decimal("23.75"), SAID_ON)
    assert price_notes(said, {"panel": None}, "the catalog has", Catalog()) == (
        f"{SAID}; it is not in the catalog",
    )


def test_a_price_changes_no_money_of_the_job() -> None:
    told = (stock("delivered", 12), stock("used", 9), stock("on_hand", 3))
    before = reconcile(JOB, PLAN, book(*told))
    after = reconcile(JOB, PLAN, book(*told, PRICE))
    assert after == before
    assert BEGIN.astimezone(ZONE).date() == date(2026, 10, 5)
