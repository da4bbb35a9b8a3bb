"""Where the book is: the folder that was named, the one at hand, or the usual one."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from joblog.service.errors import refusing

if TYPE_CHECKING:
    from joblog.book import Book
    from joblog.service.repeating import Running

FILE = "book.sqlite"
RUNNING: ContextVar[Running | None] = ContextVar("running", default=None)
"""The command that is run in one piece, whose book is the one book at its place."""


@dataclass(frozen=True, slots=True)
class Place:
    """A folder that holds a book, or is to hold one.

    `asked` says whether a person named it for this very command. What needs no book does without
    one that is only set up beforehand and not there yet, and refuses one that was asked for.
    """

    folder: Path
    asked: bool = True

    @property
    def has_book(self) -> bool:
        return (self.folder / FILE).is_file()


def place_of(folder: Path | None = None, *, asked: bool = True) -> Place:
    """The place that was named; else this folder if it holds a book, else `joblog` in the home."""
    if folder is not None:
        return Place(folder, asked)
    here = Path()
    return Place(here if (here / FILE).is_file() else Path.home() / "joblog", asked=False)


@contextmanager
def opened(place: Place) -> Iterator[Book]:
    """The book at a place. Raises `ServiceError` where there is none."""
    from joblog.book import Book

    with _at(place, lambda: Book.open(place.folder)) as book:
        yield book


@contextmanager
def opened_if_there(place: Place) -> Iterator[Book | None]:
    """The book at a place; None where there is none and nobody asked for it now."""
    if not place.has_book and not place.asked:
        yield None
        return
    with opened(place) as book:
        yield book


@contextmanager
def made_or_opened(place: Place) -> Iterator[Book]:
    """The book at a place, made where there is none yet."""
    with _at(place, lambda: made_at(place)) as book:
        yield book


def made_at(place: Place) -> Book:
    """The same, to be closed by whoever has it."""
    from joblog.book import Book

    with refusing():
        return Book.at(place.folder)


@contextmanager
def _at(place: Place, opening: Callable[[], Book]) -> Iterator[Book]:
    running = RUNNING.get()
    with refusing():
        shared = running.book_at(place, opening) if running is not None else None
        book = opening() if shared is None else shared
    if shared is not None:
        yield book
        return
    with book:
        yield book


def lasts(folder: Path) -> bool:
    """Whether a book is meant to stay: one that lies among the system's temporary files, as the
    demo's does, is not."""
    # `tempfile.gettempdir` would try them by writing there.
    named = [os.environ[name] for name in ("TMPDIR", "TEMP", "TMP") if os.environ.get(name)]
    passing = [Path(one).resolve() for one in named or ["/tmp", "/var/tmp"]]
    return not any(folder.resolve().is_relative_to(one) for one in passing)


def decides_now() -> bool:
    """Whether the command that is run has begun to write."""
    running = RUNNING.get()
    return running is not None and running.decides
