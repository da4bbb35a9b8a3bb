"""The migration that gives a book the houses of its jobs."""

from __future__ import annotations

from joblog.book.database import Database


def houses(db: Database) -> None:
    """Every version of every house, whole; that one was taken back stands beside it."""
    for statement in _HOUSES.split(";\n\n"):
        db.execute(statement)


_HOUSES = """
CREATE TABLE house (
    id INTEGER PRIMARY KEY,
    job INTEGER NOT NULL REFERENCES job,
    at TEXT NOT NULL,
    content TEXT NOT NULL
) STRICT;

CREATE INDEX house_of_job ON house (job, id);

CREATE TRIGGER a_house_is_never_overwritten BEFORE UPDATE ON house
BEGIN SELECT RAISE(ABORT, 'a house is never overwritten'); END;

CREATE TRIGGER a_house_is_never_deleted BEFORE DELETE ON house
BEGIN SELECT RAISE(ABORT, 'a house is never deleted'); END;

CREATE TABLE house_undone (house INTEGER PRIMARY KEY REFERENCES house) STRICT
"""
