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
    back_to(app, days)
    for screen in over:
        app.push_screen(screen)
    app.notify(f"Now at {plain(job)}.", markup=False)


def back_to(app: App[Any], screen: Screen[Any]) -> None:
    """Leaves all screens over one. At once: Textual's own way waits, and where a key pressed
    meanwhile leaves a screen too, it leaves one too many."""
    while app.screen is not screen:
        app.pop_screen()
