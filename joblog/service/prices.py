"""What things cost by now: the newest price of each, said or paid on any job of the book.

Nothing of it is kept in the catalog: it is read from the entries whenever it is asked for. So a
price follows its delivery when that is put right, dropped or brought back, each of which is in the
history and can be undone; and what a person set in the catalog himself stays his.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime
from functools import cache
from weakref import WeakKeyDictionary
from zoneinfo import ZoneInfo

from joblog.book import Book
from joblog.catalog.naming import item_called
from joblog.model import BookEntry, Catalog, Item, SaidPrice
from joblog.reconcile.prices import price_in_words, price_notes, price_of, with_newest
from joblog.service.catalog import catalog_at
from joblog.service.desk import open_desk
from joblog.service.errors import use_case
from joblog.service.places import Place, opened_if_there
from joblog.service.record import read_entries


@use_case
def prices_in(book: Book) -> tuple[SaidPrice, ...]:
    """The newest price of each item that was said or paid and is in no doubt, by the name of the
    item in the catalog."""
    stands = book.written()
    known = _KNOWN.get(book)
    if known is None or known[0] != stands:
        known = _KNOWN[book] = stands, _newest(book)
    return known[1]


_KNOWN: WeakKeyDictionary[Book, tuple[tuple[int, int], tuple[SaidPrice, ...]]] = WeakKeyDictionary()


def _newest(book: Book) -> tuple[SaidPrice, ...]:
    told = book.priced()
    if not told:
        return ()
    catalog = book.catalog()
    known = {item.name: item for item in catalog.items}

    @cache
    def item_of(name: str) -> Item | None:
        return known.get(name) or item_called(name, catalog)

    @cache
    def zone_of(job: str) -> ZoneInfo:
        return ZoneInfo(book.job(job).zone)

    @cache
    def looked_over(job: str) -> dict[int, BookEntry]:
        return {kept.id: kept for kept in read_entries(open_desk(book, job))}

    def when(one: Priced) -> tuple[date, datetime, int]:
        job, id, _, at, day = one
        told = at.astimezone(zone_of(job)).date()
        return min(day or told, told), at, id

    found: dict[str, SaidPrice] = {}
    for job, id, name, _, _ in sorted(told, key=when, reverse=True):
        item = item_of(name)
        called = name if item is None else item.name
        if called in found:
            continue
        of = item or Item(name, book.entry(id).entry.unit or "each")
        # To look over the whole job, whether it makes sense there, takes longer than to read one.
        if price_of(book.entry(id), zone_of(job), of, job) and id in looked_over(job):
            price = price_of(looked_over(job)[id], zone_of(job), of, job)
            if price is not None:
                found[called] = price
    return tuple(found[name] for name in sorted(found))


Priced = tuple[str, int, str, datetime, date | None]
"""As `Book.priced` has them."""


@use_case
def prices_at(place: Place) -> tuple[SaidPrice, ...]:
    """The same of the book at a place; none where there is no book and none was asked for."""
    with opened_if_there(place) as book:
        return () if book is None else prices_in(book)


@use_case
def priced_catalog(book: Book) -> Catalog:
    """The catalog with the newest price of each item, and its day."""
    return with_newest(book.catalog(), prices_in(book))


@use_case
def newest_at(place: Place) -> Catalog:
    """The same of the book at a place; the starter's where there is no book."""
    return with_newest(catalog_at(place), prices_at(place))


@use_case
def beside_catalog(prices: Sequence[SaidPrice], catalog: Catalog) -> tuple[str, ...]:
    """What was said or paid and is not what the catalog then has for it, or took the place of a
    price of no known day: a line each, which begins with the name of the item and a colon."""
    costs = {item.name: item.unit_cost for item in with_newest(catalog, prices).items}
    missing = dict.fromkeys((one.item for one in prices if one.item not in costs), None)
    return price_notes(prices, {**costs, **missing}, "the catalog has", catalog)


def where_priced(prices: Sequence[SaidPrice], catalog: Catalog) -> dict[str, str]:
    """By the name of the item, where the price came from that the catalog has by now: those that
    were said or paid on a job."""
    own = {item.name: item for item in catalog.items}
    now = {item.name: item for item in with_newest(catalog, prices).items}
    return {
        one.item: price_in_words(one)
        for one in prices
        if one.item in now and now[one.item] != own[one.item]
    }
