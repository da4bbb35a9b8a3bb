"""Beginning the first job, with nothing there at all."""

from __future__ import annotations

from pathlib import Path

import pytest
from evening import SIZE, screen_text

from joblog.book import Book
from joblog.service import Place
from joblog_tui.app import ReviewApp
from joblog_tui.days import DaysScreen

NARROW = (60, 20)


@pytest.fixture
def first(tmp_path: Path) -> ReviewApp:
    return ReviewApp(None, place=Place(tmp_path / "joblog"))


async def test_the_first_job_is_begun_and_its_days_come_in_sight(
    first: ReviewApp, tmp_path: Path
) -> None:
    async with first.run_test(size=SIZE) as pilot:
        await pilot.pause()
        assert "There is no job yet. Begin your first one:" in screen_text(first)
        assert "joblog add FOLDER" in screen_text(first)
        await pilot.press(*"Garage", "tab", "tab", *"Porch, back  wall", "enter")
        await pilot.pause()
        assert isinstance(first.screen, DaysScreen)
        assert "There is nothing in this job yet." in screen_text(first)
        assert "joblog add FOLDER" in screen_text(first)
    first.close_book()
    with Book.open(tmp_path / "joblog") as book:
        assert book.job("Garage").places == ("porch", "back wall")


async def test_nothing_is_made_until_a_job_is_begun(first: ReviewApp, tmp_path: Path) -> None:
    async with first.run_test(size=SIZE) as pilot:
        await pilot.press(*"Garage", "escape")
        await pilot.pause()
        assert not first.is_running
    first.close_book()
    assert not (tmp_path / "joblog").exists()


async def test_a_sentence_is_tried_with_the_places_that_were_typed(first: ReviewApp) -> None:
    async with first.run_test(size=NARROW) as pilot:
        await pilot.press("tab", "tab", *"porch", "down")
        await pilot.press(*"used six soffit panels at the porch")
        await pilot.pause()
        shown = screen_text(first)
        [reads] = [line for line in shown.splitlines() if "reads: " in line]
        assert ": 6 soffit panels, porch" in reads
        await pilot.press("enter")
        await pilot.pause()
        assert reads in screen_text(first)
        assert not isinstance(first.screen, DaysScreen)


async def test_what_is_wrong_is_said_at_its_field(first: ReviewApp) -> None:
    async with first.run_test(size=SIZE) as pilot:
        await pilot.press("enter")
        await pilot.pause()
        assert "Give it a name" in screen_text(first)
        await pilot.press(*"Garage", "tab", "ctrl+u", *"Mars", "enter")
        await pilot.pause()
        assert "there is no time zone 'Mars'" in screen_text(first)
        assert "Give it a name" not in screen_text(first)


async def test_keys_that_need_a_job_are_not_there_yet(first: ReviewApp) -> None:
    async with first.run_test(size=SIZE) as pilot:
        await pilot.press("tab", "tab", "tab", "tab")
        await pilot.pause()
        assert "g go" not in screen_text(first)
        assert first.fault is None


async def test_an_empty_job_lets_a_sentence_be_tried(book: Book) -> None:
    from joblog.service import open_desk

    app = ReviewApp(open_desk(book, "Empty house"))
    async with app.run_test(size=NARROW) as pilot:
        await pilot.press("w", *"used six soffit panels")
        await pilot.pause()
        assert "reads: " in screen_text(app)
        await pilot.press("escape", "g")
        await pilot.pause()
        assert "keep the book safe elsewhere" in screen_text(app)
