"""What counts no more, and bringing it back by a key."""

from __future__ import annotations

from evening import JOB, SIZE, screen_text

from joblog.book import Book, decisions, houses, steps
from joblog.model import House, Plan
from joblog.service import open_desk
from joblog_tui.app import ReviewApp
from joblog_tui.bin import BinScreen
from joblog_tui.entry import EntryScreen
from joblog_tui.versions import VersionsScreen


async def _open(pilot: object) -> None:
    await pilot.press("escape", "g", "h", "b")  # type: ignore[attr-defined]
    await pilot.pause()  # type: ignore[attr-defined]


async def test_what_went_last_comes_first_a_key_brings_it_back_and_u_undoes_it(
    app: ReviewApp, book: Book
) -> None:
    decisions.drop(book, 3)
    decisions.load_plan(book, JOB, Plan(places=("barn",)))
    async with app.run_test(size=SIZE) as pilot:
        await _open(pilot)
        assert isinstance(app.screen, BinScreen)
        shown = screen_text(app)
        assert shown.index("plan: 2 items, 1 task") < shown.index("dropped: ")
        await pilot.press("b")
        await pilot.pause()
        assert len(book.plan(JOB).items) == 2
        [told] = app._notifications
        assert told.message == "brought back: plan: 2 items, 1 task. u takes it back."
        await pilot.press("u")
        await pilot.pause()
        assert book.plan(JOB).places == ("barn",)
        assert "plan: 2 items, 1 task" in screen_text(app)


async def test_enter_opens_the_entry_and_tab_shows_all_jobs(app: ReviewApp, book: Book) -> None:
    decisions.drop(book, 3)
    houses.keep_house(book, "Empty house", House())
    steps.undo_last(book, "Empty house")
    async with app.run_test(size=SIZE) as pilot:
        await _open(pilot)
        assert "house: 0 sides" not in screen_text(app)
        await pilot.press("tab")
        await pilot.pause()
        assert "house: 0 sides" in screen_text(app)
        [line] = [line for line in screen_text(app).splitlines() if "house: 0 sides" in line]
        assert "taken back: described the house" in line
        await pilot.press("tab", "enter")
        await pilot.pause()
        assert isinstance(app.screen, EntryScreen)


async def test_what_an_entry_was_is_listed_and_stands_again(app: ReviewApp, book: Book) -> None:
    was = book.entry(3).entry
    decisions.edit(book, 3, "note", "by hand")
    decisions.drop(book, 3)
    async with app.run_test(size=SIZE) as pilot:
        await app.push_screen(EntryScreen(open_desk(book, JOB), 3))
        await pilot.pause()
        await pilot.press("h")
        await pilot.pause()
        assert isinstance(app.screen, VersionsScreen)
        shown = screen_text(app)
        assert shown.index("dropped: ") < shown.index("edited: ") < shown.index("heard: ")
        await pilot.press("b")  # It is that already.
        assert book.entry(3).standing == "dropped"
        await pilot.press("down", "down", "b")
        await pilot.pause()
        assert (book.entry(3).entry, book.entry(3).standing) == (was, "heard")
        assert "restored: " in screen_text(app)
