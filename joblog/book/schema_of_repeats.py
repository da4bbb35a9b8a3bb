"""What runs of commands decided that were killed before they could say so."""

from __future__ import annotations

from joblog.book.database import Database


def repeats(db: Database) -> None:
    """A mark for every run that has decided and not yet said so; it goes when the run ends."""
    db.execute(
        "CREATE TABLE repeat (run TEXT PRIMARY KEY, words TEXT NOT NULL, at TEXT NOT NULL,"
        " status INTEGER NOT NULL, told TEXT NOT NULL) STRICT, WITHOUT ROWID"
    )
