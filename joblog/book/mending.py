"""What is damaged in the book, put right from where it can be had again: a backup, a file that a
person names, or the rest of the book itself."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Protocol

if TYPE_CHECKING:
    from joblog.book.store import Book
    from joblog.book.verify import Damage

Row = dict[str, Any]


class Lookup(Protocol):
    """Where things can be had again; `joblog.backup.lookup` is one over the backups at hand."""

    def original(self, sha256: str) -> Path | None:
        """A file of that SHA-256, read and found to be it; None where none is at hand."""

    def rows(self, table: str, keys: Collection[str]) -> Iterable[Mapping[str, Row]]:
        """Of each state of the book, the newest first, its rows of these keys; a key is as a
        seal writes it (`seals.key`), a row has its columns by name."""


@dataclass(frozen=True, slots=True)
class Mended:
    """Something that was damaged and is as it was written again."""

    what: str
    """Such as "entry 12, version 1" or "recording memo.m4a"."""
    how: str
    """Such as "put back from the backup in /media/stick"."""


def to_be_had(book: Book, found: Sequence[Damage], lookup: Lookup) -> tuple[Damage, ...]:
    """The same damage, each with where it can be had `again`."""
    raise NotImplementedError


def mend(book: Book, lookup: Lookup, files: Iterable[Path] = ()) -> Iterator[Mended]:
    """Puts back all that can be had again; each thing is done when it is told, and safe to repeat.

    `files` are good originals that a person names. Raises `BookError`.
    """
    raise NotImplementedError
