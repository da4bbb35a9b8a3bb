"""A pack, read into a book of its own in memory: what its rows refer to is there, what they hold
can be read, and one of an older joblog is brought up to date as its book would be."""

from __future__ import annotations

import json
import re
import sqlite3
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime
from functools import cache
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from joblog.book import media, rows, schema, schema_of_packs, seals, searching
from joblog.book.closing import footings_from, taught_from
from joblog.book.database import Database
from joblog.book.rows import Row
from joblog.form import from_json
from joblog.model import Bid, House, Moved, Plan, Reconciliation
from joblog.packing import file as files
from joblog.packing.columns import SORTS, TABLES, Turn
from joblog.packing.file import PackFile
from joblog.packing.gather import Rows, gather
from joblog.packing.nouns import FORM, Head, PackError
from joblog.packing.pack import BESIDE, CATALOG, PACKED
from joblog.packing.state import Shared, State, digest, shared, state


@dataclass(frozen=True, slots=True)
class Loaded:
    """A pack that was verified and read."""

    file: PackFile
    head: Head
    found: Rows
    known: Shared
    state: State
    been: frozenset[str]
    """Marks of states that the job had in the book that packed it."""
    last: str | None
    """The mark of the last of them that it had when a pack was taken in there."""
    lines: Mapping[str, list[Row]]
    """The lines of the catalog that it names, by "item" and "task"."""
    came: list[Any]
    closed: Mapping[int, str]
    """When other jobs were closed, by their numbers in the pack."""

    @property
    def origin(self) -> tuple[str, int]:
        """The book that the job was begun in, and its number there."""
        return self.known.origin("job", self.head.job)


@contextmanager
def loaded(path: Path) -> Iterator[Loaded]:
    """A pack, open; every byte of it was read, and every row. Raises `PackError`."""
    with files.opened(path) as file:
        with legible(path, sqlite3.Error, OSError):
            pack = _loaded(file)
        yield pack


def _loaded(file: PackFile) -> Loaded:
    head = head_of(file)
    db = _rows_in_memory(file, head)
    try:
        found = gather(db, head.job)
        known = shared(db, head.book)
        states = sorted(
            db.query("SELECT * FROM packed_state WHERE job = ?", [head.job]),
            key=lambda row: row["at"],
        )
        lines = {sort: _lines(db, table) for sort, table in CATALOG.items()}
    finally:
        db.close()
    for table, held in found.items():
        for row in held:
            _read(table, row)
    for sort, table in CATALOG.items():
        for row in lines[sort]:
            _read(table, row)
    if found["job"][0]["name"] != head.name:
        raise ValueError("another name")
    _must_fit(found, file)
    _must_refer(found)
    of_job = state(found, known)
    if digest(of_job) != head.digest and head.schema == len(schema.MIGRATIONS):
        raise ValueError("another digest")
    [beside] = file.lines(f"{files.ROWS}{BESIDE}.jsonl") or [{"came": [], "closed": []}]
    return Loaded(
        file,
        head,
        found,
        known,
        of_job,
        frozenset(row[name] for row in states for name in ("digest", "stands")),
        states[-1]["stands"] if states else None,
        lines,
        [json.loads(rows.as_json(from_json(Moved, one))) for one in beside["came"]],
        {int(number): _moment(at) for number, at in beside["closed"]},
    )


def origin_of(path: Path) -> tuple[str, int]:
    """Of which job a file is a pack: the book that it was begun in, and its number there."""
    with files.opened(path) as file, legible(path, sqlite3.Error, OSError):
        head = head_of(file)
        for row in file.lines("rows/packed_job.jsonl"):
            if row["job"] == head.job:
                return str(row["book"]), int(row["number"])
        return head.book, head.job


def head_of(file: PackFile) -> Head:
    """What a pack says of itself; `PackError` where it is of a newer joblog."""
    told = file.head
    if not isinstance(told.get("form"), int) or not isinstance(told.get("schema"), int):
        raise ValueError("no form")
    if told["form"] > FORM or told["schema"] > len(schema.MIGRATIONS):
        raise PackError(
            f"{file.path}: was packed by a newer joblog ({str(told.get('joblog'))[:20]!r})."
            " Nothing was changed; install the newer joblog."
        )
    if told["schema"] <= schema.MIGRATIONS.index(schema_of_packs.packs) or told["form"] < 1:
        raise ValueError("older than packs")
    if not (_ID.fullmatch(told["book"]) and isinstance(told["job"], int) and told["job"] > 0):
        raise ValueError("no book or job")
    _name(told["name"])
    return Head(
        told["form"], told["joblog"], told["schema"], told["book"], told["job"], told["name"],
        datetime.fromisoformat(_moment(told["packed_at"])), told["digest"],
    )  # fmt: skip


_ID = re.compile(r"[0-9a-f]{32}")


def _rows_in_memory(file: PackFile, head: Head) -> Database:
    """A book of the version of the pack with its rows in it, brought up to date."""
    db = Database(":memory:")
    try:
        seals.know(db)
        searching.know(db)
        _empty(head.schema).backup(db.conn)
        with schema.writing(db):
            for table in (*TABLES, *PACKED, *CATALOG.values()):
                held = file.lines(f"{files.ROWS}{table}.jsonl")
                columns = {one["name"] for one in db.query(f"PRAGMA table_info({table})")}
                if not all(row.keys() <= columns for row in held):
                    raise ValueError("no such column")
                if table == "setting":
                    db.execute("DELETE FROM setting")
                db.insert_all(table, held)
        if db.execute("PRAGMA foreign_key_check").fetchone() is not None:
            raise ValueError("refers to what is not there")
        if head.schema < len(schema.MIGRATIONS):
            seals.seal_all(db)
            schema.migrate(db)
    except BaseException:
        db.close()
        raise
    return db


@cache
def _empty(version: int) -> sqlite3.Connection:
    """A book of that version with nothing in it; made once, for that takes as long as the rest."""
    from sqlite_utils import Database as Tables

    db = Database(sqlite3.connect(":memory:", check_same_thread=False))
    seals.know(db)
    searching.know(db)
    tables: Any = Tables(db.conn, recursive_triggers=False, execute_plugins=False)
    with schema.writing(db):
        for migration in schema.MIGRATIONS[:version]:
            migration(tables)
        db.execute(f"PRAGMA user_version = {version}")
    return db.conn


def _lines(db: Database, table: str) -> list[Row]:
    return [*db.query(f"SELECT * FROM {table} ORDER BY ordinal")]


# --- whether it can be read -------------------------------------------------------------------


def _read(table: str, row: Row) -> None:
    """Reads a row as joblog will; raises whatever that raises."""
    for column, held in row.items():
        if column in _MOMENTS and held is not None:
            _moment(held)
        elif column == "day" and date.fromisoformat(held).isoformat() != held:
            raise ValueError(f"no day: {held!r}")
    for column, kinds in _LISTS.get(table, {}).items():
        for one in json.loads(row[column]):
            cells = one if isinstance(one, list) else [one]
            if len(cells) > len(kinds) or not all(map(isinstance, cells, kinds)):
                raise TypeError(f"no {column}: {one!r}")
    if table in _READ:
        _READ[table](row)


_NUMBER = (int, float, type(None))
_LISTS: Mapping[str, Mapping[str, tuple[Any, ...]]] = {
    "job": {"places": (str,)},
    "planned_item": {"spoken": (str,), "also": (str, str)},
    "planned_task": {"spoken": (str,)},
    "catalog_item": {"spoken": (str,), "also": (str, str)},
    "catalog_task": {"spoken": (str,)},
    "hearing": {"words": (str, *[_NUMBER] * 3), "alternatives": (str, _NUMBER)},
    "utterance": {"scored": (str, *[_NUMBER] * 3)},
    "photo": {"remarks": (str,)},
    "track": {"points": (_NUMBER,) * 5},
}
"""Columns that hold lists as JSON, and of what each line in them is."""


_MOMENTS = frozenset({"at", "changed_at", "closed_at", "made_at", "taken_at", "around"})


def _moment(text: str) -> str:
    if rows.moment_text(datetime.fromisoformat(text)) != text:
        raise ValueError(f"no moment: {text!r}")
    return text


def _name(text: str) -> str:
    if not text.strip() or len(text) > LONGEST_NAME or not text.isprintable():
        raise ValueError(f"no name: {text!r}")
    return text


LONGEST_NAME = 500


def _job(row: Row) -> None:
    ZoneInfo(_name(rows.job_from(row).zone))
    _name(row["name"])


def _closing(row: Row) -> None:
    from_json(Plan, json.loads(row["plan"]))
    from_json(Reconciliation, json.loads(row["figures"]))
    taught_from("", date.fromisoformat(row["day"]), row["taught"])
    footings_from(row["rests_on"])


def _entry_version(row: Row) -> None:
    moment = datetime.now(UTC).isoformat()
    asked = (moment, row["content"], row["standing"], row["change"], moment, row["said"])
    rows.entry_of(row["entry"], row["version"], (), *asked, None, row["origin"])


def _track(row: Row) -> None:
    from joblog.book.ground import _track_from

    _track_from(row)


_READ: Mapping[str, Callable[[Row], object]] = {
    "job": _job,
    "planned_item": rows.planned_item_from,
    "planned_task": rows.planned_task_from,
    "catalog_item": rows.item_from,
    "catalog_task": rows.task_from,
    "recording": rows.recording_from,
    "utterance": lambda row: rows.utterance_from(row, ()),
    "hearing": rows.hearing_from,
    "entry_version": _entry_version,
    "photo": rows.photo_from,
    "tie": rows.tie_from,
    "clock": rows.clock_from,
    "track": _track,
    "closing": _closing,
    "bid": lambda row: from_json(Bid, json.loads(row["content"])),
    "house": lambda row: from_json(House, json.loads(row["content"])),
    "setting": lambda row: int(row["value"]),
}


def _must_fit(found: Rows, file: PackFile) -> None:
    """Raises ValueError where versions are missing, or originals are others than the rows tell."""
    versions: dict[int, list[int]] = {row["id"]: [] for row in found["entry"]}
    for row in found["entry_version"]:
        versions[row["entry"]].append(row["version"])
    if any(sorted(held) != [*range(1, len(held) + 1)] or not held for held in versions.values()):
        raise ValueError("versions are missing")
    told = {row["sha256"]: row["bytes"] for table in media.TABLES for row in found[table]}
    if any(told.get(sha256) != size for sha256, size in file.originals().items()):
        raise ValueError("other originals")
    if any(not _SHA256.fullmatch(sha256) for sha256 in told):
        raise ValueError("no SHA-256")
    if any(row["sort"] not in SORTS for row in found.get("packed_row", ())):
        raise ValueError("no sort of row")


def _must_refer(found: Rows) -> None:
    """Raises LookupError where a row names one, in a column or inside a text, that is not there."""
    there = {sort: {row["id"] for row in found[sort]} for sort in (*SORTS, "utterance")}
    there["undone"] = {row["undone"] for row in found["step"]}

    def number(sort: str, one: int) -> int:
        if one not in there[sort]:
            raise LookupError(f"there is no {sort} {one}")
        return one

    turn = Turn(number, lambda name: name)
    for name, table in TABLES.items():
        for row in found[name]:
            table.turned(row, turn)


_SHA256 = re.compile(r"[0-9a-f]{64}")


_ILLEGIBLE: tuple[type[Exception], ...] = (
    ArithmeticError, LookupError, ValueError, TypeError, AttributeError, AssertionError,
    RecursionError,
)  # fmt: skip


@contextmanager
def legible(path: Path, *more: type[Exception]) -> Iterator[None]:
    """Whatever the rows of a pack do to who reads them, these errors too, as one plain line."""
    caught: tuple[type[Exception], ...] = (*_ILLEGIBLE, *more)
    try:
        yield
    except PackError:
        raise
    except caught as error:
        raise PackError(
            f"{path}: does not hold together; it is damaged, or joblog did not write it."
            " Nothing was changed; get it again."
        ) from error
