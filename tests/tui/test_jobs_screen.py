"""The jobs of the book, and turning from one to another."""

from __future__ import annotations

from evening import JOB, SIZE, screen_text

from joblog.book import Book
from joblog.service import open_desk
from joblog_tui.app import ReviewApp
from joblog_tui.begin import BeginScreen
from joblog_tui.days import DaysScreen
from joblog_tui.jobs import JobsScreen

OTHER = "Empty house"


async def _open(pilot: object, app: ReviewApp) -> None:
    await pilot.press("escape", "g", "j")  # type: ignore[attr-defined]
    await app.workers.wait_for_complete()
    await pilot.pause()  # type: ignore[attr-defined]


async def test_every_job_shows_what_it_holds_and_where_one_is(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await _open(pilot, app)
        lines = [line[1:] for line in screen_text(app).splitlines()]
        [here] = [line for line in lines if line.startswith(f"> {JOB}")]
        # Three doubts on two days (evening.fill).
        assert here.split()[4:6] == ["3", "2"]
        [other] = [line for line in lines if line.startswith(f"  {OTHER}")]
        assert other.split()[2:] == ["-", "0", "-", "open"]


async def test_enter_turns_to_the_job_and_shows_its_days(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await _open(pilot, app)
        await pilot.press("down", "enter")
        await pilot.pause()
        await pilot.pause()
        assert isinstance(app.screen, DaysScreen)
        assert OTHER in screen_text(app)
        assert "There is nothing in this job yet." in screen_text(app)
        await _open(pilot, app)
        await pilot.press("up", "enter")
        await pilot.pause()
        await pilot.pause()
        assert "2 days" in screen_text(app)
        assert app.fault is None


async def test_no_day_of_the_old_job_is_left_behind(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "enter", "s", "g", "j")
        await pilot.pause()
        await pilot.press("down", "enter")
        await pilot.pause()
        await pilot.pause()
        assert [type(screen) for screen in app.screen_stack[1:]] == [DaysScreen]
        assert app.fault is None


async def test_a_new_job_is_begun_from_here(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await _open(pilot, app)
        await pilot.press("plus")
        await pilot.pause()
        assert isinstance(app.screen, BeginScreen)
        await pilot.press(*"Garage", "enter")
        await pilot.pause()
        await pilot.pause()
        assert isinstance(app.screen, DaysScreen)
        assert "Garage" in screen_text(app)
        assert book.job("Garage").name == "Garage"


async def test_leaving_the_form_begins_nothing(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await _open(pilot, app)
        await pilot.press("plus", *"Garage", "escape")
        await pilot.pause()
        assert isinstance(app.screen, JobsScreen)
        assert [job.name for job in book.jobs()] == [JOB, OTHER]


async def test_where_nothing_tells_which_job_is_meant_it_is_asked(book: Book) -> None:
    app = ReviewApp(open_desk(book, OTHER), sure=False)
    async with app.run_test(size=SIZE) as pilot:
        await pilot.pause()
        assert isinstance(app.screen, JobsScreen)
