"""Taking a packed job into a book."""

from __future__ import annotations

from pathlib import Path

from joblog.book import Book
from joblog.packing.nouns import Unpacked


def unpack(book: Book, file: Path, name: str | None = None) -> Unpacked:
    """Takes the job in a pack into the book: all of it, in one transaction, or nothing.

    Unpacked again it changes nothing. One that went on since takes the place of what is here;
    where what is here went on too, `PackError` tells which has what. `name` is what the job is to
    be called here. Everything is verified before anything is written.
    """
    raise NotImplementedError
