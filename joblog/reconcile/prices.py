"""What things were said or paid to cost: the newest price of each, beside the catalog."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from zoneinfo import ZoneInfo

from joblog.form import unit_shown
from joblog.local import day_written, money_written
from joblog.model import BookEntry, Catalog, Item, SaidPrice
from joblog.reconcile.told import when_it_was
from joblog.reconcile.units import in_unit_of


def price_of(kept: BookEntry, zone: ZoneInfo, item: Item, job: str = "") -> SaidPrice | None:
    """What one of the item was said to cost, or was paid for it with a delivery, as this entry says
    it; None where it says no price that stands without a doubt."""
    said = kept.entry
    if said.kind not in ("price", "delivered") or not said.unit_cost or said.unit_cost < 0:
        return None
    if kept.open or kept.standing == "dropped":
        return None
    unit = said.unit or item.unit
    return SaidPrice(
        item.name,
        said.unit_cost,
        unit,
        when_it_was(kept, zone).at.astimezone(zone),
        _of_one(said.unit_cost, item, unit),
        kept.id,
        job,
        said.kind == "delivered",
    )


def with_newest(catalog: Catalog, prices: Iterable[SaidPrice]) -> Catalog:
    """The catalog with the newest price of each item, and its day.

    A price that a person set in the catalog himself stays where it is of the same day or later; one
    of no known day gives way. What cannot be turned into a price of one unit exactly changes none.
    """
    said = {one.item: one for one in prices}
    return replace(
        catalog, items=tuple(_priced(item, said.get(item.name)) for item in catalog.items)
    )


def with_prices(catalog: Catalog, prices: Iterable[SaidPrice]) -> Catalog:
    """The same, with the items too that it does not have and that were said to cost something."""
    said = tuple(prices)
    items = with_newest(catalog, said).items
    known = {item.name for item in items}
    others = (
        Item(one.item, one.told_unit, unit_cost=one.told, priced=one.at.date()) for one in said
    )
    return replace(catalog, items=(*items, *(one for one in others if one.name not in known)))


def _priced(item: Item, said: SaidPrice | None) -> Item:
    if said is None or said.unit_cost is None or _is_older(said, item):
        return item
    return replace(item, unit_cost=said.unit_cost, priced=said.at.date())


def _is_older(said: SaidPrice, item: Item) -> bool:
    own = item.unit_cost is not None and item.priced is not None
    return own and item.priced is not None and said.at.date() <= item.priced


def price_notes(
    prices: Iterable[SaidPrice], counted: Mapping[str, Decimal | None], where: str, catalog: Catalog
) -> tuple[str, ...]:
    """What to know of the items in `counted`, which is what `where` takes one of each to cost.

    A line for each whose newest price is not the one that counts, or took the place of one of no
    known day. `catalog` is as it is kept, without the prices that were said.
    """
    items = {item.name: item for item in catalog.items}
    told = (one for one in prices if one.item in counted)
    against = ((one, _against(one, counted[one.item], where, items.get(one.item))) for one in told)
    return tuple(f"{one.item}: {price_in_words(one)}; {why}" for one, why in against if why)


def _against(price: SaidPrice, counted: Decimal | None, where: str, own: Item | None) -> str:
    counts = f"{where} {'no price' if counted is None else money_written(counted)}"
    if own is None:
        return "it is not in the catalog" if counted is None else ""
    if price.unit_cost is None:
        return f"that is no exact price of one {unit_shown(own.unit, own.name)}, so {counts}"
    if counted != price.unit_cost:
        set_later = counted == own.unit_cost and _is_older(price, own)
        return "" if set_later else counts
    if own.unit_cost is None or own.unit_cost == counted or own.priced is not None:
        return ""
    return f"{money_written(own.unit_cost)} stood in the catalog, of no known day"


def price_in_words(price: SaidPrice) -> str:
    """What one was said to cost or was paid for it, when, and on which job."""
    one = "each" if price.told_unit == "each" else f"a {unit_shown(price.told_unit, price.item)}"
    same = price.unit_cost in (None, price.told)
    own = "" if same or price.unit_cost is None else f" ({money_written(price.unit_cost)} for one)"
    day = day_written(price.at.date())
    how, where = "paid" if price.paid else "said", f" ({price.job})" if price.job else ""
    return f"{money_written(price.told)} {one}{own} was {how} on {day}{where}"


def _of_one(price: Decimal, item: Item, unit: str) -> Decimal | None:
    """The price of one of the item's own unit; None where it is no whole part of a cent."""
    if unit == item.unit:
        return price
    many = in_unit_of(item, Fraction(1), unit)
    if many is None and item.pack_name and unit == item.pack_name:
        many = item.pack
    if not many:
        return None
    each = Fraction(price) / many * _PARTS
    return Decimal(int(each)) / _PARTS if each.denominator == 1 else None


_PARTS = 10_000
"""Of a dollar: a screw costs less than a cent."""
