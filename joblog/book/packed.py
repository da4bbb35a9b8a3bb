"""What a job that came from another book brought with it of the jobs of that book."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import timedelta
from fractions import Fraction

from joblog.book import rows
from joblog.book.store import Book
from joblog.form import from_json
from joblog.model import Job, Layer, Moved
from joblog.stock import Movement, unpriced_in


def with_known_costs(book: Book, job: str, moved: Iterable[Moved]) -> tuple[Moved, ...]:
    """The transfers of a job, each with what it cost as far as that is known.

    What came to it was bought for jobs that are not here: it cost what it did in the book that the
    job was packed in. What went from it is in its own record, but for what it had begun with.
    """
    number = book._job(job)["id"]
    known = {_which(one): one.layers for one in _came(book, "job = ?", number)}
    return tuple(
        replace(one, layers=layers)
        if (layers := known.get(_which(one))) is not None
        and (one.to_job == job or _unknown_of(one.layers) > _unknown_of(layers))
        else one
        for one in moved
    )


def _unknown_of(layers: Sequence[Layer]) -> Fraction:
    undated = (one.quantity for one in layers if one.day is None)
    return unpriced_in(layers) + sum(undated, Fraction(0))


def beside(book: Book) -> tuple[Job, ...]:
    """The jobs that are here only as far as a packed job has to do with them."""
    found = book._legible("job", "SELECT * FROM job WHERE beside ORDER BY id")
    return tuple(map(rows.job_from, found))


def bought_for(book: Book, job: str) -> list[Movement]:
    """What a job that is here only beside others had of what went from it to them: as if it had
    been delivered there right then, so that the ledger hands it on at what it cost."""
    return [
        Movement(
            job, one.item, one.unit, "delivered", layer.quantity, one.at - _RIGHT_BEFORE,
            layer.each, layer.day,
        )
        for one in _came(book, "came LIKE '%from_job%'")
        if one.from_job == job
        for layer in one.layers
    ]  # fmt: skip


_RIGHT_BEFORE = timedelta(microseconds=1)


def _came(book: Book, where: str, *values: object) -> tuple[Moved, ...]:
    found = book._kept("packed_job", f"SELECT * FROM packed_job WHERE {where}", *values)
    return tuple(from_json(Moved, one) for row in found for one in json.loads(row["came"]))


def came_text(moved: Iterable[Moved]) -> str:
    """What came to a job and went from it, as it is kept: where it was told is in the entries."""
    return rows.as_json([replace(one, told=()) for one in moved])


def _which(one: Moved) -> tuple[object, ...]:
    """What tells a transfer from the others. When a job began is not told, but made up."""
    at = None if one.opening else one.at
    return one.item, one.unit, one.quantity, one.from_job, one.to_job, at, one.opening
