"""The place where the book is backed up."""

from __future__ import annotations

from pathlib import Path

import pytest
from evening import SIZE, screen_text
from textual.pilot import Pilot

from joblog.book import Book
from joblog.service.keeping_safe import back_up
from joblog_tui.app import ReviewApp


async def done(pilot: Pilot[None], app: ReviewApp) -> None:
    await app.workers.wait_for_complete()
    await pilot.pause()


async def test_enter_backs_up_and_the_states_are_shown(
    app: ReviewApp, book: Book, tmp_path: Path
) -> None:
    (tmp_path / "stick").mkdir()
    back_up(book, tmp_path / "stick")
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "y", "enter")
        await done(pilot, app)
        assert "nothing is new since the backup" in screen_text(app)
        await pilot.press("down")
        assert "joblog restore" in screen_text(app)


async def test_a_stick_that_is_gone_is_told(app: ReviewApp, book: Book, tmp_path: Path) -> None:
    stick = tmp_path / "stick"
    stick.mkdir()
    back_up(book, stick)
    stick.rename(tmp_path / "unplugged")
    async with app.run_test(size=SIZE) as pilot:
        await pilot.press("escape", "g", "y", "enter")
        await done(pilot, app)
        assert "isnotthere.Plugitin" in "".join(screen_text(app).split())  # A long name is broken.


async def test_the_review_begins_with_a_word_where_a_backup_is_due_and_the_place_says_how(
    app: ReviewApp, monkeypatch: pytest.MonkeyPatch
) -> None:
    for room in ("joblog_tui.app", "joblog.service.keeping_safe"):
        monkeypatch.setattr(f"{room}.lasts", lambda folder: True)
    monkeypatch.setattr("joblog.backup.memory.EVENING", 0)
    async with app.run_test(size=SIZE, notifications=True) as pilot:
        await done(pilot, app)
        assert "no backup yet" in screen_text(app)
        await pilot.press("escape", "g", "y")
        assert "joblog backup FOLDER" in screen_text(app)
