"""Another program may write into the book while a screen is open: it is looked for now and then."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from textual.screen import Screen

from joblog.service.desk import Desk
from joblog.service.record import changed_since
from joblog_tui.trouble import trouble_shown

EVERY = 1.0
"""Seconds. Asking reads no row of the book."""


def read_on_change(screen: Screen[Any], desk: Desk, read: Callable[[], None]) -> None:
    """Lets the screen read anew, while it is in sight, when the book was written into."""

    def look() -> None:
        # Only the one on top asks: a change is told once.
        if screen.is_mounted and screen.app.screen is screen:
            with trouble_shown(screen):
                if changed_since(desk):
                    read()

    screen.set_interval(EVERY, look)
