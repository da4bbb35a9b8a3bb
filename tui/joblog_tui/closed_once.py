"""A screen that gives back what was chosen on it, once."""

from __future__ import annotations

from textual.await_complete import AwaitComplete
from textual.screen import Screen, ScreenResultType


class ClosedOnce(Screen[ScreenResultType]):
    """Textual takes away whatever screen is on top when any is dismissed. Keys that come fast are
    still on their way to a screen that the first of them has closed: those close nothing more."""

    def dismiss(self, result: ScreenResultType | None = None) -> AwaitComplete:
        return super().dismiss(result) if self.is_active else AwaitComplete()
