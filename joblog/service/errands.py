"""What is still to do, to buy and to settle for a job."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from joblog.book import closed, decisions
from joblog.catalog.naming import item_called
from joblog.model import BookEntry, Catalog, Settled, Wanted
from joblog.reconcile.sense import known_items
from joblog.reconcile.wanted import wanted_of
from joblog.service.desk import Desk, open_desk, read_catalog, remember
from joblog.service.errors import use_case
from joblog.service.places import Place, opened_if_there
from joblog.service.record import read_entries


@dataclass(frozen=True, slots=True)
class Errands:
    """All of it, of every day."""

    to_do: tuple[BookEntry, ...]
    wanted: tuple[Wanted, ...]
    problems: tuple[BookEntry, ...]


@use_case
def errands(desk: Desk) -> Errands:
    """As `to_do`, `wanted` and `problems` have it, the record read once."""
    entries = read_entries(desk)
    return Errands(_to_do(entries), _wanted(desk, entries), _problems(entries))


@use_case
def to_do(desk: Desk) -> tuple[BookEntry, ...]:
    """Everything to do that was not dropped: what has a day first, then in the order it was said.

    Dropping one says that it is done, or need not be.
    """
    return _to_do(read_entries(desk))


@use_case
def wanted(desk: Desk) -> tuple[Wanted, ...]:
    """What was said to be needed and has not come since."""
    return _wanted(desk, read_entries(desk))


@use_case
def wanted_at(place: Place) -> tuple[Wanted, ...]:
    """What was said to be needed on any open job of a book and has not come since, job by job,
    under the names of the catalog; nothing where there is no book."""
    with opened_if_there(place) as book:
        if book is None:
            return ()
        catalog, finished = book.catalog(), closed.closed_jobs(book)
        return tuple(
            replace(one, job=job, item=_name_of(one.item, catalog))
            for job in book.entries_of_kind("needed")
            if job not in finished
            for one in wanted(open_desk(book, job))
        )


def _name_of(name: str, catalog: Catalog) -> str:
    found = item_called(name, catalog)
    return name if found is None else found.name


@use_case
def problems(desk: Desk) -> tuple[BookEntry, ...]:
    """Every problem that was not dropped, in the order it was said.

    Dropping one says that it is settled.
    """
    return _problems(read_entries(desk))


@use_case
def done(desk: Desk, entries: Sequence[int]) -> None:
    """These are done, or need not be: they are dropped, in one step, and stay readable."""
    remember(desk)
    now = [desk.book.entry(id) for id in entries]
    decisions.settle(desk.book, [Settled(one.id, None, one.said) for one in now])


def _to_do(entries: Sequence[BookEntry]) -> tuple[BookEntry, ...]:
    standing = [one for one in entries if one.entry.kind == "todo" and one.standing != "dropped"]
    return tuple(
        sorted(
            standing,
            key=lambda one: (one.entry.day is None, one.entry.day or one.at.date(), one.at, one.id),
        )
    )


def _wanted(desk: Desk, entries: Sequence[BookEntry]) -> tuple[Wanted, ...]:
    return wanted_of(entries, known_items(desk.plan, read_catalog(desk)))


def _problems(entries: Sequence[BookEntry]) -> tuple[BookEntry, ...]:
    standing = (one for one in entries if one.entry.kind == "problem" and one.standing != "dropped")
    return tuple(sorted(standing, key=lambda one: (one.at, one.id)))
