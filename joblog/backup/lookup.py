"""What is damaged in the book, as the backups that are at hand have it."""

from __future__ import annotations

import sqlite3
from collections.abc import Collection, Iterable, Iterator
from contextlib import ExitStack, contextmanager, suppress
from functools import cached_property
from pathlib import Path
from types import TracebackType
from typing import Any

from joblog.backup import descent
from joblog.backup.assembling import assemble
from joblog.backup.medium import Medium, found
from joblog.backup.memory import remembered
from joblog.backup.nouns import Kept, State
from joblog.backup.passing import passing_in
from joblog.backup.stated import listed, states_in
from joblog.book import Book, BookError, media, seals
from joblog.book.schema import MIGRATIONS, database
from joblog.book.schema_of_packs import BOOK
from joblog.local import moment_written

Row = dict[str, Any]
AT_A_TIME = 200
"""Rows that are asked for in one query."""


class Lookup:
    """Looks in the backups that the book remembers, and in `folders`, as far as they are at hand.

    Use it in a `with`: what it makes in passing goes with it. A state is opened when a row is asked
    for. A backup that cannot be read holds nothing, and raises nothing.

    >>> with Lookup(book) as lookup:
    ...     lookup.original(sha256)
    ...     for rows in lookup.rows("entry_version", ["4|2"]):
    ...         rows.get("4|2"), lookup.source
    """

    def __init__(self, book: Book, folders: Iterable[Path] = ()) -> None:
        self.source = ""
        """Where what was had last is from, in words: "the backup in E:, Oct 5"."""
        self._book = book
        self._asked = tuple(folders)
        self._until = ExitStack()

    @cached_property
    def folders(self) -> tuple[Path, ...]:
        """The backups that are at hand."""
        named = [*self._asked, *(Path(one.folder) for one in remembered(self._book))]
        at_hand: dict[Path, None] = {}
        for folder in named:
            with suppress(BookError, OSError):
                at_hand[found(folder)] = None
        return tuple(at_hand)

    def original(self, sha256: str) -> Path | None:
        """A file of that SHA-256, read whole and held against it; None where none has it.

        It is only to be read, and may be gone when the lookup is closed.
        """
        for medium in self._media:
            if medium.whole(sha256):
                self.source = f"the backup in {medium.place}"
                return medium.objects[sha256].path
        for state, medium in self._states:
            with suppress(OSError):
                for one in listed(medium, state):
                    if one.sha256 == sha256 and len(one.pieces) > 1:
                        path = self._joined(medium, one)
                        if path:
                            self.source = _told(state, medium)
                            return path
        return None

    def rows(self, table: str, keys: Collection[str]) -> Iterator[dict[str, Row]]:
        """Of each state, the newest first, those of its rows of these keys (as in `seals.key`)
        that are as they were written, brought up to the version of this book: each with its columns
        by name."""
        own = descent.of(self._book).names
        for state, medium in self._states:
            if not descent.is_own(state, own):
                continue  # Another copy has other entries under the same numbers.
            with suppress(OSError, sqlite3.Error, BookError), self._opened(state, medium) as db:
                columns = seals.tables(db).get(table)
                if columns is None:
                    continue
                name, wanted = seals.key(columns), sorted(keys)
                rows: dict[str, Row] = {}
                for some in (
                    wanted[at : at + AT_A_TIME] for at in range(0, len(wanted), AT_A_TIME)
                ):
                    marks = ", ".join("?" * len(some))
                    sql = (
                        f"SELECT {name} AS its_key, * FROM {table} WHERE {name} IN ({marks})"
                        f" AND {seals.is_sound(columns, table)}"
                    )
                    for row in db.query(sql, some):
                        rows[str(row.pop("its_key"))] = row
                self.source = _told(state, medium)
                yield rows

    def close(self) -> None:
        self._until.close()

    def __enter__(self) -> Lookup:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    @cached_property
    def _media(self) -> tuple[Medium, ...]:
        return tuple(_media(self.folders))

    @cached_property
    def _states(self) -> tuple[tuple[State, Medium], ...]:
        """Those of this book, of all backups, the newest first."""
        own: dict[str, tuple[State, Medium]] = {}
        for medium in self._media:
            with suppress(BookError, OSError):
                for state in states_in(medium.place)[0]:
                    if state.book == self._book.setting(BOOK) and state.version <= len(MIGRATIONS):
                        own.setdefault(state.file, (state, medium))
        return tuple(sorted(own.values(), key=lambda one: one[0].at, reverse=True))

    @contextmanager
    def _opened(self, state: State, medium: Medium) -> Iterator[Any]:
        """The database of a state, in a file that goes with it. Raises OSError, `BookError`."""
        with passing_in(self._book) as folder:
            file = folder / "state.sqlite"
            if assemble(medium, state.database, file):
                raise OSError(f"{state.file}: not whole")
            db = database(file)
            try:
                yield db
            finally:
                db.close()

    def _joined(self, medium: Medium, one: Kept) -> Path | None:
        folder = self._until.enter_context(passing_in(self._book))
        file = folder / Path(one.name).name
        whole = not assemble(medium, one, file) and media.is_whole(file, one.sha256)
        return file if whole else None


def _media(places: Iterable[Path]) -> Iterator[Medium]:
    for place in places:
        with suppress(OSError):
            yield Medium(place)


def _told(state: State, medium: Medium) -> str:
    return f"the backup in {medium.place}, as of {moment_written(state.at.astimezone(), year=True)}"
