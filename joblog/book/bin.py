"""What counts no more and can be brought back: nothing that a person made or said is ever deleted.

Every step keeps what it changed as it was before and after. What a step that stands took away, and
what went when a step was taken back, is in the bin until it stands again. Bringing it back is a
step of its own, and can be undone.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from joblog.book.steps import YOU
from joblog.book.store import Book
from joblog.model import Step


@dataclass(frozen=True, slots=True)
class Binned:
    """What one step took away, or what was taken back with it."""

    step: Step
    """Its `id` is what it is brought back by."""
    at: datetime
    """When it went, in UTC."""
    things: tuple[str, ...]
    """What went, each in a line: "used 3 sheets of soffit panel", "plan: 4 items, 2 tasks"."""
    entries: tuple[int, ...]
    """The entries among them."""


def binned(book: Book, job: str | None = None) -> tuple[Binned, ...]:
    """All that is in the bin, of one job or of all, what went last first."""
    raise NotImplementedError


def bring_back(book: Book, id: int, who: str = YOU) -> Step:
    """Makes all that went with a step stand as it was; the step that this is.

    Whatever stands in its place now goes to the bin. Raises `BookError` where there is no such
    step, where nothing went with it, or all of it stands as it was.
    """
    raise NotImplementedError
