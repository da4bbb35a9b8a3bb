"""Closing a job: what is in the way is told, with the entries behind it; else it is asked once."""

from __future__ import annotations

from collections.abc import Callable

from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.screen import Screen
from textual.widgets import OptionList, Static

from joblog.form import plain
from joblog.service import Desk, closing
from joblog.service.closing import Draft
from joblog_tui.ask import AskScreen
from joblog_tui.behind import BehindScreen
from joblog_tui.squared_row import SquaredRow
from joblog_tui.trouble import trouble_shown
from joblog_tui.widgets.balance_list import BalanceList
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.sheet import Sheet
from joblog_tui.wording import DOUBT, counted, day_name


def ask_to_close(screen: Screen[None], desk: Desk, done: Callable[[], None]) -> None:
    """Asks whether to close the job, after showing what is in the way, if anything is.

    `done` is called when it was closed. Raises ServiceError when there is nothing to close.
    """
    draft = closing.draft_closing(desk)
    if draft.obstacles:
        screen.app.push_screen(InTheWayScreen(desk), lambda _: done())
    else:
        _ask(screen, desk, draft, done)


class InTheWayScreen(Screen[None]):
    """Why the job should not be closed yet; Enter shows the entries, and one key closes it yet."""

    DEFAULT_CSS = """
    InTheWayScreen {
        #head { background: $panel; padding: 0 1; height: auto; }
        Sheet { height: 6; border-top: solid $panel; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("c", "close", "close it anyway"),
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
        with trouble_shown(self):
            self._show(_obstacles(closing.draft_closing(self._desk)))

    def _show(self, obstacles: tuple[SquaredRow, ...]) -> None:
        count = counted(len(obstacles), "thing is", "things are")
        why = f"{count} in the way. Enter shows the entries." if obstacles else _NOTHING_LEFT
        self.query_one("#head", Static).update(
            Content.assemble((f"{plain(self._desk.job.name)} is not closed.", "bold"), f" {why}")
        )
        self.query_one(BalanceList).lines = obstacles
        self._explain()

    def on_option_list_option_highlighted(self, _moved: OptionList.OptionHighlighted) -> None:
        self._explain()

    def _explain(self) -> None:
        chosen = self.query_one(BalanceList).chosen
        self.query_one(Sheet).show(chosen.meaning if chosen else Content(""))

    def on_option_list_option_selected(self, _selected: OptionList.OptionSelected) -> None:
        chosen = self.query_one(BalanceList).chosen
        if chosen is not None and chosen.entries:
            self.app.push_screen(BehindScreen(self._desk, chosen))
        elif chosen is not None:
            self.notify("No entry stands behind this line.")

    def action_close(self) -> None:
        with trouble_shown(self):
            _ask(self, self._desk, closing.draft_closing(self._desk), self.dismiss)


_NOTHING_LEFT = "Nothing is in the way any more."


def _obstacles(draft: Draft) -> tuple[SquaredRow, ...]:
    return tuple(
        SquaredRow("in the way of closing", why, Content(why), found.entries)
        for found in draft.obstacles
        for why in [plain(found.why)]
    )


def _ask(screen: Screen[None], desk: Desk, draft: Draft, done: Callable[[], object]) -> None:
    def close(sure: bool | None) -> None:
        if not sure:
            return
        with trouble_shown(screen):
            closing.close(desk, draft)
            screen.notify(_CLOSED)
            done()

    screen.app.push_screen(AskScreen(_question(desk, draft)), close)


_CLOSED = "The job is closed. Whatever changes in it later reopens it."


def _question(desk: Desk, draft: Draft) -> Content:
    missing = [gap for gap in draft.figures.gaps if not gap.contradiction]
    frozen = f" What is missing stays so: {counted(len(missing), 'thing')}." if missing else ""
    over = (
        (
            f" {counted(len(draft.obstacles), 'thing is', 'things are')} in the way; what they are"
            " about teaches nothing.",
            f"bold {DOUBT}",
        )
        if draft.obstacles
        else ""
    )
    return Content.assemble(
        "Close ",
        (plain(desk.job.name), "bold"),
        f" on {day_name(draft.day)}, its last day? Its figures are kept as they stand, and the "
        f"next bid learns from them.{frozen}",
        over,
    )
