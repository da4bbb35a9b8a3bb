"""What lies where, on jobs and in stock, what it cost, and since when."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from joblog.book.moves import came_to, ledger_of_all
from joblog.book.store import Book
from joblog.model import STOCK, Lying, Moved
from joblog.quantity import money
from joblog.service.desk import Desk, once
from joblog.service.errors import use_case
from joblog.stock import cost_of, unpriced_in


@dataclass(frozen=True, slots=True)
class StockItem:
    """What lies of one item at one end."""

    lying: Lying
    cost: Decimal | None
    """Of those that a price was told of; None where it was of none."""
    unpriced: Fraction
    """How many nobody told a price of."""
    since: date | None
    """When the oldest of it was bought; None where nobody told."""


@dataclass(frozen=True, slots=True)
class WhatLies:
    """All that lies anywhere: in stock first, then on the jobs that are open."""

    items: tuple[StockItem, ...]
    cost: Decimal
    """Of all that a price is known of."""
    notes: tuple[str, ...] = ()
    """What a person should know before he counts on it."""


@use_case
def came(desk: Desk) -> tuple[Moved, ...]:
    """What came to the job from others and from stock, or went there, and what it cost."""
    return once(desk, "came", lambda: came_to(desk.book, desk.job.name))


@use_case
def what_lies(book: Book) -> WhatLies:
    """What lies in stock and on every job, by the ledger through all jobs."""
    ledger = ledger_of_all(book)
    items = tuple(_item(one) for one in ledger.lying if one.quantity)
    told = sum((cost_of(one.lying.layers) for one in items), Fraction(0))
    notes = [
        f"{one.job} and {other.job} tell of different numbers of {one.item} carried between them"
        f" (entries {one.entry} and {other.entry}): both are counted"
        for one, other in ledger.twice
    ]
    return WhatLies(items, money(told), tuple(notes))


def in_stock(book: Book) -> dict[str, Fraction]:
    """By item, how many lie in stock."""
    return {one.item: one.quantity for one in ledger_of_all(book).lying if one.where == STOCK}


def _item(one: Lying) -> StockItem:
    unpriced = unpriced_in(one.layers)
    days: Sequence[date] = [layer.day for layer in one.layers if layer.day is not None]
    cost = None if unpriced == one.quantity else money(cost_of(one.layers))
    return StockItem(one, cost, unpriced, min(days, default=None))
