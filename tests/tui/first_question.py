"""Waiting for the first question, without all that the tests of the screens need."""

from __future__ import annotations

from textual.pilot import Pilot

from joblog_tui.questions import QuestionsScreen


async def asked(pilot: Pilot[None]) -> None:
    """Comes back when the first question has its answers: they follow it when it is in sight."""
    for _ in range(600):
        screen = pilot.app.screen
        if not isinstance(screen, QuestionsScreen) or not screen._waiting:
            return
        if screen._shown and screen._guard.in_sight:
            return
        await pilot.pause(0.05)
