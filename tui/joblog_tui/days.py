"""The days of the job: what each holds, and where decisions wait."""

from __future__ import annotations

from datetime import date

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import OptionList, Static

from joblog.form import amount, plain
from joblog.model import Reading
from joblog.service.desk import Desk
from joblog.service.looks import keep_theme, theme_kept
from joblog.service.questions import questions
from joblog.service.record import DayLine, changed_since, read_days
from joblog.service.signing import signed
from joblog.service.words import read_words
from joblog_tui import themes
from joblog_tui.begin import HOW
from joblog_tui.polled import read_on_change
from joblog_tui.questions import QuestionsScreen
from joblog_tui.trouble import trouble_shown
from joblog_tui.widgets.day_list import DayList
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.lines import Lines
from joblog_tui.widgets.tally import Tally
from joblog_tui.widgets.trial import Trial
from joblog_tui.wording import counted

_NOTHING_YET = f"There is nothing in this job yet.\n\n{HOW}"


class DaysScreen(Screen[None]):
    AUTO_FOCUS = ""
    DEFAULT_CSS = """
    DaysScreen {
        #nothing { padding: 1 1; height: auto; }
        #empty { height: 1fr; display: none; scrollbar-size-vertical: 1; }
        &.-empty #empty { display: block; }
        &.-empty DayList { display: none; }
        &.-empty Tally #meaning { display: none; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("n", "questions", "next question"),
        Binding("w", "trial", "try a sentence"),
        Binding("f2", "colours", "light or dark", show=False),
        Binding("escape", "leave_trial", "to the days", show=False),
    ]

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._days: tuple[DayLine, ...] = ()

    def compose(self) -> ComposeResult:
        yield Tally()
        yield DayList()
        with VerticalScroll(id="empty", can_focus=False):
            yield Static(_NOTHING_YET, id="nothing", markup=False)
            yield Trial(self._try)
        yield KeyBar()

    def on_mount(self) -> None:
        with trouble_shown(self):
            themes.put_on(self.app, theme_kept(self._desk))
        read_on_change(self, self._desk, self._read)

    def on_screen_resume(self) -> None:
        self._read()

    def _read(self) -> None:
        with trouble_shown(self):
            changed_since(self._desk)
            self._days = read_days(self._desk)
            self.set_class(not self._days, "-empty")
            if not self._days:
                self.set_focus(None)
            elif self.focused is None:
                self.query_one(Lines).focus()
            self.refresh_bindings()
            self.query_one(DayList).signed = signed(self._desk)
            tally = self.query_one(Tally)
            tally.about = self._about()
            doubts = sum(line.doubts for line in self._days)
            # Without a doubt, a look at the words of a record may still be asked for.
            tally.left = doubts or len(questions(self._desk))
            self.query_one(DayList).days = self._days

    def _about(self) -> Content:
        entries = sum(line.entries for line in self._days)
        photos = sum(line.photos for line in self._days)
        hours = [line.crew_hours for line in self._days if line.crew_hours is not None]
        return Content("\n").join(
            [
                Content.styled(plain(self._desk.job.name), "bold"),
                Content(counted(len(self._days), "day")),
                Content(
                    f"{counted(entries, 'entry', 'entries')}, {counted(photos, 'photo')}, "
                    f"{amount(sum(hours, start=hours[0] * 0)) if hours else '?'} man-hours"
                ),
            ]
        )

    def on_option_list_option_selected(self, _selected: OptionList.OptionSelected) -> None:
        self._open_chosen()

    def _open_chosen(self) -> None:
        chosen = self.query_one(DayList).chosen
        if chosen is not None:
            self._open(chosen)

    def action_colours(self) -> None:
        with trouble_shown(self):
            keep_theme(self._desk, themes.other(self.app))

    def action_trial(self) -> None:
        self.query_one(Trial).enter()

    def action_leave_trial(self) -> None:
        self.set_focus(None)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        return action not in ("trial", "leave_trial") or self.has_class("-empty")

    def _try(self, words: str) -> Reading:
        return read_words(words, self._desk.vocabulary)[0]

    def action_questions(self) -> None:
        self.app.push_screen(QuestionsScreen(self._desk))

    def _open(self, day: date) -> None:
        from joblog_tui.day import DayScreen

        self.app.push_screen(DayScreen(self._desk, day))
