"""Bids in the book: every version, what was taken back, and the plan that was made of one."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from joblog.bid.planned import plan_of
from joblog.bid.work_out import work_out
from joblog.book import Book, bids, schema, steps
from joblog.model import Bid, Plan
from tests.bid.a_basis import basis
from tests.book.two_jobs import JOB, OTHER, PLAN, a_book


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with a_book(tmp_path) as made:
        yield made


def bid(margin: str = "20%", job: str = JOB.name) -> Bid:
    return work_out(job, date(2026, 11, 2), basis(), (("margin", margin),))


def test_a_bid_is_kept_whole_with_the_plan_that_is_made_of_it(book: Book) -> None:
    kept = bids.keep_bid(book, bid(), plan_of(bid()))
    assert bids.newest_bid(book, JOB.name) == kept
    assert kept.bid == bid()
    assert book.plan(JOB.name) == plan_of(bid())
    assert steps.steps(book, JOB.name)[-1].what == "bid $1,016.94 for the job"


def test_taking_the_bid_back_brings_the_plan_before_it_back(book: Book) -> None:
    bids.keep_bid(book, bid(), plan_of(bid()))
    steps.undo_last(book, JOB.name)
    assert bids.newest_bid(book, JOB.name) is None
    assert book.plan(JOB.name) == PLAN
    steps.redo_last(book, JOB.name)
    assert bids.newest_bid(book, JOB.name) is not None
    assert book.plan(JOB.name) == plan_of(bid())


def test_every_version_stays_and_the_newest_that_stands_is_the_bid(book: Book) -> None:
    for margin in ("20%", "25%", "30%"):
        bids.keep_bid(book, bid(margin), None)
    steps.undo_last(book, JOB.name)
    assert [one.bid for one in bids.bids_of(book, JOB.name)] == [bid("20%"), bid("25%")]


def test_the_same_bid_again_is_no_step(book: Book) -> None:
    bids.keep_bid(book, bid(), plan_of(bid()))
    before = steps.steps(book, JOB.name)
    bids.keep_bid(book, bid(), plan_of(bid()))
    assert steps.steps(book, JOB.name) == before


def test_the_last_bid_is_the_newest_of_all_jobs(book: Book) -> None:
    bids.keep_bid(book, bid(), None)
    bids.keep_bid(book, bid("30%", OTHER.name), None)
    last = bids.last_bid(book)
    assert last is not None
    assert (last.bid.job, last.bid.margin) == (OTHER.name, bid("30%").margin)


def test_a_bid_is_never_overwritten(book: Book) -> None:
    bids.keep_bid(book, bid(), None)
    with pytest.raises(sqlite3.IntegrityError, match="never overwritten"):
        book._db.execute("UPDATE bid SET content = ''")
    with pytest.raises(sqlite3.IntegrityError, match="never deleted"):
        book._db.execute("DELETE FROM bid")


def test_a_damaged_bid_is_not_shown_for_a_good_one(tmp_path: Path) -> None:
    with a_book(tmp_path) as book:
        bids.keep_bid(book, bid(), None)
        folder = book.folder
    beside = sqlite3.connect(folder / "book.sqlite")
    with beside:
        beside.execute("DROP TRIGGER a_bid_is_never_overwritten")
        beside.execute("UPDATE bid SET content = replace(content, '1016.94', '9016.94')")
    beside.close()
    with Book.open(folder) as book:
        assert bids.newest_bid(book, JOB.name) is None


def test_a_book_of_before_has_no_bids_and_takes_them(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    place = schema.MIGRATIONS.index(schema.schema_of_bids.bids)
    with monkeypatch.context() as older:
        older.setattr(schema, "MIGRATIONS", schema.MIGRATIONS[:place])
        with Book.create(tmp_path / "older") as book:
            book.add_job(JOB)
            book.set_plan(JOB.name, Plan(places=("barn",)))
    with Book.open(tmp_path / "older") as book:
        assert bids.newest_bid(book, JOB.name) is None
        assert bids.keep_bid(book, bid(), None).bid.price == Decimal("1016.94")
        assert book.plan(JOB.name) == Plan(places=("barn",))
