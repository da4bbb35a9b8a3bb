"""A seal for every row of the book: a checksum that tells whether the row is as it was written.

SQLite keeps no checksums, so a flipped bit would read as another number. The seals are kept by
triggers that live in the connection alone: whatever writes through joblog is covered, in all
columns that the tables have, and what comes into the file by any other way is noticed.
"""

from __future__ import annotations

import zlib
from collections.abc import Iterable, Mapping, Set
from itertools import chain

from joblog.book import searching
from joblog.book.database import Database

SEALED = "seal"
APART = frozenset({SEALED, "seen_whole", *searching.APART})
"""Tables whose own rows carry no seal."""
DEFINITIONS = "(definitions)"
"""What stands in the place of a table's name in the seal of all the tables' definitions."""

SEAL_TABLE = """
CREATE TABLE seal (
    of TEXT NOT NULL,
    key TEXT NOT NULL,
    checksum INTEGER NOT NULL,
    PRIMARY KEY (of, key)
) STRICT, WITHOUT ROWID
"""


def know(db: Database) -> None:
    """Gives the connection the function that seals are made with."""
    db.conn.create_function("crc32", 1, zlib.crc32, deterministic=True)


def watch(db: Database) -> None:
    """From now on, every row that this connection writes is sealed in the same transaction."""
    if not kept_in(db):
        return
    for table, columns in tables(db).items():
        seal = f"INSERT OR REPLACE INTO seal VALUES ('{table}', {key(columns, 'NEW.')}, "
        seal += f"{_checksum(columns, 'NEW.')});"
        unseal = f"DELETE FROM seal WHERE of = '{table}' AND key = {key(columns, 'OLD.')};"
        for event, does in (("INSERT", seal), ("UPDATE", unseal + seal), ("DELETE", unseal)):
            db.execute(
                f"CREATE TEMP TRIGGER seal_{table}_{event.lower()} AFTER {event} ON main.{table}"
                f" BEGIN {does} END"
            )


def unsound(db: Database, table: str) -> dict[str, bool]:
    """The keys of rows that are not as they were written; True for those that are gone.

    Raises sqlite3.DatabaseError where the table cannot be read to its end.
    """
    columns = tables(db).get(table, ()) if kept_in(db) else ()
    if not columns:
        return {}
    name = key(columns, "held.")
    # Without an index, for an index can be damaged and the rows whole, or the other way round.
    changed = db.execute(
        f"SELECT CAST({name} AS BLOB), checksum FROM {table} held NOT INDEXED LEFT JOIN seal"
        f" ON of = ? AND key = {name} WHERE checksum IS NOT {_checksum(columns, 'held.')}",
        [table],
    ).fetchall()
    found = {_text(row[0]): False for row in changed}
    [(held, seals)] = db.execute(
        f"SELECT (SELECT count(*) FROM {table} NOT INDEXED),"
        " (SELECT count(*) FROM seal WHERE of = ?)",
        [table],
    )
    if held - sum(checksum is None for _, checksum in changed) == seals:
        return found
    gone = db.execute(
        f"SELECT CAST(key AS BLOB) FROM seal WHERE of = ? AND key NOT IN"
        f" (SELECT {name} FROM {table} held NOT INDEXED)",
        [table],
    )
    return found | {_text(row[0]): True for row in gone}


def some(db: Database, table: str, first: int, many: int) -> tuple[int, bool]:
    """Of so many rows of a table, counted from `first`, how many there are, and whether any is not
    as it was written; where they are the last, whether any is gone.

    Raises sqlite3.DatabaseError where the table cannot be read so far.
    """
    columns = tables(db)[table]
    name = key(columns, "held.")
    [(held, hurt)] = db.execute(
        f"SELECT count(*), total(checksum IS NOT {_checksum(columns, 'held.')}) FROM"
        f" (SELECT * FROM {table} NOT INDEXED LIMIT ? OFFSET ?) held"
        f" LEFT JOIN seal ON of = ? AND key = {name}",
        [many, first, table],
    )
    if held < many and not hurt:
        [(hurt,)] = db.execute(
            f"SELECT (SELECT count(*) FROM {table} NOT INDEXED) !="
            " (SELECT count(*) FROM seal WHERE of = ?)",
            [table],
        )
    return held, bool(hurt)


def kept(db: Database, table: str, keys: Iterable[str]) -> dict[str, int]:
    """The checksums that the seals of these rows remember, by their keys."""
    sql = "SELECT checksum FROM seal WHERE of = ? AND key = ?"
    found = ((one, db.execute(sql, [table, one]).fetchone()) for one in keys)
    return {one: row[0] for one, row in found if row is not None}


def checksum(db: Database, columns: Columns, row: Mapping[str, object]) -> int | None:
    """What the seal of such a row would be; None where it lacks a column."""
    names = [name.strip('"') for name, _, _ in columns]
    if not row.keys() >= set(names):
        return None
    given = ", ".join(f'? AS "{name}"' for name in names)
    sql = f"SELECT {_checksum(columns)} FROM (SELECT {given})"
    [(found,)] = db.execute(sql, [row[name] for name in names])
    return int(found)


def is_sound(columns: Columns, table: str) -> str:
    """The condition, in SQL, of a row that is as it was written."""
    return (
        f"{_checksum(columns)} = (SELECT checksum FROM seal WHERE of = '{table}'"
        f" AND seal.key = {key(columns)})"
    )


def definitions_changed(db: Database) -> bool:
    """Whether the tables' definitions are not as they were written."""
    if not kept_in(db):
        return False
    kept = db.execute("SELECT checksum FROM seal WHERE of = ?", [DEFINITIONS]).fetchone()
    return kept is None or kept[0] != _definitions(db)


def seal(db: Database, table: str, key: str, row: Mapping[str, object]) -> None:
    """Seals a row, under this key, as it is given."""
    found = checksum(db, tables(db)[table], row)
    db.execute("INSERT OR REPLACE INTO seal VALUES (?, ?, ?)", [table, key, found])


def seal_all(db: Database, but: Mapping[str, Set[str]] | None = None) -> None:
    """Seals every row as it now is, in all its columns, but those rows, which stay as they were."""
    if not kept_in(db):
        return
    spared = but or {}
    for table, columns in tables(db).items():
        old = db.execute("SELECT key, checksum FROM seal WHERE of = ?", [table]).fetchall()
        db.execute("DELETE FROM seal WHERE of = ?", [table])
        db.execute(
            f"INSERT INTO seal SELECT '{table}', {key(columns)}, {_checksum(columns)}"
            f" FROM {table} NOT INDEXED"
        )
        known = dict(old)
        for one in spared.get(table, ()):
            wrong = known.get(
                one, -1
            )  # No checksum is below zero: a row that had no seal has none.
            db.execute("INSERT OR REPLACE INTO seal VALUES (?, ?, ?)", [table, one, wrong])
    seal_definitions(db)


def seal_definitions(db: Database) -> None:
    """Seals the tables' definitions as they now are."""
    db.execute("DELETE FROM seal WHERE of = ?", [DEFINITIONS])
    db.execute("INSERT INTO seal VALUES (?, '', ?)", [DEFINITIONS, _definitions(db)])


def stray(db: Database) -> set[int]:
    """The checksums of seals that are of no table: what they are of was damaged."""
    return {row[0] for row in db.execute(f"SELECT checksum FROM seal WHERE {_STRAY}")}


def forget_stray(db: Database, checksum: int | None) -> None:
    """Drops such a seal, once the row that it was of is sealed again."""
    db.execute(f"DELETE FROM seal WHERE checksum = ? AND {_STRAY}", [checksum])


_TABLES = "SELECT name FROM main.sqlite_master WHERE type = 'table'"
_STRAY = f"of != '{DEFINITIONS}' AND of NOT IN ({_TABLES})"


def all_unsound(db: Database) -> dict[str, dict[str, bool]]:
    """`unsound` of every table that has such rows."""
    return {table: found for table in tables(db) if (found := unsound(db, table))}


def forget_gone(db: Database, table: str, keys: Iterable[str]) -> None:
    """Drops the seals of rows that are gone, where others take the place of the whole."""
    for one in keys:
        db.execute("DELETE FROM seal WHERE of = ? AND key = ?", [table, one])


Columns = tuple[tuple[str, bool, int], ...]
"""Each column's name, whether it is REAL, and its place in the primary key, 0 for none."""


def tables(db: Database) -> dict[str, Columns]:
    """The sealed tables with their columns."""
    names = db.execute(
        "SELECT name FROM main.sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite%'"
    ).fetchall()
    return {
        name: tuple(
            (f'"{column[1]}"', column[2] == "REAL", column[5])
            for column in db.execute(f"PRAGMA main.table_info({name})")
        )
        for (name,) in names
        if name not in APART
    }


def with_their_seals(db: Database) -> dict[str, Columns]:
    """The same, and the table of the seals by its key, where there is one."""
    own: dict[str, Columns] = (
        {SEALED: (('"of"', False, 1), ('"key"', False, 2))} if kept_in(db) else {}
    )
    return tables(db) | own


def key(columns: Columns, of: str = "") -> str:
    """The SQL for a row's key: its primary key, the parts joined by a bar."""
    parts = sorted((place, name) for name, _, place in columns if place)
    return "||'|'||".join(f"CAST({of}{name} AS TEXT)" for _, name in parts)


def _checksum(columns: Columns, of: str = "") -> str:
    """The SQL for a row's checksum.

    A REAL counts to its ninth decimal place, because versions of SQLite write its last digits
    differently; exact numbers are text, and count in full.
    """
    cells = (
        f"CAST({of}{name} * 1000000000 AS INTEGER)" if real else f"{of}{name}"
        for name, real, _ in columns
    )
    joined = "||char(31)||".join(f"coalesce(CAST({cell} AS TEXT), char(30))" for cell in cells)
    return f"crc32(CAST({joined} AS BLOB))"


def _definitions(db: Database) -> int:
    # The index of the search comes and goes with the SQLite that is at hand.
    written = db.execute(
        "SELECT type, name, tbl_name, sql FROM main.sqlite_master"
        " WHERE tbl_name NOT GLOB 'said_words*' ORDER BY 1, 2"
    )
    return zlib.crc32("\n".join(map(str, chain(*written))).encode())


def kept_in(db: Database) -> bool:
    """Whether the book is of a version that seals its rows."""
    found = db.execute("SELECT 1 FROM main.sqlite_master WHERE name = ?", [SEALED])
    return found.fetchone() is not None


def _text(value: bytes | None) -> str:
    return (value or b"").decode("utf-8", "replace")
