"""Files that lie in a folder which another program is still copying into."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from joblog.book.gather import sort_of
from joblog.book.hearing import Found, Log, Met, Outcome, Picture, Task, prepared
from joblog.book.media import Stowed, fingerprint
from joblog.book.store import Book
from joblog.model import Photo, Track, Vocabulary
from joblog.workers import Limits, Pool

if TYPE_CHECKING:
    from joblog.speech import Recognizer


def has_already(book: Book, path: Path) -> bool:
    """Whether the bytes of a file are in the book, in whatever job. Raises OSError."""
    return path.stat().st_size in book.lengths() and book.holds(fingerprint(path)) is not None


def unfinished(paths: Iterable[Path], limits: Limits | None = None) -> frozenset[Path]:
    """Those that stop before their sound, picture or log does: they may still be growing.

    Looked into in a process of its own, as whatever reads a file is.
    """
    none: tuple[Recognizer, ...] = ()
    ready = partial(prepared, "UTC", Vocabulary(), none, None)
    pool: Pool[Task, Outcome] = Pool(ready, 1, limits)
    with pool:
        return frozenset(
            task.source
            for task, outcome in pool.answers(filter(None, map(_task, paths)))
            if not _whole(outcome)
        )


def _task(path: Path) -> Task | None:
    try:
        stowed = Stowed(fingerprint(path), "", path.stat().st_size)
        sort = sort_of(path)
    except OSError:  # It is gone again.
        return None
    match sort:
        case "photo":
            return Picture(path, path, stowed)
        case "track":
            return Log(path, path, stowed)
    return Found(path, path, stowed)


def _whole(outcome: object) -> bool:
    match outcome:
        case Met():
            return outcome.sound is not None and not outcome.broken
        case Photo():
            return "ends early" not in (outcome.trouble or "")
        case Track():
            return True
    return False
