"""What things were said to cost now: beside the catalog, and in its place where it has no price."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from zoneinfo import ZoneInfo

from joblog.form import unit_shown
from joblog.local import day_written, money_written
from joblog.model import BookEntry, Catalog, Item, SaidPrice
from joblog.reconcile.told import when_it_was
from joblog.reconcile.units import in_unit_of


def said_prices(
    entries: Sequence[BookEntry], zone: ZoneInfo, items: Mapping[str, Item]
) -> tuple[SaidPrice, ...]:
    """Every price among a job's entries that stands without a doubt."""
    return tuple(
        _said(when_it_was(kept, zone), zone, items)
        for kept in entries
        if kept.entry.kind == "price"
        and kept.entry.item
        and kept.entry.unit_cost is not None
        and not kept.open
        and kept.standing != "dropped"
    )


def newest(prices: Iterable[SaidPrice]) -> tuple[SaidPrice, ...]:
    """The one of each item that was said last, by the name of the item."""
    last: dict[str, SaidPrice] = {}
    for price in sorted(prices, key=lambda one: (one.at, one.entry)):
        last[price.item] = price
    return tuple(last[name] for name in sorted(last))


def with_prices(catalog: Catalog, prices: Iterable[SaidPrice]) -> Catalog:
    """The catalog, with a price that was said where it has none, and with items it does not have
    that were said to cost something."""
    said = {one.item: one for one in prices}
    items = tuple(
        replace(item, unit_cost=said[item.name].unit_cost)
        if item.unit_cost is None and item.name in said
        else item
        for item in catalog.items
    )
    known = {item.name for item in items}
    others = (Item(one.item, one.told_unit, unit_cost=one.told) for one in said.values())
    return replace(catalog, items=(*items, *(one for one in others if one.name not in known)))


def price_notes(
    prices: Iterable[SaidPrice], counted: Mapping[str, Decimal | None], where: str, catalog: Catalog
) -> tuple[str, ...]:
    """What to know of the items in `counted`, which is what `where` takes one of each to cost.

    A line for each that was said to cost something else, and for each that has no other price.
    """
    costs = {item.name: item.unit_cost for item in catalog.items}
    told = (one for one in prices if one.item in counted)
    against = ((one, _against(one, counted[one.item], where, costs)) for one in told)
    return tuple(f"{one.item}: {_words(one)}; {why}" for one, why in against if why)


def _against(
    price: SaidPrice, counted: Decimal | None, where: str, costs: Mapping[str, Decimal | None]
) -> str:
    if counted is not None and counted == price.unit_cost:
        known = costs.get(price.item) is not None
        return "" if known else "the catalog has no price, so that one is counted"
    if counted is None and price.item not in costs:
        return "it is not in the catalog"
    return f"{where} {'no price' if counted is None else money_written(counted)}"


def _words(price: SaidPrice) -> str:
    one = "each" if price.told_unit == "each" else f"a {unit_shown(price.told_unit, price.item)}"
    same = price.unit_cost in (None, price.told)
    own = "" if same or price.unit_cost is None else f" ({money_written(price.unit_cost)} for one)"
    day = day_written(price.at.date())
    return f"{money_written(price.told)} {one}{own} was said on {day}"


def _said(kept: BookEntry, zone: ZoneInfo, items: Mapping[str, Item]) -> SaidPrice:
    said = kept.entry
    assert said.item is not None and said.unit_cost is not None
    item = items.get(said.item) or Item(said.item, said.unit or "each")
    unit = said.unit or item.unit
    return SaidPrice(
        said.item,
        said.unit_cost,
        unit,
        kept.at.astimezone(zone),
        _of_one(said.unit_cost, item, unit),
        kept.id,
    )


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
