"""Where the book is: the folder that was named, the one at hand, or the usual one."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from joblog.service.errors import ServiceError, refusing

if TYPE_CHECKING:
    from joblog.book import Book

FILE = "book.sqlite"


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

    with refusing():
        book = Book.open(place.folder)
    with book:
        yield book


@contextmanager
def opened_if_there(place: Place) -> Iterator[Book | None]:
    """The book at a place; None where there is none and nobody asked for it now."""
    if not place.has_book and not place.asked:
        yield None
        return
    with opened(place) as book:
        yield book


def made_or_opened(place: Place) -> Book:
    """The book at a place, made where there is none yet."""
    from joblog.book import Book

    with refusing():
        return Book.at(place.folder)


def fresh(folder: Path) -> Place:
    """A folder for a new book. Raises `ServiceError` when anything is in it already."""
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise ServiceError(f"{folder}: is there already; name a new folder.")
    return Place(folder)


def lasts(folder: Path) -> bool:
    """Whether a book is meant to stay: one that lies among the system's temporary files, as the
    demo's does, is not."""
    return not folder.resolve().is_relative_to(Path(tempfile.gettempdir()).resolve())
