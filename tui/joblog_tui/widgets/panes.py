"""A list with what its line means: below it, or beside it where the screen is wide."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Container

from joblog_tui.widgets.headed_list import HeadedList
from joblog_tui.widgets.sheet import Sheet

WIDE = 110
"""Columns from which on both stand side by side."""


class Panes(Container):
    DEFAULT_CSS = """
    Panes {
        height: 1fr;
        layout: vertical;
        Sheet { height: 7; border-top: solid $panel; }
        &.-low Sheet { height: 5; }
        &.-wide { layout: horizontal; }
        &.-wide Sheet { height: 1fr; width: 1fr; border-top: none; border-left: solid $panel; }
    }
    """

    def __init__(self, enter: str) -> None:
        super().__init__()
        self._enter = enter

    def compose(self) -> ComposeResult:
        yield HeadedList(self._enter)
        yield Sheet()

    def on_resize(self) -> None:
        width, height = self.app.size
        self.set_class(width >= WIDE, "-wide")
        self.set_class(height < 24, "-low")
        self.query_one(HeadedList).styles.width = list_width(width) if width >= WIDE else "1fr"


def list_width(width: int) -> int:
    """Columns of the list on a screen of this width."""
    return width * 3 // 5 if width >= WIDE else width
