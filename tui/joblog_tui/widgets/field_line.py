"""The line in a field of a form; the arrows go on to the other fields."""

from __future__ import annotations

from textual.binding import Binding

from joblog_tui.widgets.words_line import WordsLine


class FieldLine(WordsLine):
    BINDINGS = [  # noqa: RUF012
        Binding("down", "app.focus_next", "other field", key_display="↑ ↓"),
        Binding("up", "app.focus_previous", "other field", show=False),
    ]

    def __init__(self, text: str, enter: str = "save") -> None:
        super().__init__(text, compact=True, enter=enter)
