"""When each part of the book was last seen to be whole: its originals, the rows of each table, its
structure and whether it fits together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from weakref import WeakKeyDictionary

from joblog.book import fits, media, seals
from joblog.book.errors import BookError
from joblog.book.rows import moment_text
from joblog.book.schema import WAIT
from joblog.book.store import Book

STRUCTURE = "(structure)"
"""A part of the book that is no original, as it is noted beside the SHA-256 of those."""


@dataclass(frozen=True, slots=True)
class Seen:
    """How long ago all of the book was looked at."""

    since: datetime | None
    """All was seen whole at that moment or later; None while some of it never was."""
    fresh: int
    """Originals that came since then, and were held against their SHA-256 when they did."""


def seen(book: Book) -> Seen:
    """When all was last looked at."""
    at = moments(book)
    if any(part not in at for part in parts(book)):
        return Seen(None, 0)
    held = {row["sha256"]: row["media"] for row in book._rows(media.in_all("sha256, media"))}
    every = [at[one] for one in (*parts(book), *(held.keys() & at.keys()))]
    # One that is missing did not come.
    came = [one for one in held.keys() - at.keys() if (book.store / str(held[one])).exists()]
    return Seen(datetime.fromisoformat(min(every)), len(came))


def parts(book: Book) -> tuple[str, ...]:
    """The parts that are no originals."""
    return (STRUCTURE, *map(fits_in, fits.LOOKS), *map(rows_of, seals.tables(book._db)))


def rows_of(table: str) -> str:
    """How the rows of a table are noted."""
    return f"(rows of {table})"


def fits_in(look: str) -> str:
    """How it is noted that all fits in one way."""
    return f"({look})"


def look_of(part: str) -> str:
    """The way in which all fits that is noted so."""
    return part[1:-1]


def table_of(part: str) -> str:
    """The table whose rows are noted so."""
    return part.removeprefix("(rows of ").removesuffix(")")


def moments(book: Book) -> dict[str, str]:
    """When each part and each original was last seen whole."""
    noted = {row["sha256"]: row["at"] for row in book._rows("SELECT * FROM seen_whole")}
    return noted | _later.get(book, {})


@contextmanager
def later(book: Book) -> Iterator[None]:
    """What is noted in this is written at its end: whoever has the book in sight reads it anew
    after every write."""
    _later[book] = {}
    try:
        yield
    finally:
        _write(book, _later.pop(book))


_later: WeakKeyDictionary[Book, dict[str, str]] = WeakKeyDictionary()


def note(book: Book, whole: Iterable[str], at: str | None = None) -> None:
    """Notes these as seen whole now, or puts `at` in the place of the moment."""
    now = at or moment_text(datetime.now(UTC))
    noted = dict.fromkeys(whole, now)
    if book in _later:
        _later[book] |= noted
    else:
        _write(book, noted)


def _write(book: Book, noted: Mapping[str, str]) -> None:
    if not noted or book._sound.saved:
        return
    # Only a note: while another program writes, or the disk is full, it is made the next time.
    book._db.execute("PRAGMA busy_timeout = 0")
    with suppress(BookError), book._writing(decides=False):
        put = "INSERT OR REPLACE INTO seen_whole VALUES (?, ?)"
        book._db.conn.executemany(put, noted.items())
    book._db.execute(f"PRAGMA busy_timeout = {int(WAIT * 1000)}")
