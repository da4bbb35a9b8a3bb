"""Backups: the book's states kept in a folder elsewhere, and a whole book made of one again."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path

from joblog.backup.lookup import Lookup
from joblog.backup.nouns import Far, Kept, Outcome, Progress, Restored, State, nobody
from joblog.book import Book
from joblog.book.verify import Damage

__all__ = [
    "Far", "Kept", "Lookup", "Outcome", "Progress", "Restored", "State", "back_up", "due",
    "glance", "identity", "restore", "states",
]  # fmt: skip


def back_up(
    book: Book,
    folder: Path | None = None,
    *,
    keep: int | None = None,
    anew: bool = False,
    whole: bool = False,
    tell: Progress = nobody,
) -> Outcome:
    """Keeps the book as it now is in a folder, that of the last time where none is named.

    Raises `BookError`.
    """
    raise NotImplementedError


def restore(
    folder: Path,
    new: Path,
    *,
    at: date | None = None,
    tell: Progress = nobody,
    mend: Callable[[Book, Lookup], None] | None = None,
) -> Restored:
    """Makes a whole book of a state in a new folder. Raises `BookError`."""
    raise NotImplementedError


def states(folder: Path) -> tuple[State, ...]:
    """The states that lie in a backup, the newest first; those that cannot be read are left out."""
    raise NotImplementedError


def due(book: Book, now: datetime) -> str | None:
    """One plain line where a backup is due; None where nothing is new since the last."""
    raise NotImplementedError


def identity(book: Book) -> str:
    """Which book this is, wherever its folder lies: the same in all copies of it."""
    raise NotImplementedError


def glance(book: Book, most: int) -> tuple[Damage, ...]:
    """Reads no more than so many bytes of a backup that is at hand, those not read for longest."""
    raise NotImplementedError
