"""The book: one folder that holds a contractor's jobs, every entry's history and the originals."""

from joblog.book.schema import BookError
from joblog.book.store import Book

__all__ = ["Book", "BookError"]
