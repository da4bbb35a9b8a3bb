"""The reconciliation as a screen."""

from __future__ import annotations

from evening import JOB, SIZE, screen_text
from textual.content import Content

from joblog.book import Book, decisions
from joblog.service import open_desk
from joblog_tui.app import ReviewApp
from joblog_tui.behind import BehindScreen
from joblog_tui.entry import EntryScreen
from joblog_tui.photo import PhotoScreen
from joblog_tui.squared_row import SquaredRow
from joblog_tui.squareup import SquareUpScreen


async def test_one_key_shows_planned_against_what_happened(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s")
        await pilot.pause()
        assert isinstance(app.screen, SquareUpScreen)
        assert "material" in screen_text(app)
        assert "soffit panel, panel" in screen_text(app)


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
        assert "delivered: 16 soffit panels" in screen_text(app)


async def test_an_entry_behind_a_line_is_opened(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "enter")
        await pilot.pause()
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, EntryScreen)
        assert "delivered sixteen sheets of soffit panel" in screen_text(app)


async def test_left_and_right_turn_the_pages(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "right", "right")
        await pilot.pause()
        assert "[hours]" in screen_text(app)
        assert "hang soffit" in screen_text(app)
        await pilot.press("left", "left", "left")
        await pilot.pause()
        assert "[missing]" in screen_text(app)


async def test_a_page_begins_at_its_first_line(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "down", "right", "left")
        await pilot.pause()
        assert "soffit panel, in panels: planned 15" in screen_text(app)


async def test_an_empty_page_says_what_it_would_hold(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "right")
        await pilot.pause()
        assert "No price is known of anything" in screen_text(app)


async def test_the_head_says_how_complete_the_record_is(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s")
        await pilot.pause()
        assert "known: none of 2 items, none of 1 task" in screen_text(app)


async def test_an_entry_behind_a_line_says_where_it_was_heard(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "enter")
        await pilot.pause()
        assert "[recording]" in screen_text(app)
        assert "said: delivered sixteen sheets of soffit panel" in screen_text(app)
        assert "recording: monday.wav, at 7:30 AM" in screen_text(app)


async def test_a_photo_behind_a_line_opens_with_a_key(app: ReviewApp, book: Book) -> None:
    [tie] = book.ties(JOB)
    async with app.run_test(size=SIZE) as pilot:
        line = SquaredRow("", "", Content("about the eave"), (1, tie.entry))
        await app.push_screen(BehindScreen(app._desk, line))
        await pilot.pause()
        assert "[recording, 1 photo]" in screen_text(app)
        assert "v photo" not in screen_text(app)
        await pilot.press("down")
        await pilot.pause()
        assert "photo: eave.jpg" in screen_text(app)
        await pilot.press("v")
        await pilot.pause()
        assert isinstance(app.screen, PhotoScreen)
        assert "eave.jpg" in screen_text(app)


async def test_coming_back_counts_what_was_decided_meanwhile(app: ReviewApp, book: Book) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s", "enter")
        await pilot.pause()
        decisions.accept(book, 2)
        await pilot.press("escape")
        await pilot.pause()
        assert "2 doubts open" in screen_text(app)


async def test_a_job_with_nothing_in_it_says_so(book: Book) -> None:
    app = ReviewApp(open_desk(book, "Empty house"))
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("s")
        await pilot.pause()
        assert "Nothing to square up yet" in screen_text(app)
