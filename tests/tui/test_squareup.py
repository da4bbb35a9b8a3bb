"""The reconciliation as a screen."""

from __future__ import annotations

from evening import SIZE, screen_text

from joblog.book import Book
from tui.app import ReviewApp
from tui.behind import BehindScreen
from tui.day import DayScreen
from tui.squareup import SquareUpScreen


async def test_one_key_shows_planned_against_what_happened(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s")
        await pilot.pause()
        assert isinstance(app.screen, SquareUpScreen)
        assert "material" in screen_text(app)
        assert "soffit panel, sheet" in screen_text(app)


async def test_open_doubts_are_said_to_be_left_out(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s")
        await pilot.pause()
        assert "3 doubts open, not counted here" in screen_text(app)


async def test_enter_shows_the_entries_behind_a_line(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "enter")
        await pilot.pause()
        assert isinstance(app.screen, BehindScreen)
        assert "delivered: 16 sheets of soffit panel" in screen_text(app)


async def test_an_entry_behind_a_line_opens_in_its_day(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "enter")
        await pilot.pause()
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, DayScreen)


async def test_coming_back_counts_what_was_decided_meanwhile(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "enter")
        await pilot.pause()
        book.accept(2)
        await pilot.press("escape")
        await pilot.pause()
        assert "2 doubts open" in screen_text(app)


async def test_a_job_with_nothing_in_it_says_so(book: Book) -> None:
    app = ReviewApp(book, "Empty house")
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s")
        await pilot.pause()
        assert "Nothing to square up yet" in screen_text(app)
