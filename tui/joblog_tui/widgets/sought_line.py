"""The line on which words are sought; what is found stands under it and moves by the arrows."""

from __future__ import annotations

from textual.widgets import Input


class SoughtLine(Input):
    DEFAULT_CSS = """
    SoughtLine { margin: 0 1; width: 1fr; }
    """

    def __init__(self, words: str = "") -> None:
        super().__init__(
            words,
            placeholder="words that were said, or the name of a recording or photo",
            select_on_focus=False,
            compact=True,
        )
