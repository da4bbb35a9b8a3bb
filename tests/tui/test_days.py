"""The list of days."""

from __future__ import annotations

from evening import SIZE, screen_text

from joblog.book import Book, decisions
from joblog.service import open_desk
from joblog_tui.app import ReviewApp
from joblog_tui.day import DayScreen
from joblog_tui.days import DaysScreen


async def test_every_day_shows_what_it_holds(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape")
        await pilot.pause()
        lines = screen_text(app).splitlines()
        [monday] = [line for line in lines if "Mon, Oct 5, 2026" in line]
        assert monday.split() == "▸? Mon, Oct 5, 2026 2 6 1 ? -".split()


async def test_the_doubts_of_the_whole_job_are_counted(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape")
        await pilot.pause()
        assert "to decide" in screen_text(app)


async def test_enter_opens_the_day_under_the_cursor(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "down", "enter")
        await pilot.pause()
        assert isinstance(app.screen, DayScreen)
        assert "Tue, Oct 6, 2026" in screen_text(app)


async def test_coming_back_shows_what_was_decided(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("a", "a", "a", "escape")
        await pilot.pause()
        assert "✓ Mon, Oct 5, 2026" in screen_text(app)


async def test_an_empty_job_shows_what_to_do(book: Book) -> None:
    app = ReviewApp(open_desk(book, "Empty house"))
    async with app.run_test(size=SIZE):
        assert isinstance(app.screen, DaysScreen)
        assert "There is nothing in this job yet." in screen_text(app)
        assert "joblog add" in screen_text(app)


async def test_a_job_without_doubts_starts_at_the_days(book: Book) -> None:
    decisions.accept(book, 2)
    decisions.accept(book, 3)
    decisions.accept(book, 5)
    decisions.accept(book, 7)
    app = ReviewApp(open_desk(book, "Gull Point cottage"))
    async with app.run_test(size=SIZE):
        assert isinstance(app.screen, DaysScreen)
        assert "nothing left to decide" in screen_text(app)
