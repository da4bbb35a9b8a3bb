"""Searching everything that was ever said."""

from __future__ import annotations

from datetime import UTC, datetime
from fractions import Fraction

import pytest
from evening import JOB, SIZE, screen_text

from joblog.book import Book, decisions
from joblog.model import Entry, Reading
from joblog_tui.app import ReviewApp
from joblog_tui.days import DaysScreen
from joblog_tui.entry import EntryScreen
from joblog_tui.photo import PhotoScreen
from joblog_tui.search import SearchScreen, marked

OTHER = "Empty house"


async def _type(pilot: object, words: str) -> None:
    await pilot.press("escape", "slash", *words)  # type: ignore[attr-defined]
    await pilot.pause()  # type: ignore[attr-defined]


def _tell_of_the_other(book: Book) -> int:
    entry = Entry("used", item="fascia", quantity=Fraction(3), unit="stick", place="garage")
    at = datetime(2026, 9, 1, 20, tzinfo=UTC)
    [id] = decisions.add_typed(book, OTHER, Reading((entry,)), "three fascia at the garage", at)
    return id


async def test_what_is_found_stands_under_the_words_as_they_are_typed(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await _type(pilot, "sixt")
        assert '"delivered *sixt*een' in screen_text(app)
        await pilot.press("x")
        await pilot.pause()
        assert "Nothing holds all of these words." in screen_text(app)


async def test_letters_are_words_there_and_no_keys(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await _type(pilot, "squad")
        assert isinstance(app.screen, SearchScreen)
        assert app.is_running
        assert " squad" in screen_text(app)


async def test_enter_opens_the_entry_under_the_cursor_and_esc_leads_back_to_the_list(
    app: ReviewApp,
) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await _type(pilot, "soffit")
        await pilot.press("down", "enter")
        await pilot.pause()
        assert isinstance(app.screen, EntryScreen)
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, SearchScreen)
        assert " soffit" in screen_text(app).splitlines()[1]


async def test_an_entry_of_another_job_is_opened_there(app: ReviewApp, book: Book) -> None:
    _tell_of_the_other(book)
    async with app.run_test(size=SIZE) as pilot:
        await _type(pilot, "garage")
        assert OTHER in screen_text(app)
        await pilot.press("enter")
        await pilot.pause()
        await pilot.pause()
        assert isinstance(app.screen, EntryScreen)
        assert app._desk.job.name == OTHER
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, SearchScreen)
        assert "*garage*" in screen_text(app)
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, DaysScreen)
        assert OTHER in screen_text(app)
        assert app.fault is None


async def test_tab_looks_in_this_job_alone(app: ReviewApp, book: Book) -> None:
    _tell_of_the_other(book)
    async with app.run_test(size=SIZE) as pilot:
        await _type(pilot, "garage")
        assert "Search in all jobs: 1 place" in screen_text(app)
        await pilot.press("tab")
        await pilot.pause()
        assert f"Search in {JOB}: 0 places" in screen_text(app)


async def test_a_photo_is_opened_by_its_name(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        await _type(pilot, "eave.jpg")
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, PhotoScreen)


async def test_before_anything_is_typed_it_says_how(app: ReviewApp) -> None:
    async with app.run_test(size=(60, 20)) as pilot:
        await _type(pilot, "")
        assert "whatever holds all of them is found" in " ".join(screen_text(app).split())


@pytest.mark.parametrize(
    ("text", "marks", "width", "shown"),
    [
        ("used soffit", ((5, 11),), 40, "used *soffit*"),
        ("a" * 50 + " soffit", ((51, 57),), 30, "…" + "a" * 9 + " *soffit*"),
        ("[b]soffit[/b]", ((3, 9),), 40, "[b]*soffit*[/b]"),
    ],
)
def test_marks_are_signs_and_in_sight(
    text: str, marks: tuple[tuple[int, int], ...], width: int, shown: str
) -> None:
    assert marked(text, marks, width).plain == shown
