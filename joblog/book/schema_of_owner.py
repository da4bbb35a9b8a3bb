"""A book is closed, once, to all but its owner; who opens it to others later is left alone."""

from __future__ import annotations

from pathlib import Path

from joblog.book import owner
from joblog.book.database import Database


def owner_only(db: Database) -> None:
    """Changes no table: what it changes is who may read the files."""
    for _, name, file in db.execute("PRAGMA database_list"):
        if name == "main" and file and owner.close_to_others(folder := Path(file).parent):
            owner.closed.append(folder)
