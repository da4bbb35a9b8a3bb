"""Papers to write: the job's book, its close-out, covered work, the sheet of each day."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from textual import work
from textual.binding import Binding
from textual.content import Content
from textual.message import Message

from joblog.form import plain
from joblog.local import day_written
from joblog.papers.record import Copy
from joblog.service import ServiceError, desk_at
from joblog.service.desk import Desk
from joblog.service.house import house_if_any
from joblog.service.papers import Kind, papers_folder, write_beside_book
from joblog.service.places import Place
from joblog.service.record import days
from joblog_tui.listed import ListedScreen, ListLine
from joblog_tui.trouble import trouble_shown
from joblog_tui.wording import DOUBT, FAINT

_OF_THE_JOB: tuple[tuple[Kind, str, str], ...] = (
    (
        "job",
        "job book",
        "All days with their photos, covered work, problems, extras, cut and order list.",
    ),
    (
        "close-out",
        "close-out",
        "Planned against actual: material, hours, money, why, and what is not known.",
    ),
    (
        "covered",
        "covered work",
        "What was covered, with its photos, times and places: for the inspector or the owner.",
    ),
    ("house", "house", "Plan and sides with their measures, to scale, so that a slip is seen."),
)
_OF_ALL = "What all closed jobs earned, by season, crew and house, and where it goes. For yourself."
_CARE = "Notes stand in it as they were said: read it before you hand it out."
_OF_A_DAY = "Hours, what was told, photos, and what is in doubt, on one sheet."


class PapersScreen(ListedScreen):
    ENTER = "write it"
    BINDINGS = [  # noqa: RUF012
        Binding("o", "hand_out", "to hand out"),
        Binding("p", "positions", "positions"),
    ]

    class Written(Message):
        """A paper was written, or not: `why`."""

        def __init__(self, told: str, why: str = "") -> None:
            super().__init__()
            self.told, self.why = told, why

    class Drawn(Message):
        """How many photos are made small, of how many."""

        def __init__(self, done: int, of: int) -> None:
            super().__init__()
            self.done, self.of = done, of

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._days: tuple[date, ...] = ()
        self._handed_out = self._positions = self._house = False
        self._told = Content("")

    def read(self) -> None:
        self._days = days(self._desk)
        self._house = house_if_any(self._desk) is not None

    def head(self) -> Content:
        copy = "to hand out: no prices, costs, hours, doubts" if self._handed_out else "your own"
        where = "with" if self._positions else "without"
        head = Content.assemble(
            (plain(self._desk.job.name), "bold"),
            f": papers, {copy}; {where} the photos' positions",
        )
        care = [Content.styled(_CARE, FAINT)] if self._handed_out else []
        return Content("\n").join([head, *care, *([self._told] if self._told else [])])

    def lines(self, width: int) -> Sequence[ListLine]:
        if not self._days:
            return ()
        of_job = [
            ListLine("of the job", name, kind, self._meaning(name, about))
            for kind, name, about in _OF_THE_JOB
            if kind != "house" or self._house
        ]
        of_days = [
            ListLine(
                "day sheets",
                day_written(day),
                day.isoformat(),
                self._meaning(day_written(day), _OF_A_DAY),
            )
            for day in reversed(self._days)
        ]
        name = "comparison of jobs"
        of_all = ListLine("of all jobs", name, "jobs", self._meaning(name, _OF_ALL))
        return [*of_job, *of_days, of_all]

    def _meaning(self, name: str, about: str) -> Content:
        folder = Content.styled(f"enter writes a PDF into {plain(str(self._folder()))}", FAINT)
        return Content("\n").join([Content.styled(name, "bold"), Content(about), folder])

    def _folder(self) -> str:
        return str(papers_folder(self._desk))

    def empty(self) -> str:
        return "Nothing was said on this job yet, so there is nothing to write."

    # --- keys ---------------------------------------------------------------------------------

    def open(self, line: ListLine) -> None:
        kinds: tuple[Kind, ...] = (*(kind for kind, _, _ in _OF_THE_JOB), "jobs")
        of_job = next((kind for kind in kinds if kind == line.id), None)
        self._say(Content.styled("Writing it…", "bold"))
        if of_job is None:
            self._write("day", date.fromisoformat(line.id), self._copy())
        else:
            self._write(of_job, None, self._copy())

    def action_hand_out(self) -> None:
        self._handed_out = not self._handed_out
        self._say(Content(""))

    def action_positions(self) -> None:
        self._positions = not self._positions
        self._say(Content(""))

    def _copy(self) -> Copy:
        return Copy(self._handed_out, self._positions)

    def _say(self, told: Content) -> None:
        self._told = told
        with trouble_shown(self):
            self.lay_out()

    @work(thread=True, exclusive=True)
    def _write(self, kind: Kind, day: date | None, copy: Copy) -> None:
        # A book of its own: the review goes on meanwhile.
        try:
            with desk_at(Place(self._desk.book.folder), self._desk.job.name) as desk:
                file = write_beside_book(desk, kind, day, copy, self._drawn)
        except (ServiceError, OSError) as error:
            self.post_message(self.Written("", str(error)))
        else:
            self.post_message(self.Written(str(file)))

    def _drawn(self, done: int, of: int) -> None:
        if done % 10 == 0:
            self.post_message(self.Drawn(done, of))

    def on_papers_screen_drawn(self, drawn: Drawn) -> None:
        self._say(Content.styled(f"Writing it: {drawn.done} of {drawn.of} photos", "bold"))

    def on_papers_screen_written(self, written: Written) -> None:
        if written.why:
            self._say(Content.styled(plain(written.why), DOUBT))
        else:
            self._say(Content.assemble(("Written: ", "bold"), plain(written.told)))
