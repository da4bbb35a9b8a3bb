"""A named field with the text in it, and under it what is wrong with that text."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.reactive import reactive
from textual.widgets import Static

from joblog.form import plain
from joblog_tui.widgets.field_line import FieldLine
from joblog_tui.wording import in_doubt


class Field(Vertical):
    DEFAULT_CSS = """
    Field {
        height: auto;
        Horizontal { height: 1; }
        .called { width: 15; padding: 0 1; color: $foreground-muted; }
        FieldLine { width: 1fr; margin: 0 1 0 0; }
        .trouble { height: auto; padding: 0 1 0 15; display: none; }
        &.-wrong .trouble { display: block; }
    }
    """

    trouble: reactive[str] = reactive("", init=False)
    """Why the text cannot be kept; empty where nothing is known against it."""

    def __init__(self, called: str, text: str, enter: str = "save") -> None:
        super().__init__()
        self._enter = enter
        self.called = called
        self.before = plain(text)

    def compose(self) -> ComposeResult:
        with Horizontal():
            yield Static(self.called, classes="called", markup=False)
            yield FieldLine(self.before, self._enter)
        yield Static(classes="trouble", markup=False)

    @property
    def text(self) -> str:
        return self.query_one(FieldLine).value

    @property
    def changed(self) -> bool:
        return self.text != self.before

    def enter(self) -> None:
        self.query_one(FieldLine).focus()

    def watch_trouble(self, why: str) -> None:
        self.query_one(".trouble", Static).update(in_doubt(why))
        self.set_class(bool(why), "-wrong")
