"""Closing a job on the screen, and a closed job that changes afterwards."""

from __future__ import annotations

from typing import Any

import pytest
from evening import JOB, SIZE, screen_text, tell_too_much
from textual.pilot import Pilot

from joblog.book import Book, closed, decisions
from joblog.model import Entry, Reading
from joblog.reconcile import reconcile
from joblog.service import open_desk
from joblog_tui.app import ReviewApp
from joblog_tui.ask import AskScreen
from joblog_tui.behind import BehindScreen
from joblog_tui.closing import InTheWayScreen
from joblog_tui.squareup import SquareUpScreen


@pytest.fixture
def settled_book(book: Book) -> Book:
    decisions.accept(book, 2)
    decisions.accept(book, 3)
    decisions.accept(book, 7)
    return book


async def counted(app: ReviewApp, pilot: Pilot[Any]) -> None:
    await pilot.pause()
    await app.workers.wait_for_complete()
    await pilot.pause()


async def test_a_job_is_closed_after_one_question(app: ReviewApp, settled_book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "c")
        await pilot.pause()
        assert isinstance(app.screen, AskScreen)
        assert "Close Gull Point cottage on Tue, Oct 6, 2026, its last day?" in screen_text(app)
        await pilot.press("y")
        await counted(app, pilot)
        assert "closed on Tue, Oct 6, 2026" in screen_text(app)
    closing = closed.closing(settled_book, JOB)
    assert closing is not None
    assert closing.figures == reconcile(
        settled_book.job(JOB),
        settled_book.plan(JOB),
        settled_book.entries(JOB),
        settled_book.catalog(),
    )


async def test_what_is_missing_is_said_to_stay_missing(app: ReviewApp, settled_book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "c")
        await pilot.pause()
        assert "What is missing stays so: 3 things." in " ".join(screen_text(app).split())


async def test_no_closes_nothing(app: ReviewApp, settled_book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "c", "n")
        await pilot.pause()
        assert closed.closing(settled_book, JOB) is None


async def test_a_closed_job_says_how_many_jobs_teach(app: ReviewApp, settled_book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "c", "y")
        await counted(app, pilot)
        assert "jobs teach the rates now" in screen_text(app)


async def test_a_closed_job_is_not_offered_to_be_closed(app: ReviewApp, settled_book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "c", "y")
        await counted(app, pilot)
        assert "c close the job" not in screen_text(app)


async def test_entries_that_wait_are_in_the_way_and_are_named(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "c")
        await pilot.pause()
        assert isinstance(app.screen, InTheWayScreen)
        assert "entries 2, 3, 7 wait for a decision" in screen_text(app)
        assert closed.closing(book, JOB) is None


async def test_enter_leads_to_the_entries_that_are_in_the_way(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "c")
        await pilot.pause()
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, BehindScreen)
        assert "installed: 4 sticks of fascia" in screen_text(app)


async def test_what_was_settled_meanwhile_is_no_longer_in_the_way(
    app: ReviewApp, book: Book
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "c")
        await pilot.pause()
        await pilot.press("enter")
        await pilot.pause()
        decisions.accept(book, 2)
        decisions.accept(book, 3)
        decisions.accept(book, 7)
        await pilot.press("escape")
        await pilot.pause()
        assert "Nothing is in the way any more." in screen_text(app)


async def test_a_job_can_be_closed_anyway_and_says_what_that_costs(
    app: ReviewApp, book: Book
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "c")
        await pilot.pause()
        await pilot.press("c")
        await pilot.pause()
        assert "about teaches nothing" in " ".join(screen_text(app).split())
        await pilot.press("y")
        await counted(app, pilot)
        assert isinstance(app.screen, SquareUpScreen)
        assert "closed on Tue, Oct 6, 2026" in screen_text(app)
    assert closed.closing(book, JOB) is not None


async def test_what_cannot_all_be_true_leads_to_its_entries(
    app: ReviewApp, settled_book: Book, tmp_path_factory: pytest.TempPathFactory
) -> None:
    tell_too_much(settled_book, tmp_path_factory.mktemp("more"))
    decisions.accept(settled_book, 8)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "c")
        await pilot.pause()
        await pilot.press("down")
        await pilot.pause()
        assert "entries 1, 3, 8 cannot all be right" in " ".join(screen_text(app).split())
        await pilot.press("enter")
        await pilot.pause()
        assert "installed: 40 soffit panels" in screen_text(app)


async def test_a_job_of_which_nothing_was_said_is_refused(book: Book) -> None:
    app = ReviewApp(open_desk(book, "Empty house"))
    async with app.run_test(size=SIZE, notifications=True) as pilot:
        await pilot.press("s", "c")
        await pilot.pause()
        assert "so there is nothing to close" in " ".join(screen_text(app).split())


async def test_a_later_change_reopens_the_job_openly(app: ReviewApp, settled_book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "c", "y")
        await counted(app, pilot)
        entry = settled_book.entries(JOB)[0]
        spoiled = Entry("spoiled", item="fascia", quantity=entry.entry.quantity, unit="stick")
        decisions.add_typed(settled_book, JOB, Reading((spoiled,)), "one bent", entry.at)
        await pilot.press("escape", "s")
        await pilot.pause()
        shown = screen_text(app)
        assert "closed on Tue, Oct 6, 2026, reopened by entry 8: teaches nothing now" in shown
        assert "c close the job" in shown
        await pilot.press("left")
        await pilot.pause()
        assert "1 entry new or changed since" in screen_text(app)
        assert "fascia: wasted" in screen_text(app)
