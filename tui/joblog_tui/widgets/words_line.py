"""A line of words to put right."""

from __future__ import annotations

from textual.binding import Binding
from textual.widgets import Input


class WordsLine(Input):
    BINDINGS = [  # noqa: RUF012
        Binding("enter", "submit", "save", key_display="enter"),
        Binding("ctrl+u", "clear_line", "empty the line"),
    ]

    def __init__(self, words: str, *, compact: bool = False) -> None:
        super().__init__(words, select_on_focus=False, compact=compact)

    def action_clear_line(self) -> None:
        self.clear()
