"""Material that was carried between jobs, as the entries of all of them tell it."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator, Mapping
from datetime import datetime
from zoneinfo import ZoneInfo

from joblog.book.schema_of_transfers import MOVED
from joblog.book.store import Book
from joblog.model import STOCK, BookEntry, Item, Moved
from joblog.reconcile.told import when_it_was
from joblog.reconcile.units import in_unit_of
from joblog.stock import Movement, each_once


def came_told(book: Book, job: str) -> tuple[Moved, ...]:
    """The transfers from or to a job, each once, whoever told them; what they cost is not asked."""
    transfers, _ = each_once(transfers_told(book))
    return tuple(one for one in transfers if job in (one.from_job, one.to_job))


def told_elsewhere(book: Book, job: str) -> tuple[BookEntry, ...]:
    """The entries of other jobs that tell of this one, whatever stands of them."""
    told = [(told_on, kept) for told_on, kept in _told(book) if told_on != job]
    over = first_closed(book) if told else {}
    return tuple(
        kept
        for _, kept in told
        if kept.entry.to_job == job
        or (kept.entry.from_job == job and not over_by_then(over, job, kept.at))
    )


def versions_told_elsewhere(book: Book) -> Mapping[str, int]:
    """By job, how many versions other jobs have of entries that tell of it."""
    found: Counter[str] = Counter()
    for row in book._rows(
        "SELECT job.name AS job, content FROM entry_version JOIN job"
        f" ON job.id = entry_version.job WHERE {MOVED}"
    ):
        said = json.loads(row["content"])
        found.update({said.get("from_job"), said.get("to_job")} - {None, row["job"]})
    return found


def transfers_told(book: Book) -> list[Movement]:
    """Every transfer that counts, from each end that told it, in the unit of its item.

    A job that was closed has nothing any more: what was left of it lies in stock. So what another
    job told to have taken from it later came from there.
    """
    told = [pair for pair in _told(book) if pair[1].standing != "dropped" and not pair[1].open]
    if not told:
        return []
    zones = {one.name: ZoneInfo(one.zone) for one in book.jobs()}
    items, over = {item.name: item for item in book.catalog().items}, first_closed(book)
    found: list[Movement] = []
    for job, kept in told:
        said, kept = kept.entry, when_it_was(kept, zones[job])
        into = said.from_job is not None
        other = said.from_job if into else said.to_job
        if other is None or other == job or said.item is None:
            continue
        if into and over_by_then(over, other, kept.at):
            other = STOCK
        item = items.get(said.item) or _planned(book, job, said.item)
        quantity = in_unit_of(item, said.quantity, said.unit)
        if quantity is not None and quantity >= 0:
            day = kept.at.astimezone(zones[job]).date()
            found.append(
                Movement(
                    job, item.name, item.unit, "moved", quantity, kept.at,
                    day=day, other=other, into=into, entry=kept.id,
                )
            )  # fmt: skip
    return found


def first_closed(book: Book) -> Mapping[str, datetime]:
    """When each job that is or was closed was closed first, closings that were taken back apart."""
    found = book._rows(
        "SELECT job.name AS job, min(closed_at) AS first FROM closing"
        " JOIN job ON job.id = closing.job"
        " WHERE closing.id NOT IN (SELECT closing FROM closing_undone) GROUP BY job.id"
    )
    return {row["job"]: datetime.fromisoformat(row["first"]) for row in found}


def over_by_then(over: Mapping[str, datetime], job: str, at: datetime) -> bool:
    """Whether a job had been closed by then."""
    return job in over and at >= over[job]


def _planned(book: Book, job: str, name: str) -> Item:
    items = (line.item for line in book.plan(job).items)
    return next((item for item in items if item.name == name), Item(name, "each"))


def _told(book: Book) -> Iterator[tuple[str, BookEntry]]:
    """The entries that tell of a transfer now, each with its job, in the order of their jobs."""
    where = f"entry.id IN (SELECT entry FROM entry_version WHERE {MOVED})"
    jobs = {
        row["id"]: row["name"]
        for row in book._rows(
            f"SELECT entry.id, job.name FROM entry JOIN job ON job.id = entry.job WHERE {where}"
        )
    }
    if jobs:
        for kept in book._entries(where, {}):
            if kept.entry.kind == "moved" and kept.id in jobs:
                yield jobs[kept.id], kept
