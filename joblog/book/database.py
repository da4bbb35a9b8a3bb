"""A SQLite database whose rows come as dicts by name."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Mapping, Sequence
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
        names = ", ".join(f'"{name}"' for name in row)
        marks = ", ".join("?" * len(row))
        put = "INSERT OR REPLACE" if replace else "INSERT"
        sql = f"{put} INTO {table} ({names}) VALUES ({marks})"
        return int(self.execute(sql, tuple(row.values())).lastrowid or 0)

    def rollback(self) -> None:
        self.conn.rollback()

    def close(self) -> None:
        self.conn.close()
