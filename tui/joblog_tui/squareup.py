"""Squaring up: planned against what came, went, broke and is left, with what is not explained."""

from __future__ import annotations

from contextlib import suppress

from textual import work
from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.message import Message
from textual.screen import Screen
from textual.widgets import OptionList, Static

from joblog.form import describe, plain, reopening
from joblog.model import Closing, Reconciliation
from joblog.report.differences import known_line
from joblog.service import ServiceError
from joblog.service.desk import Desk
from joblog.service.done import say_done
from joblog.service.learning import jobs_that_teach
from joblog.service.record import last_closing, read_balance
from joblog_tui.behind import BehindScreen
from joblog_tui.closing import ask_to_close
from joblog_tui.fill_in import FillInScreen
from joblog_tui.pages import Page, page_names, pages
from joblog_tui.trouble import trouble_shown
from joblog_tui.widgets.balance_list import BalanceList
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.sheet import Sheet
from joblog_tui.wording import DONE, DOUBT, FAINT, counted, day_name


class SquareUpScreen(Screen[None]):
    DEFAULT_CSS = """
    SquareUpScreen {
        #head { background: $panel; padding: 0 1; height: auto; text-wrap: nowrap;
                text-overflow: ellipsis; }
        #pages { padding: 0; height: 1; text-wrap: nowrap; }
        Sheet { height: 7; border-top: solid $panel; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        # Before the list's own keys of that name, which would only hide these from the key bar.
        Binding("right", "page(1)", "next page", key_display="→", priority=True),
        Binding("left", "page(-1)", "page before", key_display="←", priority=True),
        Binding("plus", "fill_in", "fill in what is missing", key_display="+"),
        Binding("a", "all_done", "all of it, as planned"),
        Binding("c", "close", "close the job"),
        Binding("space", "turn", "more", key_display="space"),
        Binding("escape", "app.pop_screen", "back", key_display="esc"),
    ]

    class Teaching(Message):
        """How many jobs teach the rates, counted away from the keyboard."""

        def __init__(self, jobs: int) -> None:
            super().__init__()
            self.jobs = jobs

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._pages: tuple[Page, ...] = ()
        self._at = 0
        self._squared: Reconciliation | None = None
        self._last_closed: Closing | None = None
        self._teaching: int | None = None

    def compose(self) -> ComposeResult:
        yield Static(id="head", markup=False)
        yield Static(id="pages", markup=False)
        yield BalanceList()
        yield Sheet()
        yield KeyBar()

    def on_screen_resume(self) -> None:
        self._read()

    # --- what is shown ------------------------------------------------------------------------

    def _read(self) -> None:
        with trouble_shown(self):
            self._squared = read_balance(self._desk)
            self._last_closed = last_closing(self._desk)
            self._pages = pages(self._squared, self._last_closed)
            self._at = min(self._at, len(self._pages) - 1)
            self._lay_out()
            if self._last_closed is not None:
                self._count_teaching()

    @work(thread=True, exclusive=True)
    def _count_teaching(self) -> None:
        # The closing stands whether or not the others can be counted.
        with suppress(ServiceError, OSError):
            self.post_message(self.Teaching(jobs_that_teach(self._desk.book.folder)))

    def on_square_up_screen_teaching(self, counted: Teaching) -> None:
        self._teaching = counted.jobs
        self._show_head()

    def on_resize(self) -> None:
        if self._squared is not None:
            self._lay_out()

    def _lay_out(self) -> None:
        assert self._squared is not None
        self._pages = pages(self._squared, self._last_closed, self.app.size.width - 3)
        self._at = min(self._at, len(self._pages) - 1)
        self._show_head()
        self.query_one("#pages", Static).update(page_names(self._pages, self._at))
        self.query_one(BalanceList).lines = self._pages[self._at].lines
        self._show()

    def _show_head(self) -> None:
        if self._squared is not None:
            shown = head(self._squared, self._last_closed, self._teaching)
            self.query_one("#head", Static).update(shown)

    def on_option_list_option_highlighted(self, _moved: OptionList.OptionHighlighted) -> None:
        self._show()

    def _show(self) -> None:
        chosen = self.query_one(BalanceList).chosen
        empty = self._pages[self._at].empty if self._pages else ""
        self.query_one(Sheet).show(chosen.meaning if chosen else Content(empty))
        self.refresh_bindings()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        if action == "close":
            return self._last_closed is None or self._last_closed.reopened
        if action == "fill_in":
            line = self.query_one(BalanceList).chosen
            return line is not None and line.missing is not None
        if action == "all_done":
            return self._as_planned() is not None
        return action != "turn" or self.query_one(Sheet).longer

    # --- keys ---------------------------------------------------------------------------------

    def action_page(self, way: int) -> None:
        if self._pages:
            self._at = (self._at + way) % len(self._pages)
            self.query_one(BalanceList).start_anew()
            self._lay_out()

    def action_fill_in(self) -> None:
        line = self.query_one(BalanceList).chosen
        if line is not None and line.missing is not None:
            # Coming back reads it all anew, and shows what became of the figures.
            self.app.push_screen(FillInScreen(self._desk, line.missing))

    def _as_planned(self) -> str | None:
        """The task of the line, where all of it may be said to be done as planned."""
        line = self.query_one(BalanceList).chosen
        if line is None or line.missing is None or line.missing.what != "done":
            return None
        named = line.missing.name
        tasks = self._squared.tasks if self._squared is not None else ()
        return next((one.task for one in tasks if one.task == named and one.planned_quantity), None)

    def action_all_done(self) -> None:
        task = self._as_planned()
        if task is not None:
            with trouble_shown(self):
                kept = say_done(self._desk, task)
                self.notify(f"{describe(kept.entry)}. Undo takes it back.", markup=False)
                self._read()

    def action_turn(self) -> None:
        self.query_one(Sheet).turn()

    def action_close(self) -> None:
        with trouble_shown(self):
            ask_to_close(self, self._desk, self._read)

    def on_option_list_option_selected(self, _selected: OptionList.OptionSelected) -> None:
        line = self.query_one(BalanceList).chosen
        if line is None:
            return
        if line.entries or line.left_out:
            self.app.push_screen(BehindScreen(self._desk, line))
        else:
            self.notify("No entry stands behind this line.")


def head(
    squared: Reconciliation, closing: Closing | None = None, teaching: int | None = None
) -> Content:
    """The job, whether it is closed, and how far its figures can be relied on."""
    return Content("\n").join(
        [
            Content.styled(f"{plain(squared.job)}: square up", "bold"),
            *_closed(closing, teaching),
            _open(squared),
            *_known(squared),
        ]
    )


def _closed(closing: Closing | None, teaching: int | None) -> list[Content]:
    if closing is None:
        return []
    on = f"closed on {day_name(closing.day)}"
    if closing.reopened:
        why = reopening(closing.changed, closing.plan_changed, closing.told_on)
        return [Content.styled(f"{on}, {why}: teaches nothing now", f"bold {DOUBT}")]
    jobs = "" if teaching is None else f"; {counted(teaching, 'job')} {_teach(teaching)} now"
    return [Content.styled(f"{on}{jobs}", f"bold {DONE}")]


def _teach(jobs: int) -> str:
    return "teaches the rates" if jobs == 1 else "teach the rates"


def _open(squared: Reconciliation) -> Content:
    open_doubts = (
        (f"{counted(squared.open_doubts, 'doubt')} open, not counted here", f"bold {DOUBT}")
        if squared.open_doubts
        else ("no doubts open", DONE)
    )
    gaps = f", {counted(len(squared.gaps), 'thing')} missing" if squared.gaps else ""
    wrong = sum(gap.contradiction for gap in squared.gaps)
    many = counted(wrong, "thing")
    return Content.assemble(
        open_doubts,
        (gaps, FAINT),
        (f", {many} that cannot be true" if wrong else "", f"bold {DOUBT}"),
    )


def _known(squared: Reconciliation) -> list[Content]:
    known = known_line(squared.record) if squared.record is not None else ""
    return [Content.styled(f"known: {known}", FAINT)] if known else []
