"""Writing entries: a new one with all its versions, and one more version of one."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime

from joblog.book import rows
from joblog.book.history import Version
from joblog.book.rows import moment_text
from joblog.book.store import Book


def add_entry(
    book: Book,
    job: int,
    utterance: int | None,
    ordinal: int,
    at: datetime,
    told: Sequence[Version],
    changed: Sequence[datetime],
) -> int:
    """A new entry; its id. `changed` says when each version was made, the last also of the rest."""
    row = {"job": job, "utterance": utterance, "ordinal": ordinal, "at": moment_text(at)}
    id = book._insert("entry", row)
    for number, version in enumerate(told):
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
    restores: int | None = None,
) -> int:
    """One more version of an entry; its number. `restores` is the version that it brings back."""
    number = max(restored(book, id), default=0) + 1
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
        },
    )
    for ordinal, why in enumerate(version.doubts):
        row = {"entry": id, "version": number, "ordinal": ordinal, "why": why}
        book._insert("doubt", row)
    return number


def restored(book: Book, id: int) -> dict[int, int | None]:
    """The versions of an entry and, of those that took a change back, which they restored."""
    found = book._rows("SELECT version, restores FROM entry_version WHERE entry = ?", id)
    return {row["version"]: row["restores"] for row in found}
