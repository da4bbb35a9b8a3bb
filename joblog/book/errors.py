"""The one error of the book."""

from __future__ import annotations


class BookError(Exception):
    """What went wrong with a book, in words for a person."""
