"""The book: one folder that holds a contractor's jobs, every entry's history and the originals."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from joblog.book.errors import BookError

if TYPE_CHECKING:
    from joblog.book.store import Book

__all__ = ["Book", "BookError"]


def __getattr__(name: str) -> Any:
    """The book itself is loaded when it is asked for: what needs none starts in half the time."""
    if name != "Book":
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from joblog.book.store import Book

    globals()[name] = Book
    return Book
