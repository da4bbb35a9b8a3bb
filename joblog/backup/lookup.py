"""What is damaged in the book, as the backups that are at hand have it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from pathlib import Path
from types import TracebackType
from typing import Any

from joblog.book import Book

Row = dict[str, Any]


class Lookup:
    """Looks in the backups that the book remembers, and in `folders`, as far as they are at hand.

    Use it in a `with`: what it makes in passing goes with it. A state is opened when a row is asked
    for. Raises nothing for a backup that cannot be read: then nothing is found there.

    >>> with Lookup(book) as lookup:
    ...     lookup.original(sha256), lookup.rows("entry_version", {"4|2": 123456})
    """

    def __init__(self, book: Book, folders: Iterable[Path] = ()) -> None:
        raise NotImplementedError

    @property
    def folders(self) -> tuple[Path, ...]:
        """The backups that are at hand."""
        raise NotImplementedError

    def original(self, sha256: str) -> Path | None:
        """A file of that SHA-256, read whole and held against it; None where none has it.

        It is only to be read, and gone when the lookup is closed.
        """
        raise NotImplementedError

    def rows(self, table: str, wanted: Mapping[str, int]) -> dict[str, Row]:
        """By key (as in `seals.key`), the rows that have exactly these checksums (`seal.checksum`).

        The states are gone through from the newest, brought up to the version of this book, until
        all are found.
        """
        raise NotImplementedError

    def where(self, table: str, key: str) -> str:
        """From which backup and state a row that was found is, in words; "" for none."""
        raise NotImplementedError

    def close(self) -> None:
        raise NotImplementedError

    def __enter__(self) -> Lookup:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()
