"""Walks that are told line by line, written down in a book of their own."""

from __future__ import annotations

import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path

from joblog.book import Book
from joblog.house.dictated import Dictated, house_told
from joblog.model import BookEntry, Job, Plan
from joblog.service.desk import Desk
from joblog.service.taking_in import write_down
from tests.bench.corpus import words

AT = datetime(2026, 10, 5, 9, tzinfo=UTC)


@contextmanager
def written(*lines: str) -> Iterator[tuple[Desk, tuple[BookEntry, ...]]]:
    """The desk of a job in which each line was written down, and its entries."""
    with tempfile.TemporaryDirectory() as folder, Book.create(Path(folder) / "book") as book:
        job = Job("walk", "UTC")
        book.add_job(job)
        desk = Desk(book, job, Plan(), book.catalog(), words())
        for line in lines:
            write_down(desk, line, AT)
        yield desk, tuple(book.entries(job.name))


def told(*lines: str) -> Dictated:
    """The house that these lines tell."""
    with written(*lines) as (_, entries):
        return house_told(entries)


def whys(found: Dictated) -> Sequence[str]:
    return [problem.why for problem in found.problems]
