"""The task that a planned item goes up with, by which the plan allows more or less of it."""

from __future__ import annotations

from joblog.book.database import Database


def tasks_of_items(db: Database) -> None:
    """A plan of before says of no item which task it goes up with."""
    db.execute("ALTER TABLE planned_item ADD COLUMN task TEXT NOT NULL DEFAULT ''")
