"""The migration that lets jobs travel between books: each book has an id, each job that came from
another one knows where it comes from."""

from __future__ import annotations

from uuid import uuid4

from joblog.book.database import Database

BOOK = "book"
"""The setting that holds the id of the book; a copy of the book has the same."""


def packs(db: Database) -> None:
    """An id for the book, and where jobs and rows that were packed in another one come from."""
    for statement in _PACKS.split(";\n\n"):
        db.execute(statement)
    db.execute("INSERT OR IGNORE INTO setting VALUES (?, ?)", [BOOK, uuid4().hex])


_PACKS = """
ALTER TABLE job ADD COLUMN beside INTEGER NOT NULL DEFAULT 0 CHECK (beside IN (0, 1));

CREATE TABLE packed_job (
    job INTEGER PRIMARY KEY REFERENCES job,
    book TEXT NOT NULL,
    number INTEGER NOT NULL,
    name TEXT NOT NULL,
    closed TEXT,
    came TEXT NOT NULL DEFAULT '[]',
    UNIQUE (book, number)
) STRICT;

CREATE TABLE packed_row (
    sort TEXT NOT NULL,
    number INTEGER NOT NULL,
    book TEXT NOT NULL,
    number_there INTEGER NOT NULL,
    PRIMARY KEY (sort, number),
    UNIQUE (sort, book, number_there)
) STRICT, WITHOUT ROWID;

CREATE TABLE packed_state (
    job INTEGER NOT NULL REFERENCES job,
    digest TEXT NOT NULL,
    stands TEXT NOT NULL,
    at TEXT NOT NULL,
    packed_at TEXT NOT NULL,
    packed_by TEXT NOT NULL,
    PRIMARY KEY (job, digest)
) STRICT, WITHOUT ROWID
"""
