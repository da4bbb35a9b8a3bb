"""A new item or task for the catalog, on one line."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Input, Static

from joblog.form import plain
from joblog.plan.catalog_csv import with_fields
from tui.desk import Desk
from tui.told import trouble_told
from tui.widgets.keybar import KeyBar
from tui.wording import DOUBT

_ASK = """\
An item: its name and the unit it is counted in, such as: soffit clip, each
A task: its name, the unit, and how many an hour, such as: set posts, each, 3"""


class NewLineScreen(Screen[str | None]):
    """Gives back the name that was added, or None when it was left."""

    DEFAULT_CSS = """
    NewLineScreen {
        #head { background: $panel; padding: 0 1; height: 1; text-style: bold; }
        #ask { padding: 1 1; color: $foreground-muted; }
        #trouble { padding: 1 1; height: 1fr; }
        Input { margin: 0 1; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("escape", "leave", "leave it", key_display="esc"),
    ]

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk

    def compose(self) -> ComposeResult:
        yield Static("catalog: add one", id="head", markup=False)
        yield Static(_ASK, id="ask", markup=False)
        yield Input()
        yield Static(id="trouble", markup=False)
        yield KeyBar()

    def on_input_submitted(self, submitted: Input.Submitted) -> None:
        name, *rest = (" ".join(part.lower().split()) for part in submitted.value.split(","))
        fields = dict(zip(("unit", "per hour"), rest, strict=False))
        try:
            if len(rest) not in (1, 2):
                raise ValueError("needs a name and a unit, with a comma between them")
            taken = self._desk.book.catalog()
            names = [*(one.name for one in taken.items), *(one.name for one in taken.tasks)]
            if name in names:
                raise ValueError("is in the catalog already")
            with trouble_told(self):
                self._desk.book.change_catalog(lambda now: with_fields(now, name, fields))
        except ValueError as error:
            words = Content.styled(plain(f"{name or 'it'} {error}"), DOUBT)
            self.query_one("#trouble", Static).update(words)
            return
        self.dismiss(name)

    def action_leave(self) -> None:
        self.dismiss(None)
