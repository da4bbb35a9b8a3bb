"""The line on which words are sought; what is found stands under it and moves by the arrows."""

from __future__ import annotations

from textual.binding import Binding
from textual.widgets import Input


class SoughtLine(Input):
    DEFAULT_CSS = """
    SoughtLine { margin: 0 1; width: 1fr; }
    """

    BINDINGS = [  # noqa: RUF012
        Binding("enter", "submit", "open it", key_display="enter"),
        Binding("down", "screen.move('cursor_down')", "up and down", key_display="↑ ↓"),
        Binding("up", "screen.move('cursor_up')", "up", show=False),
        Binding("pagedown", "screen.move('page_down')", "a page down", show=False),
        Binding("pageup", "screen.move('page_up')", "a page up", show=False),
    ]

    def __init__(self, words: str = "") -> None:
        super().__init__(
            words,
            placeholder="words that were said, or the name of a recording or photo",
            select_on_focus=False,
            compact=True,
        )
