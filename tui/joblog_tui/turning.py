"""Turning to another job of the book, with its days in sight of the old one's."""

from __future__ import annotations

from typing import Any

from textual.app import App
from textual.screen import Screen

from joblog.form import plain
from joblog.service import jobs
from joblog.service.desk import Desk
from joblog_tui.days import DaysScreen


def turn_to(app: App[Any], desk: Desk, job: str, *over: Screen[None]) -> None:
    """Puts another job on the desk: its days come in sight, and these screens over them.

    Raises ServiceError where the book has no such job; nothing changes then.
    """
    jobs.turn_to(desk, job)
    days = next(screen for screen in app.screen_stack if isinstance(screen, DaysScreen))
    # The screens of the job before go first: they would show its days as those of this one.
    days.pop_until_active()
    for screen in over:
        app.call_later(app.push_screen, screen)
    app.notify(f"Now at {plain(job)}.", markup=False)
