"""What a pack says of itself, and what became of packing and unpacking one."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Literal

from joblog.book.errors import BookError

ENDING = ".jobpack"
FORM = 1
"""Counts up with every change of how a pack is laid out."""


class PackError(BookError):
    """What is wrong with a pack, or why it is not taken in, in words for a person."""


@dataclass(frozen=True, slots=True)
class Head:
    """The first member of a pack."""

    form: int
    joblog: str
    """The version of joblog that packed it."""
    schema: int
    """The version of the book that it was packed from."""
    book: str
    """The id of that book."""
    job: int
    """The number that the job has in that book."""
    name: str
    packed_at: datetime
    digest: str
    """Of all that the pack says of the job: the same for the same state, whoever packed it."""


@dataclass(frozen=True, slots=True)
class Packed:
    """A pack that was written."""

    file: Path
    job: str
    bytes: int
    entries: int
    originals: int
    missing: tuple[str, ...] = ()
    """Names of originals that are damaged or missing in the book, and are not in the pack."""


@dataclass(frozen=True, slots=True)
class Unpacked:
    """What became of a pack."""

    job: str
    """The name that the job has in this book."""
    outcome: Literal["new", "went on", "same", "older"]
    """It is new here; it took the place of what was here; it was here already; what is here is
    newer. With the last two nothing was changed."""
    entries: int = 0
    """How many entries came."""
    originals: int = 0
    """How many originals came."""
    told: tuple[str, ...] = ()
    """What a person should know of it, a line each."""
