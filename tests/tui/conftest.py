"""A book with an evening's work in it, and the review opened on it."""

from __future__ import annotations

import sys
from collections.abc import AsyncIterator, Iterator
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

import pytest
from evening import JOB, asked, fill
from textual.pilot import Pilot

from joblog.book import Book
from joblog.service import open_desk
from joblog_tui import guard
from joblog_tui.app import ReviewApp


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Book]:
    with Book.create(tmp_path / "book") as made:
        fill(made, tmp_path)
        yield made


@pytest.fixture(autouse=True)
def a_quick_reader(monkeypatch: pytest.MonkeyPatch) -> None:
    """Keys are pressed as soon as a question is in sight, and taken."""
    monkeypatch.setattr(guard, "TO_BE_READ", 0.0)
    monkeypatch.setattr(guard, "HELD", 0.0)


@pytest.fixture(autouse=True)
def the_first_question_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nobody presses a key before the answers stand under the first question."""
    begin = ReviewApp.run_test

    @asynccontextmanager
    async def run_test(app: ReviewApp, **how: Any) -> AsyncIterator[Pilot[None]]:
        async with begin(app, **how) as pilot:
            await asked(pilot)
            yield pilot

    monkeypatch.setattr(ReviewApp, "run_test", run_test)


@pytest.fixture(autouse=True)
def a_machine_of_its_own(monkeypatch: pytest.MonkeyPatch) -> None:
    """No test makes a sound, or opens a window, on the machine that it runs on."""
    monkeypatch.setattr("joblog_tui.evidence.open_outside", lambda path: "")
    monkeypatch.setattr(
        "joblog.audio.playing.command", lambda wanted: [sys.executable, "-c", "pass"]
    )


@pytest.fixture
def app(book: Book) -> ReviewApp:
    return ReviewApp(open_desk(book, JOB))
