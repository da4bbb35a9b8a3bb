"""What is still to do and to buy for a job."""

from __future__ import annotations

from joblog.model import BookEntry, Wanted
from joblog.reconcile.wanted import wanted_of
from joblog.service.desk import Desk, read_catalog
from joblog.service.errors import use_case
from joblog.service.record import read_entries


@use_case
def to_do(desk: Desk) -> tuple[BookEntry, ...]:
    """Everything to do that was not dropped: what has a day first, then in the order it was said.

    Dropping one says that it is done, or need not be.
    """
    kept = [one for one in read_entries(desk) if one.entry.kind == "todo"]
    standing = [one for one in kept if one.standing != "dropped"]
    return tuple(
        sorted(
            standing,
            key=lambda one: (one.entry.day is None, one.entry.day or one.at.date(), one.at, one.id),
        )
    )


@use_case
def wanted(desk: Desk) -> tuple[Wanted, ...]:
    """What was said to be needed and has not come since."""
    known = {item.name: item for item in read_catalog(desk).items}
    known |= {line.item.name: line.item for line in desk.plan.items}
    return wanted_of(read_entries(desk), known)
