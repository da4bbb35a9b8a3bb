"""Every step of the job, the latest first: when, who and what; also what was taken back."""

from __future__ import annotations

from collections.abc import Sequence
from zoneinfo import ZoneInfo

from textual.binding import Binding
from textual.content import Content

from joblog.form import plain
from joblog.local import clock_written, day_written, moment_written
from joblog.model import Step
from joblog.service import decide
from joblog.service.desk import Desk
from joblog.service.record import local_day
from joblog_tui.behind import BehindScreen
from joblog_tui.bin import BinScreen
from joblog_tui.columns import fitted
from joblog_tui.listed import ListedScreen, ListLine
from joblog_tui.squared_row import SquaredRow
from joblog_tui.wording import FAINT, counted

MOST = 1000
"""Steps that are listed; a longer list would be slow to draw, and nobody reads it."""

_YOU = "you"
_STATE = {"done": " ", "undone": "↶", "forgotten": "×"}
_STATE_WORDS = {
    "done": "",
    "undone": "taken back; r does it again",
    "forgotten": "taken back, and something else was decided since; b: the bin brings it back",
}


class HistoryScreen(ListedScreen):
    ENTER = "open the entry"
    BINDINGS = [  # noqa: RUF012
        Binding("b", "bin", "the bin"),
    ]

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._steps: tuple[Step, ...] = ()
        self._all = 0

    def read(self) -> None:
        every = decide.steps(self._desk)
        self._all = len(every)
        self._steps = every[-MOST:][::-1]

    def head(self) -> Content:
        back = sum(step.state != "done" for step in self._steps)
        more = f", the last {MOST} of them here" if self._all > MOST else ""
        taken = f"; {back} taken back" if back else ""
        return Content.assemble(
            (plain(self._desk.job.name), "bold"), f": {counted(self._all, 'step')}{more}{taken}"
        )

    def lines(self, width: int) -> Sequence[ListLine]:
        return [self._line(step, width) for step in self._steps]

    def empty(self) -> str:
        return "Nothing was decided in this job yet."

    def _line(self, step: Step, width: int) -> ListLine:
        at = step.at.astimezone(ZoneInfo(self._desk.job.zone))
        day = day_written(local_day(step.at, ZoneInfo(self._desk.job.zone)))
        clock = f"{clock_written(at):>8}"
        undone = step.state != "done"
        who = "" if step.who == _YOU else f" ({plain(step.who)})"
        what = fitted(f"{plain(step.what)}{who}", max(10, width - len(clock) - 5))
        shown = Content.assemble(
            (f"{_STATE[step.state]} ", "bold"),
            (f"{clock}  ", FAINT),
            (what, f"{FAINT} strike" if undone else ""),
        )
        meaning = [
            Content.styled(plain(step.what), "bold"),
            Content.styled(f"{day}, {clock.strip()}, by {plain(step.who)}", FAINT),
        ]
        for turn in step.turns:
            when = turn.at.astimezone(ZoneInfo(self._desk.job.zone))
            told = "taken back" if turn.undone else "done again"
            meaning.append(Content.styled(f"{told} {moment_written(when)}, by {turn.who}", FAINT))
        if undone:
            meaning.append(Content(_STATE_WORDS[step.state]))
        if len(step.jobs) > 1:
            meaning.append(Content(f"in {', '.join(map(plain, step.jobs))}"))
        [*_, entry] = [None, *step.entries[:1]]
        return ListLine(day, shown, str(step.id), Content("\n").join(meaning), entry)

    def action_bin(self) -> None:
        self.app.push_screen(BinScreen(self._desk))

    def open(self, line: ListLine) -> None:
        step = next(step for step in self._steps if str(step.id) == line.id)
        if len(step.entries) > 1:
            row = SquaredRow("", "", line.meaning, step.entries)
            self.app.push_screen(BehindScreen(self._desk, row))
        else:
            super().open(line)
