"""Every step of the job."""

from __future__ import annotations

from evening import JOB, SIZE, screen_text

from joblog.book import Book, decisions, steps
from joblog_tui.app import ReviewApp
from joblog_tui.entry import EntryScreen
from joblog_tui.history import HistoryScreen


async def _open(pilot: object) -> None:
    await pilot.press("escape", "g", "h")  # type: ignore[attr-defined]
    await pilot.pause()  # type: ignore[attr-defined]


async def test_the_latest_step_comes_first(app: ReviewApp, book: Book) -> None:
    decisions.accept(book, 2)
    decisions.drop(book, 3)
    async with app.run_test(size=SIZE) as pilot:
        await _open(pilot)
        shown = screen_text(app)
        assert shown.index("dropped:") < shown.index("accepted:")
        assert "2 steps" in shown
        assert "by you" in shown


async def test_what_was_taken_back_is_marked_and_r_does_it_again(
    app: ReviewApp, book: Book
) -> None:
    decisions.accept(book, 2)
    decisions.drop(book, 3)
    steps.undo_last(book, JOB)
    async with app.run_test(size=SIZE) as pilot:
        await _open(pilot)
        [line] = [line for line in screen_text(app).splitlines() if line[1:].startswith("↶")]
        assert "dropped:" in line
        assert "taken back; r does it again" in screen_text(app)
        await pilot.press("r")
        await pilot.pause()
        assert "↶" not in screen_text(app)
        assert book.entry(3).standing == "dropped"


async def test_what_cannot_be_done_again_is_marked_otherwise(app: ReviewApp, book: Book) -> None:
    decisions.drop(book, 3)
    steps.undo_last(book, JOB)
    decisions.accept(book, 2)
    async with app.run_test(size=SIZE) as pilot:
        await _open(pilot)
        [line] = [line for line in screen_text(app).splitlines() if line[1:].startswith("×")]
        assert "dropped:" in line


async def test_u_takes_the_last_step_back_and_the_list_shows_it(app: ReviewApp, book: Book) -> None:
    decisions.drop(book, 3)
    async with app.run_test(size=SIZE) as pilot:
        await _open(pilot)
        await pilot.press("u")
        await pilot.pause()
        assert isinstance(app.screen, HistoryScreen)
        assert book.entry(3).standing != "dropped"
        assert "↶" in screen_text(app)


async def test_enter_opens_the_entry_of_a_step(app: ReviewApp, book: Book) -> None:
    decisions.drop(book, 3)
    async with app.run_test(size=SIZE) as pilot:
        await _open(pilot)
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, EntryScreen)


async def test_a_job_in_which_nothing_was_decided_says_so(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await _open(pilot)
        assert "Nothing was decided in this job yet." in screen_text(app)
