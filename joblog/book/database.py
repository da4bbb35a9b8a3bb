"""A SQLite database whose rows come as dicts by name."""

from __future__ import annotations

import sqlite3
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from itertools import groupby
from pathlib import Path
from typing import Any

Row = dict[str, Any]
Values = Sequence[Any] | Mapping[str, Any]


class Database:
    """A connection and what the book asks of it. Raises sqlite3.Error."""

    def __init__(self, at: Path | str | sqlite3.Connection) -> None:
        self.conn = at if isinstance(at, sqlite3.Connection) else sqlite3.connect(at)
        # Transactions begin where the book says so, and nowhere else.
        self.conn.isolation_level = None
        # A SQLite may be built with them on, and the seals' triggers must not set off themselves.
        self.conn.execute("PRAGMA recursive_triggers = OFF")
        # What is sorted is of the book, and must not lie in a folder that others share.
        self.conn.execute("PRAGMA temp_store = MEMORY")

    def execute(self, sql: str, values: Values = ()) -> sqlite3.Cursor:
        return self.conn.execute(sql, values)

    def query(self, sql: str, values: Values = ()) -> Iterator[Row]:
        """The rows, one by one."""
        cursor = self.execute(sql, values)
        names = [column[0] for column in cursor.description]
        for row in cursor:
            yield dict(zip(names, row, strict=True))

    def insert(self, table: str, row: Row, *, replace: bool = False) -> int:
        """The row's number, where the table numbers its rows."""
        sql = _inserting(table, row.keys(), "INSERT OR REPLACE" if replace else "INSERT")
        return int(self.execute(sql, tuple(row.values())).lastrowid or 0)

    def insert_all(self, table: str, rows: Iterable[Row]) -> None:
        """The same of many, in their order."""
        for names, alike in groupby(rows, key=tuple):
            sql = _inserting(table, names, "INSERT")
            self.conn.executemany(sql, [tuple(row.values()) for row in alike])

    def rollback(self) -> None:
        self.conn.rollback()

    def close(self) -> None:
        self.conn.close()


def _inserting(table: str, names: Collection[str], put: str) -> str:
    quoted = ", ".join(f'"{name}"' for name in names)
    marks = ", ".join("?" * len(names))
    return f"{put} INTO {table} ({quoted}) VALUES ({marks})"
