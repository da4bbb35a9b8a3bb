"""Writing one job of a book into one file."""

from __future__ import annotations

from pathlib import Path

from joblog.book import Book
from joblog.packing.nouns import Packed


def pack(book: Book, job: str, file: Path) -> Packed:
    """Writes a job, with all that is or was in it and all that tells of it, into one file.

    It is read again before it takes its name. An older pack of the same job is replaced; any other
    file that is there stays. Raises `PackError`.
    """
    raise NotImplementedError
