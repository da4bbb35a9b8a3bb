"""The command that opens the review, and how it ends."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from evening import JOB, SIZE
from textual.events import Key

import joblog_tui.app
from joblog.book import Book
from joblog_tui.app import ReviewApp, ReviewError, review


def test_without_a_terminal_it_refuses_at_once(book: Book) -> None:
    said = subprocess.run(
        [sys.executable, "-m", "joblog", "review", "--book", str(book.folder)],
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        check=False,
        cwd=Path(__file__).parents[2],
    )
    assert said.returncode == 1
    assert said.stderr.splitlines() == [
        "Error: review needs a terminal, with keys to press and a screen to look at. "
        "Without one: joblog day, joblog entries, joblog squareup."
    ]


async def test_keys_for_a_list_out_of_sight_do_nothing(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        for key in ("s", "r", "enter", "question_mark", "escape", "pagedown", "pageup"):
            await pilot.press(key)
            await pilot.pause()
        assert app.fault is None


async def test_a_key_for_a_screen_that_is_not_there_yet_is_not_taken(app: ReviewApp) -> None:
    async with app.run_test(size=SIZE) as pilot:
        key = Key("space", " ")
        # As it comes back from the screen before, which had no use for it.
        key._set_forwarded()
        app.action_go_to("s")
        assert not app.screen.is_mounted
        await app.on_event(key)
        await pilot.pause()
        assert app.fault is None


def test_a_fault_of_the_screens_is_one_line_and_no_traceback(
    book: Book, monkeypatch: pytest.MonkeyPatch, capfd: pytest.CaptureFixture[str]
) -> None:
    class Faulty(ReviewApp):
        def on_mount(self) -> None:
            raise KeyError("soffit")

        def run(self, **_how: object) -> None:  # type: ignore[override]
            super().run(headless=True)

    monkeypatch.setattr(joblog_tui.app, "ReviewApp", Faulty)
    with pytest.raises(ReviewError, match=r"fault of its own \(KeyError: 'soffit'\)"):
        review(book, JOB)
    shown = capfd.readouterr()
    assert "Traceback" not in shown.out + shown.err
