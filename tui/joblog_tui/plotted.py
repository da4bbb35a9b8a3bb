"""A list with a plot of the line under the cursor below it; enter gives the plot all the room."""

from __future__ import annotations

from textual.binding import Binding
from textual.screen import ScreenResultType
from textual.widgets import OptionList

from joblog_tui.closed_once import ClosedOnce
from joblog_tui.widgets.lines import Lines


class PlottedScreen(ClosedOnce[ScreenResultType]):
    """Where the plot has all the room, up and down still go through the list."""

    DEFAULT_CSS = """
    PlottedScreen {
        &.-large #head, &.-large HeadedList { display: none; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("down", "step(1)", "other line", key_display="↑ ↓"),
        Binding("up", "step(-1)", "other line", show=False),
        Binding("space", "turn", "more", key_display="space"),
        Binding("escape", "back", "back", key_display="esc"),
    ]
    VERTICAL_BREAKPOINTS = [(0, "-short"), (24, "-tall")]  # noqa: RUF012

    def on_option_list_option_selected(self, _selected: OptionList.OptionSelected) -> None:
        self.add_class("-large")
        self.refresh_bindings()

    def action_step(self, way: int) -> None:
        lines = self.query_one(Lines)
        if way > 0:
            lines.action_cursor_down()
        else:
            lines.action_cursor_up()

    def action_back(self) -> None:
        if self.has_class("-large"):
            self.remove_class("-large")
            self.query_one(Lines).focus()
        else:
            self.dismiss()
