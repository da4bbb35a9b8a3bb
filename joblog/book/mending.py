"""What is damaged in the book, put right from where it can be had again: a backup, a file that a
person names, or the rest of the book itself.

Nothing is guessed: a row is put back where it has the very checksum that its seal remembers, an
original where it has its SHA-256. What was damaged is put aside, and nothing is deleted.
"""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from pathlib import Path
from secrets import token_hex
from typing import Any, Protocol

from joblog.book import media, owner, seals, searching, verify
from joblog.book.database import Database
from joblog.book.hurt import NOTHING_LOST, Damage
from joblog.book.making import FILE, OWNER_ONLY
from joblog.book.schema import plainly, writing
from joblog.book.store import Book

Row = dict[str, Any]

BY_ITSELF = "what its seal remembers"
REST = "the rest of the book"
NAMED = "the file that you name"


class Lookup(Protocol):
    """Where things can be had again; `joblog.backup.lookup` is one over the backups at hand."""

    @property
    def source(self) -> str:
        """Where what was had last is from, in words."""

    def original(self, sha256: str) -> Path | None:
        """A file of that SHA-256, read and found to be it; None where none is at hand."""

    def rows(self, table: str, keys: Collection[str]) -> Iterable[Mapping[str, Row]]:
        """Of each state of the book, the newest first, its rows of these keys that are as they
        were written; a key is as a seal writes it (`seals.key`)."""


class Nowhere:
    """Where nothing is to be had."""

    source = ""

    def original(self, sha256: str) -> Path | None:
        return None

    def rows(self, table: str, keys: Collection[str]) -> Iterable[Mapping[str, Row]]:
        return ()


@dataclass(frozen=True, slots=True)
class Mended:
    """Something that was damaged and is as it was written again."""

    what: str
    """Such as "entry 12, version 1" or "recording memo.m4a"."""
    how: str
    """Such as "the backup in E:"."""


def to_be_had(book: Book, found: Sequence[Damage], lookup: Lookup) -> tuple[Damage, ...]:
    """The same damage, each with where it can be had `again`."""
    if not found:
        return ()
    rows = _rows_again(book._db, lookup, _missing(found))
    return tuple(replace(one, again=_again(book, one, rows, lookup)) for one in found)


def mend(book: Book, lookup: Lookup, files: Iterable[Path] = ()) -> Iterator[Mended]:
    """Puts back all that can be had again; each thing is done when it is told, and safe to repeat.

    `files` are good originals, or folders of them, that a person names. Raises `BookError`.
    """
    if owner.close_to_others(book.folder):
        yield Mended(str(book.folder), "nobody else on this computer may read it any more")
    found = tuple(verify.verify(book))
    yield from _mend_rows(book, found, lookup)
    yield from _mend_originals(book, found, lookup, tuple(files))
    if any(one.remedy.startswith(NOTHING_LOST) for one in found):
        with plainly(book.folder):
            book._sound.write_anew()
        book.set_setting(verify.TURNED_PAGES, None)
        yield Mended(str(book.folder / FILE), "written anew, with all that is in it")


# --- rows -------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Good:
    """A row as it was written; None where the row is good and its seal is what was damaged."""

    row: Row | None
    source: str
    never_was: bool = False
    """Whether there never was such a row, but for a seal whose key was damaged."""


Place = tuple[str, str]
"""A table, and the key of a row in it."""


def _again(book: Book, one: Damage, rows: Mapping[Place, _Good], lookup: Lookup) -> str:
    if (good := rows.get((one.table, one.key))) is not None:
        return good.source
    if one.what == str(book.folder / FILE):
        return REST
    if not one.table and one.key and lookup.original(one.key):
        return lookup.source
    return ""


def _missing(found: Iterable[Damage]) -> set[Place]:
    return {(one.table, one.key) for one in found if one.table}


def _rows_again(db: Database, lookup: Lookup, wanted: Collection[Place]) -> dict[Place, _Good]:
    """Of these rows, those that can be had again."""
    good: dict[Place, _Good] = {}
    columns = seals.tables(db)
    for table in sorted({table for table, _ in wanted} & columns.keys()):
        keys = {key for of, key in wanted if of == table}
        pending = dict.fromkeys(keys)
        remembered = seals.kept(db, table, keys)
        own = {key: _row(db, table, columns[table], key) for key in keys}
        found: dict[str, _Good] = {}
        for key, one in _by_their_seals(db, table, columns[table], own):
            found[key] = one
            pending.pop(key, None)
        for state in lookup.rows(table, pending) if pending else ():
            for key in [key for key in pending if key in state]:
                candidate = state[key]
                checksum = seals.checksum(db, columns[table], candidate)
                if checksum is None:
                    continue
                if checksum == remembered.get(key) or (key not in remembered and own[key] is None):
                    found[key] = _Good(dict(candidate), lookup.source)
                    del pending[key]
                elif own[key] == candidate and _only_its_seal(table, checksum, remembered.get(key)):
                    found[key] = _Good(None, lookup.source)
                    del pending[key]
            if not pending:
                break
        good |= {(table, key): one for key, one in found.items()}
    return good


WRITTEN_ONCE = frozenset({
    "entry_version", "doubt", "closing", "closing_undone", "bid", "house", "utterance", "hearing",
    "step_effect", "step_job",
})  # fmt: skip
"""Tables whose rows are never changed: one that is as a backup has it is as it was written."""


def _only_its_seal(table: str, checksum: int, remembered: int | None) -> bool:
    """Whether a row that a backup has too is good, and what its seal remembers is not.

    A row that may have been changed since could be the one of before; of its seal only one bit may
    have turned then.
    """
    if table in WRITTEN_ONCE or remembered is None:
        return table in WRITTEN_ONCE
    return (checksum ^ remembered).bit_count() == 1


def _by_their_seals(
    db: Database, table: str, columns: seals.Columns, own: Mapping[str, Row | None]
) -> Iterator[tuple[str, _Good]]:
    """Rows of which only the key was damaged, or only the key of their seal: a checksum counts the
    key in, so it tells which."""
    gone = seals.kept(db, table, [key for key, row in own.items() if row is None])
    sealed = seals.kept(db, table, own)
    for at, row in own.items():
        if row is None or at in sealed:
            continue
        checksum = seals.checksum(db, columns, row)
        if checksum in seals.stray(db):
            yield at, _Good(None, BY_ITSELF)
        for key, remembered in gone.items():
            if checksum == remembered:
                yield at, _Good(None, BY_ITSELF)
                yield key, _Good(None, BY_ITSELF, never_was=True)
            turned = _under(key, row, columns)
            if seals.checksum(db, columns, turned) == remembered:
                yield key, _Good(turned, BY_ITSELF)
                yield at, _Good(None, BY_ITSELF, never_was=True)


def _under(key: str, row: Row, columns: seals.Columns) -> Row:
    """The row as it would be under this key."""
    names = [name.strip('"') for _, name in sorted((at, name) for name, _, at in columns if at)]
    values = key.split("|", len(names) - 1)
    turned = dict(row)
    for name, value in zip(names, values, strict=False):
        with suppress(ValueError):
            turned[name] = int(value) if isinstance(row[name], int) else value
    return turned


def _row(db: Database, table: str, columns: seals.Columns, key: str) -> Row | None:
    """A row as it now reads, if it can be read."""
    with suppress(sqlite3.Error, UnicodeDecodeError):
        sql = f"SELECT * FROM {table} NOT INDEXED WHERE {seals.key(columns)} = ?"
        return next(db.query(sql, [key]), None)
    return None


def _mend_rows(book: Book, found: Sequence[Damage], lookup: Lookup) -> Iterator[Mended]:
    names = {(one.table, one.key): one.what for one in found if one.table}
    good = _rows_again(book._db, lookup, names.keys())
    if book._sound.saved:
        yield from _make_whole(book, good, names)
        return
    if not good:
        return
    with plainly(book.folder):
        done = _put_all(book._db, good)
    book._remembered.forget()
    book._sound.look_at_all()
    yield from (Mended(names[place], good[place].source) for place in done)


def _put_all(db: Database, good: Mapping[Place, _Good]) -> list[Place]:
    """Puts rows in their places, all together; where they do not fit together, each that does."""
    try:
        with _unguarded(db):
            for place, one in good.items():
                _put(db, place, one)
        return list(good)
    except sqlite3.IntegrityError:
        done = []
        for place, one in good.items():
            with suppress(sqlite3.IntegrityError), _unguarded(db):
                _put(db, place, one)
                done.append(place)
        return done


@contextmanager
def _unguarded(db: Database) -> Iterator[None]:
    """A transaction in which rows that are never written over may be; what refers to what is looked
    at when it ends."""
    with writing(db):
        guards = db.execute(
            "SELECT name, sql FROM main.sqlite_master WHERE type = 'trigger' ORDER BY rowid"
        ).fetchall()
        for name, _ in guards:
            db.execute(f'DROP TRIGGER main."{name}"')
        db.execute("PRAGMA defer_foreign_keys = ON")
        yield
        for _, sql in guards:
            db.execute(sql)


def _put(db: Database, place: Place, good: _Good) -> None:
    table, key = place
    columns = seals.tables(db)[table]
    row = good.row if good.row is not None else _row(db, table, columns, key)
    if good.never_was:
        seals.forget_gone(db, table, [key])
        row = None
    elif good.row is None and row is not None:
        seals.forget_stray(db, seals.checksum(db, columns, row))
    db.execute(f"DELETE FROM {table} WHERE {seals.key(columns)} = ?", [key])
    if row is not None:
        db.insert(table, {name.strip('"'): row[name.strip('"')] for name, _, _ in columns})
        seals.seal(db, table, key, row)


# --- the file itself --------------------------------------------------------------------------


def _make_whole(
    book: Book, good: Mapping[Place, _Good], names: Mapping[Place, str]
) -> Iterator[Mended]:
    """Puts all that can be read, and what can be had again, in the place of a damaged file.

    The damaged one is kept in `media/damaged`. It is one transaction of SQLite: killed, the file is
    what it was.
    """
    saved = book._sound.db
    saved.execute("PRAGMA query_only = OFF")
    saved.execute("PRAGMA foreign_keys = OFF")
    with plainly(book.folder):
        done = _put_all(saved, good)
        with writing(saved):
            searching.make_anew(saved)
            seals.seal_definitions(saved)
        aside = _kept_aside(book)
        book._sound.write_back()
    yield Mended(str(book.folder / FILE), f"{REST}; the damaged file is kept as {aside}")
    yield from (Mended(names[place], good[place].source) for place in done)


def _kept_aside(book: Book) -> Path:
    folder = book.store / media.DAMAGED
    folder.mkdir(mode=OWNER_ONLY[0], parents=True, exist_ok=True)
    token = token_hex(4)
    for ending in ("", "-wal"):
        source = book.folder / f"{FILE}{ending}"
        if source.exists():
            place = folder / f"book.{token}.sqlite{ending}"
            shutil.copyfile(source, place)
            place.chmod(OWNER_ONLY[1])
    media.settle(folder)
    return folder / f"book.{token}.sqlite"


# --- originals --------------------------------------------------------------------------------


def _mend_originals(
    book: Book, found: Sequence[Damage], lookup: Lookup, files: Sequence[Path]
) -> Iterator[Mended]:
    damaged = {one.key: one.what for one in found if one.key and not one.table}
    if not damaged:
        return
    named = _named(book, damaged, files)
    for sha256, what in damaged.items():
        path = named.get(sha256)
        source = str(path)
        if path is None:
            path = lookup.original(sha256)
            source = lookup.source
        if path is not None:
            with plainly(path):
                verify.heal(book, path, sha256)
            yield Mended(what, source)


def _named(book: Book, damaged: Collection[str], files: Sequence[Path]) -> dict[str, Path]:
    """The files among these, and in these folders, that are the originals."""
    lengths = {one["bytes"] for one in verify.originals(book) if one["sha256"] in damaged}
    found: dict[str, Path] = {}
    for named in files:
        with plainly(named):
            every = sorted(named.rglob("*")) if named.is_dir() else [named]
            for path in every:
                if path.is_file() and path.stat().st_size in lengths:
                    found.setdefault(media.fingerprint(path), path)
    return found
