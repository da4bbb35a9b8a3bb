"""What a job that came from another book brought with it of the jobs of that book."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import replace

from joblog.book import rows
from joblog.book.store import Book
from joblog.form import from_json
from joblog.model import Moved


def with_known_costs(book: Book, job: str, moved: Iterable[Moved]) -> tuple[Moved, ...]:
    """The transfers of a job, each with what it cost in the book that the job was packed in: the
    deliveries that it was bought with are not here."""
    known = {_which(one): one.layers for one in _came(book, job)}
    return tuple(
        one if (layers := known.get(_which(one))) is None else replace(one, layers=layers)
        for one in moved
    )


def _came(book: Book, job: str) -> tuple[Moved, ...]:
    found = book._kept("packed_job", "SELECT * FROM packed_job WHERE job = ?", book._job(job)["id"])
    return tuple(from_json(Moved, one) for row in found for one in json.loads(row["came"]))


def came_text(moved: Iterable[Moved]) -> str:
    """What came to a job and went from it, as it is kept: where it was told is in the entries."""
    return rows.as_json([replace(one, told=()) for one in moved])


def _which(one: Moved) -> tuple[object, ...]:
    """What tells a transfer from the others. When a job began is not told, but made up."""
    at = None if one.opening else one.at
    return one.item, one.unit, one.quantity, one.from_job, one.to_job, at, one.opening
