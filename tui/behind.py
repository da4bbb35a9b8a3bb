"""The entries behind one line of the reconciliation."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.screen import Screen
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from joblog.model import BookEntry
from tui.balance import Line
from tui.desk import Desk, local_day, read_entries
from tui.told import trouble_told
from tui.widgets.keybar import KeyBar
from tui.widgets.lines import Lines
from tui.wording import DOUBT, FAINT, day_name, entry_line


class BehindScreen(Screen[None]):
    DEFAULT_CSS = """
    BehindScreen {
        #head { background: $panel; padding: 0 1; height: auto; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("escape", "app.pop_screen", "back", key_display="esc"),
    ]

    def __init__(self, desk: Desk, line: Line) -> None:
        super().__init__()
        self._desk = desk
        self._line = line
        self._entries: dict[int, BookEntry] = {}

    def compose(self) -> ComposeResult:
        yield Static(self._line.meaning, id="head", markup=False)
        yield Lines("open it in its day")
        yield KeyBar()

    def on_screen_resume(self) -> None:
        self._read()

    def _read(self) -> None:
        with trouble_told(self):
            ids = (*self._line.entries, *self._line.left_out)
            every = {entry.id: entry for entry in read_entries(self._desk)}
            self._entries = {id: every[id] for id in dict.fromkeys(ids)}
            self.query_one(Lines).fill(
                Option(self._shown(entry), str(entry.id)) for entry in self._entries.values()
            )

    def _shown(self, entry: BookEntry) -> Content:
        day = local_day(entry.at, ZoneInfo(self._desk.job.zone))
        left_out = ("  not counted", DOUBT) if entry.id in self._line.left_out else ""
        return Content.assemble(
            (f"{day_name(day)} ", FAINT), entry_line(entry, self._desk.job.zone), left_out
        )

    def on_option_list_option_selected(self, _selected: OptionList.OptionSelected) -> None:
        self._open_chosen()

    def _open_chosen(self) -> None:
        from tui.day import DayScreen

        chosen = self.query_one(Lines).chosen
        if chosen is not None:
            entry = self._entries[int(chosen)]
            day = local_day(entry.at, ZoneInfo(self._desk.job.zone))
            self.app.push_screen(DayScreen(self._desk, day, entry.id))
