"""All closed jobs of a book beside their bids, by the one door."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

import pytest

from joblog.bid.planned import plan_of
from joblog.book import Book, bids, decisions
from joblog.model import Entry, Job, OverJobs, Reading
from joblog.service.over_jobs import compared
from tests.bid.closed_jobs import fill_closed


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with Book.create(tmp_path / "book") as made:
        fill_closed(made, 3)
        yield made


def values(found: OverJobs, by: str, name: str) -> dict[str, tuple[Fraction | None, int]]:
    [group] = [one for one in found.groups if (one.by, one.name) == (by, name)]
    return {one.name: (one.value, one.jobs) for one in group.figures}


def test_every_closed_job_is_a_line_with_its_own_bid(book: Book) -> None:
    found = compared(book)
    assert [one.job for one in found.results] == [
        "Mill house, job 1", "Hale, job 2", "Barn, job 3",
    ]  # fmt: skip
    # The bid: 293.55 + 520 + 70 = 883.55, / 0.8 is 1,104.4375, and 450 beside it. The jobs: 20
    # panels at 31.25 and 820 nails at 0.015 are 637.30; 12, 13, 14 hours at 40; 85 beside.
    assert {one.charged for one in found.results} == {Decimal("1554.44")}
    assert [one.cost for one in found.results] == [
        Decimal("1202.30"), Decimal("1242.30"), Decimal("1282.30"),
    ]  # fmt: skip
    # 352.14 + 312.14 + 272.14 in 12 + 13 + 14 hours.
    together = values(found, "all", "all jobs")
    assert together["earned"] == (Fraction("936.42"), 3)
    assert together["earned_an_hour"] == (Fraction("936.42") / 39, 3)
    # One panel of twenty, then two: 31.25 + 62.50, of three times 637.30.
    assert together["wasted_share"] == (Fraction("93.75") / Fraction("1911.90"), 3)
    assert values(found, "crew", "2 people")["earned"] == (Fraction("312.14"), 1)
    assert all(trend.change is None for trend in found.trends)


def test_jobs_that_are_open_or_changed_since_are_told_with_why(book: Book) -> None:
    book.add_job(Job("Shed", "America/Chicago"))
    bid = bids.newest_bid(book, "Barn, job 3")
    assert bid is not None
    book.add_job(Job("Porch", "America/Chicago"))
    bids.keep_bid(book, replace(bid.bid, job="Porch"), plan_of(bid.bid))
    more = Reading((Entry("labor", hours=Fraction(2), task="hang soffit"),))
    decisions.add_typed(book, "Hale, job 2", more, "told", datetime(2026, 2, 12, 18, tzinfo=UTC))
    found = compared(book)
    assert found.left_out == (
        ("Hale, job 2", "changed since it was closed; close it again"),
        ("Shed", "not closed, and has no bid"),
        ("Porch", "not closed"),
    )
    assert len(found.results) == 2


def test_a_book_of_no_closed_job_compares_nothing(tmp_path: Path) -> None:
    with Book.create(tmp_path / "new") as made:
        made.add_job(Job("Shed", "America/Chicago"))
        found = compared(made)
    assert (found.results, found.groups) == ((), ())
    assert found.left_out == (("Shed", "not closed, and has no bid"),)
