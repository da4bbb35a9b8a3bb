"""A run of a command is one transaction; killed, and said again in the same words, it ran once.

What a run writes and what it is about to say of it become true in one commit: a mark holds both
the words that were said and all that is to be told. It goes when that has been told. A mark that
stays is of a run that was killed in between, which shows in that nobody holds its lock any more:
whoever says the same words again is told what was decided then, and nothing is decided twice.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from secrets import token_hex
from typing import Literal

from filelock import FileLock, Timeout

from joblog.book.errors import BookError
from joblog.book.rows import Row, moment_text
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

    run: str
    at: datetime
    status: int
    told: tuple[Said, ...]

    @property
    def is_meant(self) -> bool:
        """Whether the same words, said now, are taken for the same thing."""
        return abs(datetime.now(UTC) - self.at) < MEANT_AGAIN


class Run:
    """One run of a command on an open book. `words` is a digest of all that it was told.

    From the first write on, everything belongs to one transaction, until `keep` or `give_up`.
    """

    def __init__(self, book: Book, words: str) -> None:
        self.decides = False
        """Whether it has begun to write."""
        self._book, self._words = book, words
        self._name = token_hex(8)
        self._lock = _lock(book, self._name)
        self._kept = False
        book._at_first_write = self._begin

    def untold(self) -> Untold | None:
        """What a run of the same words decided and never told; None where there is none.

        Raises `BookError`.
        """
        found = self._book._rows(
            "SELECT * FROM repeat WHERE words = ? ORDER BY at DESC", self._words
        )
        return next((_untold(row) for row in found if not _lives(self._book, row["run"])), None)

    def keep(self, status: int, told: Sequence[Said]) -> None:
        """Puts all that was written on disk, with what is to be told of it. Raises `BookError`."""
        if not self.decides:
            return
        book = self._book
        with plainly(book.folder):
            try:
                if not book._db.conn.in_transaction:
                    raise BookError(f"{book.folder}: nothing of this was kept. Say it again.")
                row = {
                    "run": self._name,
                    "words": self._words,
                    "at": moment_text(datetime.now(UTC)),
                    "status": status,
                    "told": json.dumps([(one.where, one.text) for one in told]),
                }
                book._insert("repeat", row)
                book._db.execute("COMMIT")
            except BaseException:
                self.give_up()
                raise
        self._kept = True
        book._at_first_write = None

    def give_up(self) -> None:
        """Takes back all that was written."""
        self._book._at_first_write = None
        if self.decides and not self._kept:
            with suppress(BookError), plainly(self._book.folder):
                self._book._db.rollback()
            self._book._remembered.forget()

    def end(self, *repeated: Untold) -> None:
        """Notes that all was told, also what was told of these. It never fails: at worst, the same
        words are told once more."""
        self._book._at_first_write = None
        names = [one.run for one in repeated] + [self._name] * self._kept
        if names:
            with suppress(BookError), self._book._writing():
                for name in names:
                    self._book._db.execute("DELETE FROM repeat WHERE run = ?", [name])
        if self._lock.is_locked:
            _remove(self._lock)

    def _begin(self) -> None:
        book = self._book
        if self.decides:  # The disk took back what was written, and the command went on.
            raise BookError(f"{book.folder}: nothing of this was kept. Say it again.")
        book._db.execute("BEGIN IMMEDIATE")
        # Both alone in writing, so that nobody takes a lock that is being made for a left one.
        self._lock.acquire()
        self.decides = True
        for row in list(book._rows("SELECT run, at FROM repeat")):
            if not _untold_at(row).is_meant and not _lives(book, row["run"]):
                book._db.execute("DELETE FROM repeat WHERE run = ?", [row["run"]])
        for left in _locks(book):
            _lives(book, left)


def _untold_at(row: Row) -> Untold:
    return Untold(row["run"], datetime.fromisoformat(row["at"]), 0, ())


def _untold(row: Row) -> Untold:
    told = tuple(Said(where, text) for where, text in json.loads(row["told"]))
    return Untold(row["run"], datetime.fromisoformat(row["at"]), row["status"], told)


def _lives(book: Book, run: str) -> bool:
    """Whether the process of a run is still there; a lock that it left is cleared away."""
    lock = _lock(book, run)
    if not Path(lock.lock_file).exists():
        return False
    try:
        lock.acquire()
    except Timeout:
        return True
    _remove(lock)
    return False


def _lock(book: Book, run: str) -> FileLock:
    return FileLock(book.folder / LOCK.format(run), timeout=0, mode=0o600)


def _locks(book: Book) -> Iterator[str]:
    before, after = LOCK.split("{}")
    for file in book.folder.glob(LOCK.format("*")):
        yield file.name.removeprefix(before).removesuffix(after)


def _remove(lock: FileLock) -> None:
    lock.release()
    with suppress(OSError):
        Path(lock.lock_file).unlink(missing_ok=True)
