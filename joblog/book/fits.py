"""Whether what the book holds fits together: rows that are each as they were written can still be
at odds with each other, where one of them was lost with its seal or came in by another way."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from joblog.book.store import Book
    from joblog.book.verify import Damage


def misfits(book: Book) -> Iterator[Damage]:
    """What does not fit: entries and their recordings, versions, photos and their ties, the history
    and what it led to, what refers to what, closings and their entries, strays in the store."""
    raise NotImplementedError
