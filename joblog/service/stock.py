"""What lies where, on jobs and in stock, what it cost, and since when."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from decimal import Decimal
from fractions import Fraction

from joblog.book import decisions
from joblog.book.moves import came_to, ledger_of_all
from joblog.book.store import Book
from joblog.model import STOCK, Entry, Lying, Moved
from joblog.quantity import money
from joblog.service.desk import Desk, once, refresh, remember
from joblog.service.errors import ServiceError, use_case
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


@use_case
def offered(desk: Desk) -> tuple[StockItem, ...]:
    """What lies in stock of what this job plans and has nothing of yet, so that it may begin with
    it."""
    planned = {line.item.name for line in desk.book.plan(desk.job.name).items if not line.opening}
    wanted = planned - _told_of(desk)
    return tuple(one for one in what_lies(desk.book).items if _is_there(one) in wanted)


@use_case
def take(desk: Desk, items: Sequence[str]) -> tuple[StockItem, ...]:
    """All that lies in stock of these items goes to this job; what went.

    Where the job plans it and nothing was told on the job yet, it is what the job begins with;
    else it is brought, now. Raises `ServiceError` for what does not lie in stock.
    """
    remember(desk)
    there = {_is_there(one): one for one in what_lies(desk.book).items if _is_there(one)}
    for name in items:
        if name not in there:
            raise ServiceError(f"{name}: nothing of it lies in stock, as far as anybody told")
    found = tuple(there[name] for name in dict.fromkeys(items))
    plan = desk.book.plan(desk.job.name)
    begun = bool(desk.book.entries(desk.job.name))
    opening = {
        one.lying.item: one.lying.quantity
        for one in found
        if not begun and any(line.item.name == one.lying.item for line in plan.items)
    }
    lines = tuple(
        replace(line, opening=line.opening + opening.get(line.item.name, Fraction(0)))
        for line in plan.items
    )
    said = [
        Entry("moved", item=one.item, quantity=one.quantity, unit=one.unit, from_job=STOCK)
        for one in (each.lying for each in found)
        if one.item not in opening
    ]
    with desk.book.together():
        if opening:
            decisions.load_plan(desk.book, desk.job.name, replace(plan, items=lines))
            refresh(desk)
        if said:
            from joblog.service.filling_in import keep_filled_in

            keep_filled_in(desk, said, datetime.now(UTC))
    return found


def _is_there(one: StockItem) -> str:
    """The item, where it lies in stock; "" where it lies on a job."""
    return one.lying.item if one.lying.where == STOCK else ""


def _told_of(desk: Desk) -> frozenset[str]:
    """The items that anything was told of on the job."""
    entries = desk.book.entries(desk.job.name)
    return frozenset(kept.entry.item or "" for kept in entries if kept.standing != "dropped")


def in_stock(book: Book) -> dict[str, Fraction]:
    """By item, how many lie in stock."""
    return {one.item: one.quantity for one in ledger_of_all(book).lying if one.where == STOCK}


def _item(one: Lying) -> StockItem:
    unpriced = unpriced_in(one.layers)
    days: Sequence[date] = [layer.day for layer in one.layers if layer.day is not None]
    cost = None if unpriced == one.quantity else money(cost_of(one.layers))
    return StockItem(one, cost, unpriced, min(days, default=None))
