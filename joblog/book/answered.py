"""What a person made of entries: as they were seen, and as he decided them to be."""

from __future__ import annotations

import json

from joblog.book.steps import YOU
from joblog.book.store import Book
from joblog.form import entry_from_json
from joblog.model import Entry


def changes_decided(book: Book) -> tuple[tuple[Entry, Entry], ...]:
    """Every entry that a person changed, in all jobs, before and after; none that was undone."""
    found = book._rows(
        "SELECT old.content AS old, new.content AS new FROM step"
        " JOIN step_effect ON step = step.id AND noun LIKE 'entry %' AND before IS NOT NULL"
        " JOIN entry_version new ON new.entry = CAST(substr(noun, 7) AS INTEGER)"
        "  AND new.version = CAST(after AS INTEGER) AND new.change IN ('corrected', 'edited')"
        " JOIN entry_version old ON old.entry = new.entry AND old.version = CAST(before AS INTEGER)"
        " WHERE who = ? AND undone IS NULL ORDER BY step.id",
        YOU,
    )
    return tuple((_entry(row["old"]), _entry(row["new"])) for row in found)


def _entry(content: str) -> Entry:
    return entry_from_json(json.loads(content))
