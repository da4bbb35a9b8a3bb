"""Material that was carried between jobs, as the entries of all of them tell it."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Iterator, Mapping, Set
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
    transfers, _ = each_once(transfers_told(book, job))
    return tuple(one for one in transfers if job in (one.from_job, one.to_job))


def told_elsewhere(book: Book, job: str) -> tuple[BookEntry, ...]:
    """The entries of other jobs that tell of this one, whatever stands of them."""
    told = [(told_on, kept) for told_on, kept in _told(book, job) if told_on != job]
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


def transfers_told(book: Book, job: str | None = None) -> list[Movement]:
    """Every transfer that counts, or every one of a job, from each end that told it, in the unit of
    its item.

    A job that was closed has nothing any more: what was left of it lies in stock. So what another
    job told to have taken from it later came from there.
    """
    told = [pair for pair in _told(book, job) if pair[1].standing != "dropped" and not pair[1].open]
    if not told:
        return []
    zones = _zones(book, {told_on for told_on, _ in told})
    items, over = {item.name: item for item in book.catalog().items}, first_closed(book)
    units = _planned_units(book, {kept.entry.item for _, kept in told})
    found: list[Movement] = []
    for told_on, kept in told:
        said, kept = kept.entry, when_it_was(kept, zones[told_on])
        into = said.from_job is not None
        other = said.from_job if into else said.to_job
        if other is None or other == told_on or said.item is None:
            continue
        if into and over_by_then(over, other, kept.at):
            other = STOCK
        item = items.get(said.item)
        if item is None and units.get((told_on, said.item), said.unit) == said.unit:
            item = Item(said.item, said.unit or "each")
        item = item or _planned(book, told_on, said.item)
        quantity = in_unit_of(item, said.quantity, said.unit)
        if quantity is not None and quantity >= 0:
            day = kept.at.astimezone(zones[told_on]).date()
            found.append(
                Movement(
                    told_on, item.name, item.unit, "moved", quantity, kept.at,
                    day=day, other=other, into=into, entry=kept.id,
                )
            )  # fmt: skip
    return found


def first_closed(book: Book) -> Mapping[str, datetime]:
    """When each job that is or was closed was closed first, closings that were taken back apart.

    Of one that is here only beside a packed job, when it was closed in the book that it is in.
    """
    found = book._rows(
        "SELECT job.name AS job, min(closed_at) AS first FROM (SELECT job, closed_at FROM closing"
        "  WHERE id NOT IN (SELECT closing FROM closing_undone)"
        "  UNION ALL SELECT job, closed FROM packed_job WHERE closed IS NOT NULL) over"
        " JOIN job ON job.id = over.job GROUP BY job.id"
    )
    return {row["job"]: datetime.fromisoformat(row["first"]) for row in found}


def _zones(book: Book, jobs: Set[str]) -> dict[str, ZoneInfo]:
    # To read all jobs takes longer than all the rest of what a few tell.
    nouns = book.jobs() if len(jobs) >= MANY else ()
    zones = {one.name: ZoneInfo(one.zone) for one in nouns}
    return zones | {name: ZoneInfo(book.job(name).zone) for name in jobs - zones.keys()}


MANY = 20


def over_by_then(over: Mapping[str, datetime], job: str, at: datetime) -> bool:
    """Whether a job had been closed by then."""
    return job in over and at >= over[job]


def _planned(book: Book, job: str, name: str) -> Item:
    items = (line.item for line in book.plan(job).items)
    return next((item for item in items if item.name == name), Item(name, "each"))


def _planned_units(book: Book, items: Set[str | None]) -> dict[tuple[str, str], str]:
    """By job and item, what its plan counts it in."""
    found = book._rows(
        "SELECT job.name AS job, planned_item.name AS item, unit FROM planned_item"
        " JOIN job ON job.id = planned_item.job"
        " WHERE planned_item.name IN (SELECT value FROM json_each(?))",
        json.dumps(sorted(filter(None, items))),
    )
    return {(row["job"], row["item"]): row["unit"] for row in found}


def _told(book: Book, job: str | None = None) -> Iterator[tuple[str, BookEntry]]:
    """The entries that tell of a transfer now, or tell or told of one of that job, each with the
    job it is told on."""
    moved, values = MOVED, {}
    if job is not None:
        moved += (
            " AND (job = (SELECT id FROM job WHERE name = :name) OR :name IN"
            " (json_extract(content, '$.from_job'), json_extract(content, '$.to_job')))"
        )
        values = {"name": job}
    where = f"entry.id IN (SELECT entry FROM entry_version WHERE {moved})"
    jobs = {
        row["id"]: row["name"]
        for row in book._rows(
            f"SELECT entry.id, job.name FROM entry JOIN job ON job.id = entry.job WHERE {where}",
            **values,
        )
    }
    if jobs:
        for kept in book._entries(where, values):
            if kept.entry.kind == "moved" and kept.id in jobs:
                yield jobs[kept.id], kept
