"""What counts no more: what went last comes first, and stands again at a key."""

from __future__ import annotations

from collections.abc import Sequence
from zoneinfo import ZoneInfo

from textual.binding import Binding
from textual.content import Content

from joblog.form import plain
from joblog.local import clock_written, day_written
from joblog.report.kept import how_it_went
from joblog.service import bin as bins
from joblog.service.bin import Binned
from joblog.service.desk import Desk
from joblog.service.record import local_day
from joblog_tui.behind import BehindScreen
from joblog_tui.columns import fitted
from joblog_tui.listed import DecidingList, ListLine
from joblog_tui.squared_row import SquaredRow
from joblog_tui.trouble import trouble_shown
from joblog_tui.wording import FAINT, counted

MOST = 1000
"""Lines that are listed; a longer list would be slow to draw, and nobody reads it."""


class BinScreen(DecidingList):
    DECIDE = ("b",)
    ENTER = "open the entry"
    BINDINGS = [  # noqa: RUF012
        Binding("b", "bring_back", "bring it back"),
        Binding("tab", "widen", "this job or all", key_display="tab"),
    ]

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._found: tuple[Binned, ...] = ()
        self._every_job = False

    def read(self) -> None:
        job = None if self._every_job else self._desk.job.name
        self._found = bins.binned(self._desk.book, job)

    def head(self) -> Content:
        where = "all jobs" if self._every_job else plain(self._desk.job.name)
        more = f", the last {MOST} of them here" if len(self._found) > MOST else ""
        many = counted(len(self._found), "step")
        return Content.assemble((where, "bold"), f", the bin: what went with {many}{more}")

    def lines(self, width: int) -> Sequence[ListLine]:
        return [self._line(one, width) for one in self._found[:MOST]]

    def empty(self) -> str:
        where = "The bin" if self._every_job else "The bin of this job"
        return f"{where} is empty: nothing was dropped, replaced or taken back that does not stand."

    def _line(self, one: Binned, width: int) -> ListLine:
        zone = ZoneInfo(self._desk.job.zone)
        day = day_written(local_day(one.at, zone))
        clock = f"{clock_written(one.at.astimezone(zone)):>8}"
        how = plain(how_it_went(one))
        told = f"{how}: {'; '.join(map(plain, one.things))}"
        what = fitted(told, max(10, width - len(clock) - 2))
        meaning = [
            *(Content.styled(plain(thing), "bold") for thing in one.things[:_FEW]),
            *([Content(f"and {len(one.things) - _FEW} more")] if len(one.things) > _FEW else []),
            Content.styled(f"{how}, {day}, {clock.strip()}, by {plain(one.step.who)}", FAINT),
            Content.styled(plain(one.step.what), FAINT),
        ]
        if one.step.jobs != (self._desk.job.name,):
            meaning.append(Content(f"in {', '.join(map(plain, one.step.jobs)) or 'all jobs'}"))
        shown = Content.assemble((f"{clock}  ", FAINT), what)
        [*_, entry] = [None, *one.entries[:1]]
        return ListLine(day, shown, str(one.step.id), Content("\n").join(meaning), entry)

    # --- keys ---------------------------------------------------------------------------------

    def open(self, line: ListLine) -> None:
        one = next(one for one in self._found if str(one.step.id) == line.id)
        if len(one.entries) > 1:
            row = SquaredRow("", "", line.meaning, one.entries)
            self.app.push_screen(BehindScreen(self._desk, row))
        else:
            super().open(line)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        if action == "bring_back":
            return self.chosen is not None
        return super().check_action(action, parameters)

    def action_bring_back(self) -> None:
        line = self.chosen
        if line is None:
            return
        with trouble_shown(self):
            step = bins.bring_back_here(self._desk, int(line.id))
            self.read_anew()
            self.notify(f"{plain(step.what)}. u takes it back.")

    def action_widen(self) -> None:
        self._every_job = not self._every_job
        self.read_anew()


_FEW = 12
"""Things that are told of one step; a table that came in may have thousands."""
