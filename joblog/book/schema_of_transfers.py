"""What finds transfers among all entries: few are any, and every closed job asks for its own."""

from __future__ import annotations

from joblog.book.database import Database

MOVED = """substr(content, 1, 16) = '{"kind": "moved"'"""
"""The condition of a version that tells of a transfer, as `rows.content` writes it."""


def transfers(db: Database) -> None:
    """An index of the versions that tell of a transfer."""
    db.execute(f"CREATE INDEX version_moved ON entry_version (entry) WHERE {MOVED}")
