"""Writing entries: a new one with all its versions, and one more version of one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime

from joblog.book import rows
from joblog.book.history import Version
from joblog.book.rows import Row, moment_text
from joblog.book.store import Book
from joblog.model import BookEntry, Change

NEVER = 0
"""Stands for the version before the first: undone so far, an entry is as if never noted."""


def add_entry(
    book: Book,
    job: int,
    utterance: int | None,
    ordinal: int,
    at: datetime,
    versions: Sequence[Version],
    changed: Sequence[datetime],
) -> int:
    """A new entry; its id. `changed` says when each version was made, the last also of the rest."""
    row = {"job": job, "utterance": utterance, "ordinal": ordinal, "at": moment_text(at)}
    id = book._insert("entry", row)
    for number, version in enumerate(versions):
        add_version(book, id, version, changed[min(number, len(changed) - 1)])
    return id


def add_beside(book: Book, id: int, number: int, version: Version) -> int:
    """A new entry that a version of another one brought with it; its id."""
    [row] = book._rows("SELECT job, utterance, ordinal, at FROM entry WHERE id = ?", id)
    added = book._insert("entry", {**row, "beside": id, "beside_version": number})
    add_version(book, added, version)
    return added


def add_version(
    book: Book,
    id: int,
    version: Version,
    changed_at: datetime | None = None,
    *,
    restores: int | None = None,
    job: int | None = None,
    at: str | None = None,
) -> int:
    """One more version of an entry; its number. With `job` or `at` the entry moves there.

    `restores` is the version that it brings back.
    """
    if str(id) in book._hurt("entry"):
        # A person has looked at it: where and when he saw it is from now on where it is.
        book._db.execute(
            "UPDATE entry SET at = ?, job = coalesce((SELECT id FROM job WHERE id = entry.job),"
            " (SELECT min(id) FROM job)) WHERE id = ?",
            [moment_text(book.entry(id).at), id],
        )
    [last] = book._rows(
        "SELECT job, at, (SELECT max(version) FROM entry_version WHERE entry = id) AS version"
        " FROM entry WHERE id = ?",
        id,
    )
    number = int(last["version"] or 0) + 1
    here = {"job": last["job"] if job is None else job, "at": last["at"] if at is None else at}
    book._insert(
        "entry_version",
        {
            "entry": id,
            "version": number,
            "content": rows.content(version.entry),
            "standing": version.standing,
            "change": version.change,
            "changed_at": moment_text(changed_at or datetime.now(UTC)),
            "said": version.said,
            "restores": restores,
            "left_job": last["job"] if here["job"] != last["job"] else None,
            "origin": version.origin,
            **here,
        },
    )
    for ordinal, why in enumerate(version.doubts):
        row = {"entry": id, "version": number, "ordinal": ordinal, "why": why}
        book._insert("doubt", row)
    book._remembered.changes(id)
    if here != {"job": last["job"], "at": last["at"]}:
        book._db.execute("UPDATE entry SET job = :job, at = :at WHERE id = :id", {**here, "id": id})
    return number


def state(book: Book, id: int) -> int:
    """The version whose state the entry shows: the newest, or what that one brought back."""
    newest = _version_row(book, id, None)
    return int(newest["version"] if newest["restores"] is None else newest["restores"])


def bring_back(book: Book, id: int, number: int, change: Change) -> None:
    """Makes the entry once more what it was in a version, where and when it was that."""
    if number == NEVER:
        add_version(book, id, as_is(book.entry(id), change, "dropped"), restores=NEVER)
        return
    old, row = book.versions(id)[number - 1], _version_row(book, id, number)
    version = replace(as_is(old, change), doubts=old.doubts)
    add_version(book, id, version, restores=number, job=row["job"], at=row["at"])


def as_is(kept: BookEntry, change: Change, standing: str | None = None) -> Version:
    """A version that says what this one says; dropped, it has no doubts."""
    if standing == "dropped":
        return Version(kept.entry, (), "dropped", change, kept.said)
    origin = kept.origin or kept.change
    return Version(kept.entry, kept.doubts, kept.standing, change, kept.said, origin=origin)


def _version_row(book: Book, id: int, number: int | None) -> Row:
    which = "(SELECT max(version) FROM entry_version WHERE entry = :id)"
    [row] = book._rows(
        "SELECT version, restores, job, at FROM entry_version WHERE entry = :id"
        f" AND version = coalesce(:number, {which})",
        id=id,
        number=number,
    )
    return row
