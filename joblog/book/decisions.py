"""Everything that a person decides about entries. What is written is there whole, or not at all.

Every function raises `BookError`, in words for a person, for an entry or job that is not there.
"""

from __future__ import annotations

from datetime import UTC, datetime

from joblog.book.entries import add_beside, add_entry, add_version, restored
from joblog.book.history import Version, spoken, versions
from joblog.book.schema import BookError
from joblog.book.store import Book
from joblog.book.ties import tie_photos
from joblog.model import BookEntry, Reading


def add_typed(book: Book, job: str, reading: Reading, said: str, at: datetime) -> tuple[int, ...]:
    """Adds what a person wrote, as if said at `at`; the ids of the entries."""
    number = book._job(job)["id"]
    now = datetime.now(UTC)
    with book._writing():
        ids = tuple(
            add_entry(book, number, None, ordinal, at, told, [now])
            for ordinal, told in enumerate(spoken([(reading, said)], "typed"))
        )
        tie_photos(book, job)
    return ids


def accept(book: Book, id: int) -> BookEntry:
    """It is right as it stands; its doubts are settled."""
    with book._writing():
        now = book.entry(id)
        if now.standing == "accepted" and now.change != "typed":
            return now
        add_version(book, id, Version(now.entry, (), "accepted", "accepted", now.said))
    return book.entry(id)


def drop(book: Book, id: int) -> BookEntry:
    """It does not count; it stays readable."""
    with book._writing():
        now = book.entry(id)
        if now.standing == "dropped":
            return now
        add_version(book, id, Version(now.entry, (), "dropped", "dropped", now.said))
        tie_photos(book, book.job_of(id))
    return book.entry(id)


def correct(book: Book, id: int, reading: Reading, said: str) -> tuple[BookEntry, ...]:
    """Puts the reading's first entry in the place of this one and its others beside it.

    The entries as they then stand, the changed one first. Raises `BookError` for a reading
    without an entry.
    """
    made = versions(reading, said, "corrected")
    if not made:
        raise BookError(f"nothing that could be noted was read in {said!r}")
    with book._writing():
        book.entry(id)
        number = add_version(book, id, made[0])
        added = [add_beside(book, id, number, version) for version in made[1:]]
        tie_photos(book, book.job_of(id))
    return tuple(map(book.entry, [id, *added]))


def undo(book: Book, id: int) -> BookEntry:
    """Takes back the last change that is not taken back yet; the entry as it then stands.

    What a correction had added beside the entry is dropped. Raises `BookError` when nothing
    is left to take back.
    """
    with book._writing():
        every = book.versions(id)
        told = restored(book, id)
        undone = _effective(told, len(every))
        if undone == 1:
            raise BookError(f"entry {id} is as it was first noted; there is nothing to undo")
        earlier = _effective(told, undone - 1)
        old = every[earlier - 1]
        version = Version(old.entry, old.doubts, old.standing, "undone", old.said)
        add_version(book, id, version, restores=earlier)
        for added in book._rows(
            "SELECT id FROM entry WHERE beside = ? AND beside_version = ?", id, undone
        ):
            _take_away(book, added["id"])
        tie_photos(book, book.job_of(id))
    return book.entry(id)


def _take_away(book: Book, id: int) -> None:
    now = book.entry(id)
    if now.standing != "dropped":
        add_version(book, id, Version(now.entry, (), "dropped", "undone", now.said))


def _effective(told: dict[int, int | None], version: int) -> int:
    """The version whose state this one shows: itself, or the one that an undo restored."""
    return told[version] or version
