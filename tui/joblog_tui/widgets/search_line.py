"""The line on which words to look for are typed; it is there only while something is looked for."""

from __future__ import annotations

from textual.binding import Binding
from textual.widgets import Input


class SearchLine(Input):
    DEFAULT_CSS = """
    SearchLine { display: none; margin: 0 1; width: 1fr; }
    SearchLine.-open { display: block; }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("enter", "submit", "to the list", key_display="enter"),
        Binding("down", "submit", "to the list", show=False),
    ]

    def __init__(self) -> None:
        super().__init__(placeholder="words of the name", compact=True)

    def open(self) -> None:
        self.add_class("-open")
        self.focus()

    def close(self) -> None:
        """Empty and out of sight; what listens is told as of any other change of the words."""
        self.clear()
        self.remove_class("-open")

    @property
    def is_open(self) -> bool:
        return self.has_class("-open")
