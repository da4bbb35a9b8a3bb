"""What became of one entry, original or line of the catalog: every change, by whom, and why."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from joblog.book.store import Book


@dataclass(frozen=True, slots=True)
class Changed:
    """One change of a thing."""

    at: datetime
    """When, in UTC."""
    who: str
    how: str
    """What was done: "heard", "typed", "corrected", "dropped", "undone", "moved" and the like."""
    what: str
    """What it was from then on, in a line."""
    said: str = ""
    """The words that it was read from, or the step in words."""
    step: int | None = None
    """The step that did it; None for what came in."""
    version: int | None = None
    """Of an entry."""
    doubts: tuple[str, ...] = ()
    job: str = ""
    """Where it was from then on; "" for what belongs to all jobs."""


def of_entry(book: Book, id: int) -> tuple[Changed, ...]:
    """Every version of an entry, oldest first. Raises `BookError` where there is none."""
    raise NotImplementedError


def of_original(book: Book, sha256: str) -> tuple[Changed, ...]:
    """What was decided of a recording or photo, its ties too, oldest first."""
    raise NotImplementedError


def of_line(book: Book, name: str) -> tuple[Changed, ...]:
    """What was decided of an item or a task of the catalog, oldest first."""
    raise NotImplementedError
