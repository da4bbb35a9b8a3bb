"""What was said that things cost now, on any job of the book."""

from __future__ import annotations

from collections.abc import Sequence
from zoneinfo import ZoneInfo

from joblog.book import Book
from joblog.model import Catalog, SaidPrice
from joblog.reconcile.prices import newest, price_notes, said_prices
from joblog.service.errors import use_case
from joblog.service.places import Place, opened_if_there


@use_case
def prices_in(book: Book) -> tuple[SaidPrice, ...]:
    """The price of each item that was said last and is in no doubt. The catalog stays as it is."""
    told = book.entries_of_kind("price")
    items = {item.name: item for item in book.catalog().items} if told else {}
    return newest(
        price
        for job, entries in told.items()
        for price in said_prices(entries, ZoneInfo(book.job(job).zone), items)
    )


@use_case
def prices_at(place: Place) -> tuple[SaidPrice, ...]:
    """The same of the book at a place; none where there is no book and none was asked for."""
    with opened_if_there(place) as book:
        return () if book is None else prices_in(book)


@use_case
def beside_catalog(prices: Sequence[SaidPrice], catalog: Catalog) -> tuple[str, ...]:
    """What was said to cost something else than the catalog has: a line each, which begins with the
    name of the item and a colon."""
    costs = {item.name: item.unit_cost for item in catalog.items}
    missing = dict.fromkeys((one.item for one in prices if one.item not in costs), None)
    return price_notes(prices, {**costs, **missing}, "the catalog has", catalog)
