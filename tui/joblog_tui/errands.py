"""What is to do, to buy and to settle, over all days of the job; what has a day comes first."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from zoneinfo import ZoneInfo

from textual.binding import Binding
from textual.content import Content

from joblog.form import describe, plain, units_of
from joblog.local import day_written
from joblog.model import BookEntry, Wanted
from joblog.service import errands
from joblog.service.desk import Desk
from joblog.service.errands import Errands
from joblog.service.record import local_day
from joblog_tui.columns import fitted
from joblog_tui.listed import DecidingList, ListLine
from joblog_tui.trouble import trouble_shown
from joblog_tui.wording import DONE, DOUBT, FAINT, counted, doubt_lines


class ErrandsScreen(DecidingList):
    DECIDE = ("d",)
    ENTER = "open it"
    BINDINGS = [  # noqa: RUF012
        Binding("d", "done", "done"),
    ]

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._errands = Errands((), (), ())

    def read(self) -> None:
        self._errands = errands.errands(self._desk)

    def head(self) -> Content:
        found = self._errands
        counts = [
            f"{len(found.to_do)} to do",
            f"{len(found.wanted)} to buy",
            counted(len(found.problems), "open problem"),
        ]
        return Content.assemble((plain(self._desk.job.name), "bold"), f": {', '.join(counts)}")

    def lines(self, width: int) -> Sequence[ListLine]:
        found = self._errands
        return (
            *self._told("to do", found.to_do, width),
            *(self._to_buy(one, width) for one in found.wanted),
            *self._told("open problems", found.problems, width),
        )

    def empty(self) -> str:
        return "Nothing to do, nothing to buy, and no problem open."

    def _told(self, part: str, told: Iterable[BookEntry], width: int) -> Iterable[ListLine]:
        for kept in told:
            day = day_written(kept.entry.day, short=True) if kept.entry.day else ""
            words = describe(replace(kept.entry, day=None)).partition(": ")[2]
            mark = ("? ", f"bold {DOUBT}") if kept.open else ("  ", "")
            yield ListLine(
                part,
                _line(mark, day, words or describe(kept.entry), width),
                str(kept.id),
                self._meaning(kept, words),
                kept.id,
            )

    def _meaning(self, kept: BookEntry, words: str) -> Content:
        zone = ZoneInfo(self._desk.job.zone)
        when = f"for {day_written(kept.entry.day)}; " if kept.entry.day else ""
        said = f"{when}told on {day_written(local_day(kept.at, zone))}"
        return Content("\n").join(
            [
                Content.styled(words or describe(kept.entry), "bold"),
                Content.styled(said, FAINT),
                *doubt_lines(kept),
                Content.assemble(("said: ", FAINT), plain(kept.said)),
            ]
        )

    def _to_buy(self, one: Wanted, width: int) -> ListLine:
        day = day_written(one.day, short=True) if one.day else ""
        unknown = one.quantity is None
        what = plain(one.item if unknown else f"{units_of(one.quantity, one.unit)} of {one.item}")
        notes = [plain(one.note)] if one.note else []
        notes += ["Nobody said how much."] if unknown else []
        meaning = [
            Content.styled(what, "bold"),
            *map(Content, notes),
            Content.styled("A delivery of it takes it off this list by itself.", FAINT),
        ]
        line = _line(("  ", ""), day, what, width)
        entry = one.entries[0] if len(one.entries) == 1 else None
        return ListLine("to buy", line, f"buy {one.item}", Content("\n").join(meaning), entry)

    # --- keys ---------------------------------------------------------------------------------

    def open(self, line: ListLine) -> None:
        wanted = self._wanted(line)
        if wanted is None or len(wanted.entries) == 1:
            super().open(line)
            return
        from joblog_tui.behind import BehindScreen
        from joblog_tui.squared_row import SquaredRow

        row = SquaredRow("", "", line.meaning, wanted.entries)
        self.app.push_screen(BehindScreen(self._desk, row))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        if action == "done":
            return self.chosen is not None
        return super().check_action(action, parameters)

    def action_done(self) -> None:
        line = self.chosen
        if line is None:
            return
        wanted = self._wanted(line)
        entries = wanted.entries if wanted else (line.entry,)
        with trouble_shown(self):
            errands.done(self._desk, [entry for entry in entries if entry is not None])
            self.read_anew()
            self.notify("Done, and off the list. u takes it back.")

    def _wanted(self, line: ListLine) -> Wanted | None:
        return next((one for one in self._errands.wanted if f"buy {one.item}" == line.id), None)


_DAY = 8
"""Columns of a day such as "Oct 5"."""


def _line(mark: tuple[str, str], day: str, words: str, width: int) -> Content:
    return Content.assemble(
        mark, (f"{day:<{_DAY}}", DONE if day else ""), fitted(words, max(10, width - _DAY - 2))
    )
