"""Closing a job: what is in the way is told, with the entries behind it; else it is asked once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.screen import Screen
from textual.widgets import OptionList, Static

from joblog.book import BookError
from joblog.book.closing import in_the_way
from joblog.form import plain
from joblog.model import BookEntry, Reconciliation
from joblog.reconcile import reconcile, sensed
from joblog_tui.ask import AskScreen
from joblog_tui.behind import BehindScreen
from joblog_tui.desk import Desk, read_catalog
from joblog_tui.squared_row import SquaredRow
from joblog_tui.trouble import trouble_shown
from joblog_tui.widgets.balance_list import BalanceList
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.sheet import Sheet
from joblog_tui.wording import DOUBT, counted, day_name


@dataclass(frozen=True, slots=True)
class _Draft:
    """A job as it would be closed now."""

    figures: Reconciliation
    entries: tuple[BookEntry, ...]
    obstacles: tuple[SquaredRow, ...]


def ask_to_close(screen: Screen[None], desk: Desk, done: Callable[[], None]) -> None:
    """Asks whether to close the job, after showing what is in the way, if anything is.

    `done` is called when it was closed. Raises BookError when there is nothing to close.
    """
    if not desk.book.days(desk.job.name):
        raise BookError(f"{desk.job.name}: nothing was said yet, so there is nothing to close.")
    draft = _draft(desk)
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
            self._show(_draft(self._desk).obstacles)

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
            _ask(self, self._desk, _draft(self._desk), self.dismiss)


_NOTHING_LEFT = "Nothing is in the way any more."


def _draft(desk: Desk) -> _Draft:
    entries, catalog = desk.book.entries(desk.job.name), read_catalog(desk)
    figures = reconcile(desk.job, desk.plan, entries, catalog)
    weighed = sensed(desk.job, desk.plan, entries, catalog)
    return _Draft(figures, entries, _obstacles(desk, figures, weighed))


def _obstacles(
    desk: Desk, figures: Reconciliation, entries: tuple[BookEntry, ...]
) -> tuple[SquaredRow, ...]:
    return tuple(
        SquaredRow("in the way of closing", why, Content(why), found.entries)
        for found in in_the_way(desk.plan, figures, entries)
        for why in [plain(found.why)]
    )


def _ask(screen: Screen[None], desk: Desk, draft: _Draft, done: Callable[[], object]) -> None:
    def close(sure: bool | None) -> None:
        if not sure:
            return
        with trouble_shown(screen):
            day = desk.book.days(desk.job.name)[-1]
            desk.book.close_job(desk.job.name, day, draft.figures, draft.entries)
            screen.notify(_CLOSED)
            done()

    screen.app.push_screen(AskScreen(_question(desk, draft)), close)


_CLOSED = "The job is closed. Whatever changes in it later reopens it."


def _question(desk: Desk, draft: _Draft) -> Content:
    day = desk.book.days(desk.job.name)[-1]
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
        f" on {day_name(day)}, its last day? Its figures are kept as they stand, and the next bid "
        f"learns from them.{frozen}",
        over,
    )
