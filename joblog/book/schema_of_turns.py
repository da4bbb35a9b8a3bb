"""The migration that lets the history say when a step was taken back, and when done again."""

from __future__ import annotations

from joblog.book.database import Database


def turns(db: Database) -> None:
    """Each time that a step was taken back or done again. Of earlier times nobody kept when."""
    db.execute(
        "CREATE TABLE step_turn (id INTEGER PRIMARY KEY, step INTEGER NOT NULL REFERENCES step,"
        " at TEXT NOT NULL, who TEXT NOT NULL, undone INTEGER NOT NULL CHECK (undone IN (0, 1)))"
        " STRICT"
    )
    db.execute("CREATE INDEX step_turn_of_step ON step_turn (step)")
