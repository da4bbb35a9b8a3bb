"""The screens, driven by keys as by somebody who opens them again and goes on where they stand."""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import Any
from unittest.mock import patch

EVENING = "evening"
"""The folder of a book with an evening's work."""
MOST = 20
"""Presses after which something is wrong with the screens."""


def fill(world: Path) -> None:
    """Makes the book of an evening in a folder."""
    from joblog.book import Book
    from tests.tui import evening

    with Book.create(world / EVENING) as book:
        evening.fill(book, world / "files")
        evening.tell_too_much(book, world / "files")


def answering(key: str, *, anew: bool = False) -> Callable[[], int | None]:
    """Opens the review and presses a key at every question that waits. Where `anew`, it is closed
    and opened again for each: an answer may change which question is the dearest of the others, and
    their order is found out when it is opened."""

    async def answer(_: Any, pilot: Any) -> None:
        from joblog_tui.questions import QuestionsScreen
        from tests.tui.first_question import asked

        for _ in range(1 if anew else MOST):
            screen = pilot.app.screen
            if not isinstance(screen, QuestionsScreen) or not screen._waiting:
                return
            left.append(len(screen._waiting))
            await pilot.press(key)
            await pilot.pause()
            await asked(pilot)

    def do() -> int | None:
        while True:
            left.clear()
            _open(answer)
            if not anew or not left:
                return None

    left: list[int] = []
    return do


def taking_back() -> int | None:
    """Opens the review and presses `u`, unless it shows that the last step was taken back."""

    async def take_back(desk: Any, pilot: Any) -> None:
        from joblog.service import decide

        if all(step.state == "done" for step in decide.steps(desk)):
            await pilot.press("u")
            await pilot.pause()

    return _open(take_back)


def _open(press: Callable[[Any, Any], Awaitable[None]]) -> int | None:
    from joblog.service import Place
    from joblog.service.start import started
    from joblog_tui import guard
    from joblog_tui.app import ReviewApp
    from tests.tui.evening import JOB, SIZE
    from tests.tui.first_question import asked

    async def drive() -> None:
        with started(Place(Path(EVENING)), JOB) as start:
            app = ReviewApp(start.desk, None, sure=start.sure)
            app.animation_level = "none"
            async with app.run_test(size=SIZE) as pilot:
                await asked(pilot)
                await press(start.desk, pilot)
            if app.fault is not None:
                raise app.fault

    with (
        patch("joblog_tui.sound.Player.play", lambda *_, **__: None),
        patch("joblog_tui.evidence.open_outside", lambda *_: ""),
        patch.object(guard, "TO_BE_READ", 0.0),
        patch.object(guard, "HELD", 0.0),
    ):
        asyncio.run(drive())
    return None
