"""What an entry was, version by version, the newest first; any of them stands again at a key."""

from __future__ import annotations

from collections.abc import Sequence
from zoneinfo import ZoneInfo

from textual.binding import Binding
from textual.content import Content

from joblog.form import plain
from joblog.local import clock_written, day_written, moment_written
from joblog.service import bin as bins
from joblog.service.bin import Changed
from joblog.service.desk import Desk, refresh
from joblog.service.record import local_day
from joblog_tui.columns import fitted
from joblog_tui.listed import DecidingList, ListLine
from joblog_tui.trouble import trouble_shown
from joblog_tui.wording import DOUBT, FAINT


class VersionsScreen(DecidingList):
    DECIDE = ("b",)
    ENTER = "back to the entry"
    BINDINGS = [  # noqa: RUF012
        Binding("b", "bring_back", "let it be this again"),
    ]

    def __init__(self, desk: Desk, entry: int) -> None:
        super().__init__(desk)
        self._entry = entry
        self._found: tuple[Changed, ...] = ()

    def read(self) -> None:
        self._found = bins.story_of_entry(self._desk, self._entry)[::-1]

    def head(self) -> Content:
        return Content.assemble(
            ("entry ", FAINT), (str(self._entry), "bold"), ", what it was: the newest first"
        )

    def lines(self, width: int) -> Sequence[ListLine]:
        return [self._line(one, width) for one in self._found]

    def empty(self) -> str:
        return "There is no such entry."

    def _line(self, one: Changed, width: int) -> ListLine:
        zone = ZoneInfo(self._desk.job.zone)
        clock = f"{clock_written(one.at.astimezone(zone)):>8}"
        told = fitted(f"{one.how}: {plain(one.what)}", max(10, width - len(clock) - 2))
        gone = "" if one.stands else f"{FAINT} strike"
        when = moment_written(one.at.astimezone(zone))
        facts = [f"in {plain(one.job)}"]
        if one.moment is not None:
            facts.append(f"told of {moment_written(one.moment.astimezone(zone))}")
        meaning = [
            Content.styled(plain(one.what), "bold"),
            *(Content.styled(f"? {plain(why)}", DOUBT) for why in one.doubts),
            *([] if one.stands else [Content("it counted no more")]),
            Content.styled(f"version {one.version}, {when}, {one.how} by {plain(one.who)}", FAINT),
            *([Content.styled(plain(one.why), FAINT)] if one.why else []),
            Content.assemble(("said: ", FAINT), plain(one.said)),
            Content.styled("; ".join(facts), FAINT),
        ]
        shown = Content.assemble((f"{clock}  ", FAINT), (told, gone))
        day = day_written(local_day(one.at, zone))
        return ListLine(day, shown, str(one.version), Content("\n").join(meaning), self._entry)

    # --- keys ---------------------------------------------------------------------------------

    def open(self, line: ListLine) -> None:
        self.app.pop_screen()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        if action == "bring_back":
            # What it is now needs no bringing back.
            return self.chosen is not None and self.chosen != self._shown[0] and self._stood()
        return super().check_action(action, parameters)

    def _stood(self) -> bool:
        chosen = self.chosen.id if self.chosen else ""
        return any(one.stands for one in self._found if str(one.version) == chosen)

    def action_bring_back(self) -> None:
        line = self.chosen
        if line is None:
            return
        with trouble_shown(self):
            step = bins.bring_back_version(self._desk.book, self._entry, int(line.id))
            refresh(self._desk)
            self.read_anew()
            self.notify(f"{plain(step.what)}. u takes it back.")
