"""How long the book of a large job takes to write, and how large it is.

    python -m tests.bench.papers [--photos N] [--entries N] [--distinct N]

Makes a job of ten days with that many entries and photos of 12 megapixels, and writes its book as
a page and as PDF, with a picture of every photo, also of those that are alike. Goal: 500 photos and
3,000 entries stay under 25 MB each.
"""

from __future__ import annotations

import argparse
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta
from fractions import Fraction
from pathlib import Path
from unittest.mock import patch
from zoneinfo import ZoneInfo

import psutil

from joblog.book import Book, decisions
from joblog.book.intake import take_in
from joblog.model import Entry, Item, Job, Plan, PlannedItem, Reading
from joblog.papers.html import as_html
from joblog.papers.pdf import as_pdf
from joblog.service import open_desk
from joblog.service.papers import paper_of
from tests.bench.photo_intake import make

JOB = Job("bench", "America/New_York", ("north eave",))
DAYS = 10
PANEL = Item("soffit panel", "sheet")


def main() -> None:
    arguments = argparse.ArgumentParser("tests.bench.papers", description=__doc__)
    arguments.formatter_class = argparse.RawDescriptionHelpFormatter
    arguments.add_argument("--photos", type=int, default=500)
    arguments.add_argument("--entries", type=int, default=3000)
    arguments.add_argument("--distinct", type=int, default=30)
    asked = arguments.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        files = Path(folder) / "files"
        files.mkdir()
        make(files, asked.photos, min(asked.distinct, asked.photos))
        with Book.create(Path(folder) / "book") as book:
            book.add_job(JOB)
            book.set_plan(JOB.name, Plan(items=(PlannedItem(PANEL, Fraction(asked.entries)),)))
            tell(book, asked.entries)
            take_in(book, JOB.name, [files])
            with patch("joblog.service.record.alike", lambda desk, day=None: ()):
                write(book)


def tell(book: Book, count: int) -> None:
    """So many entries, the same number each day, a minute apart."""
    zone = ZoneInfo(JOB.zone)
    for day in range(DAYS):
        told = (_entry(number) for number in range(count * day // DAYS, count * (day + 1) // DAYS))
        at = datetime(2026, 10, 5, 8, tzinfo=zone) + timedelta(days=day)
        decisions.add_typed(book, JOB.name, Reading(tuple(told)), "typed", at)


def _entry(number: int) -> Entry:
    if number % 3:
        return Entry(
            "used", item=PANEL.name, quantity=Fraction(1), unit="sheet", place="north eave"
        )
    return Entry("note", note=f"the {number}th note, with some words that were said of the work")


def write(book: Book) -> None:
    with timed("what stands on it, pictures and all"):
        paper = paper_of(open_desk(book, JOB.name), "job")
    with timed("as a page"):
        page = as_html(paper).encode()
    with timed("as PDF"):
        pdf = as_pdf(paper)
    print(f"page {len(page) / 1e6:.1f} MB, PDF {len(pdf) / 1e6:.1f} MB")


@contextmanager
def timed(what: str) -> Iterator[None]:
    began, before = time.monotonic(), _processor_time()
    yield
    wall, computing = time.monotonic() - began, _processor_time() - before
    print(f"{what}: {wall:.1f} s, {computing:.1f} s of processor")


def _processor_time() -> float:
    used = psutil.Process().cpu_times()
    # The processes that draw have ended by then.
    return float(used.user + used.system + used.children_user + used.children_system)


if __name__ == "__main__":
    main()
