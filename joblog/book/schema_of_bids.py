"""The migration that gives a book its bids."""

from __future__ import annotations

from joblog.book.database import Database


def bids(db: Database) -> None:
    """Every version of every bid, whole; that one was taken back stands beside it."""
    for statement in _BIDS.split(";\n\n"):
        db.execute(statement)


_BIDS = """
CREATE TABLE bid (
    id INTEGER PRIMARY KEY,
    job INTEGER NOT NULL REFERENCES job,
    at TEXT NOT NULL,
    content TEXT NOT NULL
) STRICT;

CREATE INDEX bid_of_job ON bid (job, id);

CREATE TRIGGER a_bid_is_never_overwritten BEFORE UPDATE ON bid
BEGIN SELECT RAISE(ABORT, 'a bid is never overwritten'); END;

CREATE TRIGGER a_bid_is_never_deleted BEFORE DELETE ON bid
BEGIN SELECT RAISE(ABORT, 'a bid is never deleted'); END;

CREATE TABLE bid_undone (bid INTEGER PRIMARY KEY REFERENCES bid) STRICT
"""
