"""Everything of one entry, a line for each field, to be put right field by field."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from joblog.form import describe
from joblog.service import record
from joblog.service.desk import Desk
from joblog_tui.trouble import trouble_shown
from joblog_tui.widgets.keybar import KeyBar


class EntryScreen(Screen[None]):
    """What is decided on it is kept at once; leaving it loses nothing."""

    DEFAULT_CSS = """
    EntryScreen {
        #head { background: $panel; padding: 0 1; height: auto; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("escape", "app.pop_screen", "back", key_display="esc"),
    ]

    def __init__(self, desk: Desk, entry: int) -> None:
        super().__init__()
        self._desk = desk
        self._entry = entry

    def compose(self) -> ComposeResult:
        yield Static(id="head", markup=False)
        yield KeyBar()

    def on_screen_resume(self) -> None:
        with trouble_shown(self):
            newest = record.versions(self._desk, self._entry)[-1]
            self.query_one("#head", Static).update(Content(describe(newest.entry)))
