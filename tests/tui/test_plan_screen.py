"""The plan beside what was used of it."""

from __future__ import annotations

from datetime import UTC, datetime
from fractions import Fraction

from evening import JOB, SIZE, screen_text

from joblog.book import Book, decisions
from joblog.model import Entry, Item, Plan, PlannedItem, PlannedTask, Reading, Task
from joblog.service import open_desk
from joblog_tui.app import ReviewApp
from joblog_tui.behind import BehindScreen


def _tell(book: Book, entry: Entry) -> None:
    at = datetime(2026, 10, 8, 20, tzinfo=UTC)
    decisions.add_typed(book, JOB, Reading((entry,)), "typed", at)


async def test_every_planned_line_shows_what_is_used_and_left(app: ReviewApp, book: Book) -> None:
    _tell(book, Entry("used", item="fascia", quantity=Fraction(3), unit="stick"))
    _tell(book, Entry("spoiled", item="fascia", quantity=Fraction(1), unit="stick"))
    _tell(book, Entry("labor", task="hang soffit", hours=Fraction(20)))
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "p")
        await pilot.pause()
        lines = screen_text(app).splitlines()
        [fascia] = [line for line in lines if line.startswith(" fascia")]
        # Planned 7, 3 used and 1 spoiled (evening.fill and above).
        assert fascia.split()[-3:] == ["7", "4", "3"]
        [hang] = [line for line in lines if line.startswith(" hang soffit")]
        assert hang.split()[-4:] == ["18", "20", "2", "over"]


async def test_where_an_allowance_came_from_is_said(app: ReviewApp, book: Book) -> None:
    learned = PlannedItem(
        Item("fascia", "stick"),
        Fraction(10),
        net=Fraction(8),
        offcut=Fraction(1),
        source="4 jobs of yours",
    )
    hours = PlannedTask(Task("hang soffit"), Fraction(18), source="3 jobs of yours")
    book.set_plan(JOB, Plan((learned,), (hours,)))
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "p")
        await pilot.pause()
        assert "extra from: 4 jobs of yours" in screen_text(app)
        planned = "planned 10 sticks: 8 sticks for the work, 1 stick for cutoffs, 1 stick extra"
        assert planned in " ".join(screen_text(app).split())
        await pilot.press("down")
        await pilot.pause()
        assert "hours from: 3 jobs of yours" in screen_text(app)


async def test_enter_shows_the_entries_behind_a_line(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "p", "enter")
        await pilot.pause()
        assert isinstance(app.screen, BehindScreen)
        assert "delivered: 16" in screen_text(app)


async def test_a_job_without_a_plan_says_how_to_get_one(book: Book) -> None:
    app = ReviewApp(open_desk(book, "Empty house"))
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("g", "p")
        await pilot.pause()
        assert "This job has no plan yet." in screen_text(app)
        assert "joblog takeoff RUNS.csv --to-plan" in screen_text(app)


async def test_where_there_is_room_the_meaning_stands_beside_the_list(app: ReviewApp) -> None:
    async with app.run_test(size=(140, 45)) as pilot:
        await pilot.press("escape", "g", "p")
        await pilot.pause()
        [line] = [line for line in screen_text(app).splitlines() if "planned 15 " in line]
        assert line.startswith(" item")
