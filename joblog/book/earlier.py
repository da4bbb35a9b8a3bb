"""What was said earlier on a day: what words point back at, and what later ones have changed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from zoneinfo import ZoneInfo

from joblog.book.entries import as_is
from joblog.book.history import Version
from joblog.book.steps import Deciding, last_of
from joblog.book.store import Book
from joblog.model import BookEntry


def standing_before(
    book: Book, job: str, at: datetime, without: Sequence[int] = ()
) -> tuple[BookEntry, ...]:
    """What stands of what was said and written on that day of the job until `at`, oldest first.

    Corrections are no facts and not among it, nor are the entries that `without` names.
    """
    day = at.astimezone(ZoneInfo(book.job(job).zone)).date()
    found = (
        one
        for one in book.entries(job, day)
        if one.at <= at
        and one.standing != "dropped"
        and one.entry.kind != "correction"
        and one.id not in without
    )
    return tuple(sorted(found, key=lambda one: (one.at, one.id)))


def changes_elsewhere(
    book: Book, corrections: Sequence[int]
) -> Iterator[tuple[int, int, int, int]]:
    """What corrections changed that was said in another recording, or typed at another time.

    The correction, the entry that it changed, the version which that had before, and the step; of
    steps that stand.
    """
    for correction in corrections:
        for row in book._rows(
            "SELECT other.noun AS noun, other.before AS before, own.step AS step"
            " FROM step_effect own JOIN step_effect other ON other.step = own.step"
            " JOIN step ON step.id = own.step"
            " WHERE own.noun = ? AND own.before IS NULL AND undone IS NULL"
            " AND other.noun LIKE 'entry %' AND other.before IS NOT NULL ORDER BY own.step",
            f"entry {correction}",
        ):
            yield correction, int(row["noun"].split()[1]), int(row["before"]), int(row["step"])


def give_back(step: Deciding, corrections: Sequence[int]) -> None:
    """Takes back what corrections changed elsewhere, as far as nothing else was decided since."""
    for _, id, was, by in changes_elsewhere(step.book, corrections):
        last = last_of(step.book, f"entry {id}")
        if last is not None and last["id"] == by:
            step.add_version(id, as_it_was(step.book, id, was))


def as_it_was(book: Book, id: int, number: int) -> Version:
    """What an entry was in one of its versions, to be that again."""
    old = book.versions(id)[number - 1]
    return as_is(old, "restored", "dropped" if old.standing == "dropped" else None)
