"""A run of a command is one transaction; killed, and said again in the same words, it ran once.

What a run writes and what it is about to tell of it become true in one commit: a mark holds both
the words that were said and all that is to be told. Beside the book lies a lock, held while the run
lives, and taken away as the last thing that it does. So a lock that lies there and that nobody
holds is of a run that was killed: whoever says the same words again is told what was decided then,
and nothing is decided twice.
"""

from __future__ import annotations

import json
import os
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from secrets import token_hex
from typing import Literal

from filelock import FileLock, Timeout

from joblog.book import media
from joblog.book.errors import BookError
from joblog.book.rows import moment_text
from joblog.book.schema import plainly
from joblog.book.store import Book

MEANT_AGAIN = timedelta(hours=36)
"""Until the evening after, the same words are taken for the same thing said again; whoever says
them a week later means another one."""
LOCK = "running.{}.lock"


@dataclass(frozen=True, slots=True)
class Said:
    """A piece of what a run tells, and where: standard output or error, or bytes on output."""

    where: Literal["out", "error", "bytes"]
    text: str


@dataclass(frozen=True, slots=True)
class Untold:
    """What a run decided that was killed before it could say so."""

    at: datetime
    status: int
    told: tuple[Said, ...]

    @property
    def is_meant(self) -> bool:
        """Whether the same words, said now, are taken for the same thing."""
        return _is_meant(self.at)


class Run:
    """One run of a command on an open book. `words` is a digest of all that it was told.

    From the first write on, everything belongs to one transaction, until `keep` or `give_up`.
    """

    def __init__(self, book: Book, words: str) -> None:
        self.decides = False
        """Whether it has begun to write."""
        self._book, self._words = book, words
        self._name = token_hex(8)
        self._locks: list[FileLock] = []
        self._kept = False
        book._at_first_write = self._begin

    def untold(self) -> Untold | None:
        """What a run of the same words decided and never told, which is told now; None where there
        is none. Raises `BookError`."""
        found = self._book._rows(
            "SELECT * FROM repeat WHERE words = ? ORDER BY at DESC", self._words
        )
        for row in found:
            lock = _left(self._book, row["run"])
            if lock is not None:
                self._locks.append(lock)
                told = tuple(Said(where, text) for where, text in json.loads(row["told"]))
                return Untold(datetime.fromisoformat(row["at"]), row["status"], told)
        return None

    def keep(self, status: int, told: Sequence[Said]) -> None:
        """Puts all that was written on disk, with what is to be told of it. Raises `BookError`."""
        if not self.decides:
            return
        book = self._book
        with plainly(book.folder):
            if not book._db.conn.in_transaction:
                raise BookError(f"{book.folder}: {_LOST}")
            row = {
                "run": self._name,
                "words": self._words,
                "at": moment_text(datetime.now(UTC)),
                "status": status,
                "told": json.dumps([(one.where, one.text) for one in told]),
            }
            book._insert("repeat", row)
            # After a power cut the lock must be there if the decision is.
            media.settle(book.folder)
            book._db.execute("COMMIT")
        self._kept = True
        book._at_first_write = None

    def give_up(self) -> None:
        """Takes back all that was written and not kept."""
        self._book._at_first_write = None
        if self.decides and not self._kept:
            with suppress(BookError), plainly(self._book.folder):
                self._book._db.rollback()
            self._book._remembered.forget()

    def end(self) -> None:
        """Notes that all was told. Nothing may be written after it."""
        for lock in self._locks:
            _remove(lock)

    def _begin(self) -> None:
        book = self._book
        if self.decides:  # The disk took back what was written, and the command went on.
            raise BookError(f"{book.folder}: {_LOST}")
        book._db.execute("BEGIN IMMEDIATE")
        self.decides = True
        # Who makes a lock or clears one away is alone in writing: nobody takes a new one for left.
        lock = _lock(book, self._name)
        lock.acquire()
        self._locks.append(lock)
        _clear_away(book)


_LOST = "nothing of this was kept. Say it again."


def _clear_away(book: Book) -> None:
    """Marks of what was told, of what was killed long ago, and locks of what decided nothing."""
    marks = {row["run"]: row["at"] for row in book._rows("SELECT run, at FROM repeat")}
    for run, at in marks.items():
        if not _place(book, run).exists() or not _is_meant(datetime.fromisoformat(at)):
            book._db.execute("DELETE FROM repeat WHERE run = ?", [run])
    before, after = LOCK.split("{}")
    for file in book.folder.glob(LOCK.format("*")):
        run = file.name.removeprefix(before).removesuffix(after)
        if run not in marks or not _is_meant(datetime.fromisoformat(marks[run])):
            lock = _left(book, run)
            if lock is not None:
                _remove(lock)


def _is_meant(at: datetime) -> bool:
    return abs(datetime.now(UTC) - at) < MEANT_AGAIN


def _left(book: Book, run: str) -> FileLock | None:
    """The lock of a run that was killed, now held; None where it lives, or ended by itself."""
    if not _place(book, run).exists():
        return None
    lock = _lock(book, run)
    try:
        lock.acquire()
    except Timeout:
        return None
    return lock


def _place(book: Book, run: str) -> Path:
    return book.folder / LOCK.format(run)


def _lock(book: Book, run: str) -> FileLock:
    return FileLock(_place(book, run), timeout=0, mode=0o600)


def _remove(lock: FileLock) -> None:
    place = Path(lock.lock_file)
    with suppress(OSError):
        if os.name == "nt":  # What is held cannot be removed there.
            lock.release()
        # Elsewhere nobody can take it in between.
        place.unlink(missing_ok=True)
        lock.release()
