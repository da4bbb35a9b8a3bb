"""Trouble with the book, shown in plain words instead of a traceback."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from textual.css.query import NoMatches
from textual.widget import Widget

from joblog.form import plain
from joblog.service import ServiceError


@contextmanager
def trouble_shown(screen: Widget) -> Iterator[None]:
    """Runs what the book is asked; a refusal becomes a notification and the rest is skipped."""
    try:
        yield
    except NoMatches:
        # What waited until it was drawn finds its parts gone when the screen is being left.
        open_ones = screen.app.screen_stack
        if any(one in open_ones for one in screen.ancestors_with_self):
            raise
    except (ServiceError, OSError) as trouble:
        screen.notify(plain(str(trouble)), severity="error", timeout=12, markup=False)
