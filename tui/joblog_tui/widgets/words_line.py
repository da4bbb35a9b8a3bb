"""A line of words to put right."""

from __future__ import annotations

from textual.binding import Binding
from textual.widgets import Input


class WordsLine(Input):
    BINDINGS = [  # noqa: RUF012
        Binding("ctrl+u", "clear_line", "empty the line"),
    ]

    def __init__(self, words: str, *, compact: bool = False, enter: str = "save") -> None:
        super().__init__(words, select_on_focus=False, compact=compact)
        self._bindings.key_to_bindings["enter"] = [
            Binding("enter", "submit", enter, key_display="enter")
        ]

    def action_clear_line(self) -> None:
        self.clear()
