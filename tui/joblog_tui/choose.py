"""A question with a few answers, each with its number."""

from __future__ import annotations

from collections.abc import Sequence

from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.events import Key
from textual.screen import ModalScreen
from textual.widgets import Static

from joblog_tui.closed_once import ClosedOnce
from joblog_tui.widgets.keybar import KeyBar


class ChooseScreen(ModalScreen[int], ClosedOnce[int]):
    """Closes with the place of the answer, the first one being 0, or None where it was left."""

    DEFAULT_CSS = """
    ChooseScreen {
        align: center bottom;
        #question { width: 100%; padding: 1 2; background: $panel; border-top: solid $primary; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("escape", "leave", "neither", key_display="esc"),
    ]

    def __init__(self, question: str, answers: Sequence[str]) -> None:
        super().__init__()
        self._question = question
        self._answers = tuple(answers)

    def compose(self) -> ComposeResult:
        lines = [
            Content.assemble((f"{number}", "bold $accent"), f"  {answer}")
            for number, answer in enumerate(self._answers, 1)
        ]
        shown = Content("\n").join([Content.styled(self._question, "bold"), *lines])
        yield Static(shown, id="question", markup=False)
        yield KeyBar()

    def on_key(self, key: Key) -> None:
        if key.key.isdigit() and 1 <= int(key.key) <= len(self._answers):
            key.stop()
            self.dismiss(int(key.key) - 1)

    def action_leave(self) -> None:
        self.dismiss(None)
