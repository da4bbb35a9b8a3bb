"""Squaring up: planned against what came, went, broke and is left, with what is not explained."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.screen import Screen
from textual.widgets import OptionList, Static

from joblog.form import plain
from joblog.model import Reconciliation
from tui.balance import balance
from tui.behind import BehindScreen
from tui.desk import Desk, read_balance
from tui.told import trouble_told
from tui.widgets.balance_list import BalanceList
from tui.widgets.keybar import KeyBar
from tui.widgets.sheet import Sheet
from tui.wording import DONE, DOUBT, FAINT, counted


class SquareUpScreen(Screen[None]):
    DEFAULT_CSS = """
    SquareUpScreen {
        #head { background: $panel; padding: 0 1; height: 2; text-wrap: nowrap; }
        Sheet { height: 7; border-top: solid $panel; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("space", "turn", "more", key_display="space"),
        Binding("escape", "app.pop_screen", "back", key_display="esc"),
    ]

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk

    def compose(self) -> ComposeResult:
        yield Static(id="head", markup=False)
        yield BalanceList()
        yield Sheet()
        yield KeyBar()

    def on_screen_resume(self) -> None:
        self._read()

    def _read(self) -> None:
        with trouble_told(self):
            squared = read_balance(self._desk)
            self.query_one("#head", Static).update(head(squared))
            self.query_one(BalanceList).lines = balance(squared)
            self._show()

    def on_option_list_option_highlighted(self, _moved: OptionList.OptionHighlighted) -> None:
        self._show()

    def on_option_list_option_selected(self, _selected: OptionList.OptionSelected) -> None:
        self._open_behind()

    def _show(self) -> None:
        lines = self.query_one(BalanceList)
        empty = "Nothing to square up yet: no plan and no entries."
        self.query_one(Sheet).show(lines.chosen.meaning if lines.chosen else Content(empty))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        return action != "turn" or self.query_one(Sheet).longer

    def action_turn(self) -> None:
        self.query_one(Sheet).turn()

    def _open_behind(self) -> None:
        line = self.query_one(BalanceList).chosen
        if line is None:
            return
        if line.entries or line.left_out:
            self.app.push_screen(BehindScreen(self._desk, line))
        else:
            self.notify("No entry stands behind this line.")


def head(squared: Reconciliation) -> Content:
    """Two lines: the job, and whether the figures can be relied on."""
    open_doubts = (
        (f"{counted(squared.open_doubts, 'doubt')} open, not counted here", f"bold {DOUBT}")
        if squared.open_doubts
        else ("no doubts open", DONE)
    )
    missing = counted(len(squared.gaps), "thing") + " missing, at the end of the list"
    return Content.assemble(
        (f"{plain(squared.job)}: square up\n", "bold"),
        open_doubts,
        (f", {missing}" if squared.gaps else "", FAINT),
    )
