"""Two alike entries made into one: which other one, and what they say together."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.events import Key
from textual.screen import Screen
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from joblog.form import describe
from joblog.model import BookEntry
from joblog.service import decide
from joblog.service.desk import Desk
from joblog.service.editing import day_of
from joblog.service.parting import can_be_merged, together
from joblog_tui.guard import Guard
from joblog_tui.trouble import trouble_shown
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.lines import Lines
from joblog_tui.wording import DONE, FAINT, day_name, entry_line

_NONE = """\
There is no other entry like it: of the same kind, item, unit, size and place.
Where one differs only by a slip, edit that first."""


class MergeScreen(Screen[None]):
    DEFAULT_CSS = """
    MergeScreen {
        #head { background: $panel; padding: 0 1; height: auto; text-style: bold; }
        #would { padding: 0 1; height: auto; min-height: 2; border-top: solid $panel; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("escape", "app.pop_screen", "leave them two", key_display="esc"),
    ]

    def __init__(self, desk: Desk, entry: BookEntry) -> None:
        super().__init__()
        self._desk = desk
        self._entry = entry
        self._guard = Guard(self, ("enter",))
        self._others = {str(one.id): one for one in can_be_merged(desk, entry)}

    def compose(self) -> ComposeResult:
        yield Static(f"join with: {describe(self._entry.entry)}", id="head", markup=False)
        yield Lines("make them one")
        yield Static(_NONE, id="would", markup=False)
        yield KeyBar()

    def on_mount(self) -> None:
        self.query_one(Lines).fill(Option(self._line(one), id) for id, one in self._others.items())
        self._guard.renew()

    def takes(self, key: Key) -> bool:
        """Whether enter was pressed by somebody who saw what they are together."""
        return self._guard.takes(key)

    def _line(self, one: BookEntry) -> Content:
        day = day_name(day_of(self._desk, one))
        return Content.assemble((f"{day} ", FAINT), entry_line(one, self._desk.job.zone))

    def on_option_list_option_highlighted(self, moved: OptionList.OptionHighlighted) -> None:
        other = self._others[str(moved.option.id)]
        whole = together(self._entry.entry, other.entry)
        would = Content.assemble(("together: ", FAINT), (describe(whole), f"bold {DONE}"))
        self.query_one("#would", Static).update(would)

    def on_option_list_option_selected(self, chosen: OptionList.OptionSelected) -> None:
        with trouble_shown(self):
            decide.merge(self._desk, self._entry.id, int(str(chosen.option.id)))
            self.app.pop_screen()
            self.app.notify("They are one now.")
