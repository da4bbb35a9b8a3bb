"""Everything that a folder holds: rows of its books by table, and files by their bytes."""

from __future__ import annotations

import hashlib
import re
import sqlite3
from collections import Counter
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Literal

Outcome = Literal["same", "left over", "lost", "doubled", "different"]
Row = tuple[Any, ...]

BESIDE = (".lock", "-shm", "-wal", ".stock", ".seen", ".pages", ".backups")
"""Endings of files that hold nothing of a person's: locks, what SQLite makes anew, and how the
stock stood and which originals were looked at, which is worked out again where it is not there."""
SHADOWS = re.compile(r"_(data|idx|docsize|config|content)$")
"""Tables of the full-text search that depend on how it was written, and not only on what."""
APART = frozenset({"seen_whole", "repeat"})
"""Tables that tell when an original was looked at, which a second run does once more, and which run
told what, which the next one clears away."""
NAMES = "backups it went on from"
"""A setting with a name by chance of each backup that was begun, a killed one's as well."""
RANDOM = re.compile(
    r"UTC [0-9a-f]{16}\.|\b[0-9a-f]{8}-?[0-9a-f]{4}-?[0-9a-f]{4}-?[0-9a-f]{4}-?[0-9a-f]{12}\b"
)
"""An identity that a new book draws for itself, and what a state of a backup is named after."""


@dataclass(frozen=True, slots=True)
class State:
    """Rows by book and table, each with how often it is there, and files by their paths."""

    rows: dict[str, Counter[Row]]
    files: dict[str, str]

    def digest(self) -> bytes:
        """The same for the same rows and files."""
        rows = [
            (table, sorted(map(repr, told.items()))) for table, told in sorted(self.rows.items())
        ]
        return hashlib.sha256(repr((rows, sorted(self.files.items()))).encode()).digest()


ASIDE = "book/listening/cut off/"
"""Where halves of what was being said are kept."""


BACKUP = "stick/"
"""Where backups are kept: what of it counts is what is restored from it. Only what was passing is
looked for there."""
PASSING = re.compile(r"/passing/|\.restoring/|(^|/)\.[0-9a-f]{12}\.[0-9]+\.part/")
"""Folders of what is not whole yet: whoever does the same again clears them away."""


PASSED = re.compile(r"(^|/)\.[0-9a-f]{12}\.[0-9]+\.part(/|$)")
"""The passing names of what takes its own when it is whole."""


def state(world: Path) -> State:
    """What a folder and the books in it hold. Raises sqlite3.Error for a book that is broken."""
    rows: dict[str, Counter[Row]] = {}
    files: dict[str, str] = {}
    for path in sorted(world.rglob("*")):
        name = path.relative_to(world).as_posix()
        if not path.is_file() or path.name.endswith(BESIDE) or name.startswith(ASIDE):
            continue
        if PASSING.search(name) or (name.startswith(BACKUP) and path.suffix != ".part"):
            continue
        if path.suffix == ".sqlite":
            rows.update({f"{name} {table}": told for table, told in _rows(path).items()})
        else:
            files[name] = hashlib.sha256(path.read_bytes()).hexdigest()
    return State(rows, files)


def _rows(path: Path) -> dict[str, Counter[Row]]:
    with closing(sqlite3.connect(path)) as book:
        found = book.execute("SELECT name FROM sqlite_master WHERE type = 'table' ORDER BY name")
        names = [name for (name,) in found if not SHADOWS.search(name) and name not in APART]
        rows = {name: book.execute(f'SELECT * FROM "{name}"').fetchall() for name in names}
    # A seal names the table of its row first.
    return {
        name: Counter(
            _normal(row)
            for row in told
            if not (name == "seal" and _is_apart(row)) and tuple(row[:1]) != (NAMES,)
        )
        for name, told in rows.items()
    }


def _is_apart(seal: Row) -> bool:
    """Whether it seals a row that is not compared, or the identity of a book."""
    return seal[0] in APART or tuple(seal[:2]) in {
        ("setting", one) for one in ("book", "backups", NAMES)
    }


def _normal(row: Row) -> Row:
    return tuple(RANDOM.sub("~", one) if isinstance(one, str) else one for one in row)


def whole(world: Path) -> list[str]:
    """What SQLite itself finds wrong in the books of a folder."""
    wrong = []
    for path in sorted(world.rglob("book.sqlite")):
        if PASSING.search(path.relative_to(world).as_posix()):
            continue
        with closing(sqlite3.connect(path)) as book:
            wrong += [line for (line,) in book.execute("PRAGMA integrity_check") if line != "ok"]
    return wrong


def outcome(expected: State, found: State) -> tuple[Outcome, str]:
    """How what was found differs, and where, in a line.

    Lost is where there are fewer rows or files than there should be, doubled where there are more,
    and different where there are as many. Left over is where all is as it should be, but a hidden
    file of what was being written lies beside it.
    """
    missing = {
        table: expected.rows[table] - found.rows.get(table, Counter()) for table in expected.rows
    }
    added = {table: found.rows[table] - expected.rows.get(table, Counter()) for table in found.rows}
    gone = expected.files.keys() - found.files.keys()
    new = found.files.keys() - expected.files.keys()
    changed = [name for name in expected.files if found.files.get(name, "") != expected.files[name]]
    fewer = {
        table for table in missing if missing[table].total() > added.get(table, Counter()).total()
    }
    more = {
        table for table in added if added[table].total() > missing.get(table, Counter()).total()
    }
    where = [
        f"{table}: -{missing.get(table, Counter()).total()} +{added.get(table, Counter()).total()}"
        f" {_first(missing.get(table), added.get(table))}"
        for table in sorted({*missing, *added})
        if missing.get(table) or added.get(table)
    ]
    where += [f"no {name}" for name in sorted(gone)] + [f"also {name}" for name in sorted(new)]
    where += [f"other bytes in {name}" for name in changed if name not in gone]
    if fewer or gone:
        return "lost", "; ".join(where)
    if new and not (more or changed) and all(PASSED.search(name) for name in new):
        return "left over", "; ".join(where)
    if more or new:
        return "doubled", "; ".join(where)
    return ("different" if where else "same"), "; ".join(where)


def _first(*rows: Counter[Row] | None) -> str:
    return " / ".join(str(next(iter(some)))[:150] for some in rows if some)
