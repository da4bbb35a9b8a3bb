"""A question that is answered with yes or no."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from joblog_tui.closed_once import ClosedOnce
from joblog_tui.widgets.keybar import KeyBar


class AskScreen(ModalScreen[bool], ClosedOnce[bool]):
    """Gives back whether the answer was yes. Enter is no answer: it is pressed without reading."""

    DEFAULT_CSS = """
    AskScreen {
        align: center bottom;
        #question { background: $surface; padding: 1 2; width: 100%; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("y", "dismiss(True)", "yes"),
        Binding("n,escape", "dismiss(False)", "no"),
    ]

    def __init__(self, question: Content) -> None:
        super().__init__()
        self._question = question

    def compose(self) -> ComposeResult:
        yield Static(self._question, id="question", markup=False)
        yield KeyBar()
