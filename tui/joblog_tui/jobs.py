"""The jobs of the book: what each holds and waits for; enter turns to one, + begins another."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from functools import partial

from textual import work
from textual.binding import Binding
from textual.content import Content
from textual.message import Message

from joblog.form import plain, reopening
from joblog.local import day_written
from joblog.service import ServiceError
from joblog.service.desk import Desk
from joblog.service.jobs import JobLine, begin_job, job_lines, waiting
from joblog_tui.begin import BeginScreen
from joblog_tui.columns import in_columns
from joblog_tui.listed import ListedScreen, ListLine
from joblog_tui.turning import turn_to
from joblog_tui.wording import DONE, DOUBT, FAINT, counted


class JobsScreen(ListedScreen):
    ENTER = "turn to it"
    BINDINGS = [  # noqa: RUF012
        Binding("plus", "begin", "new job", key_display="+"),
    ]

    class Waiting(Message):
        """How many doubts wait in a job, counted away from the keyboard."""

        def __init__(self, job: str, doubts: int) -> None:
            super().__init__()
            self.job, self.doubts = job, doubts

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._jobs: tuple[JobLine, ...] = ()
        self._doubts: dict[str, int] = {}

    def on_mount(self) -> None:
        # The first time the cursor stands on the job that is on the desk.
        self.call_after_refresh(lambda: self.choose(self._desk.job.name))

    # --- what is shown ------------------------------------------------------------------------

    def read(self) -> None:
        self._jobs = job_lines(self._desk.book)
        self._count(tuple(line.job.name for line in self._jobs))

    @work(thread=True, exclusive=True)
    def _count(self, jobs: tuple[str, ...]) -> None:
        # Counting reads whole jobs. The list stands without it as well.
        with suppress(ServiceError, OSError):
            for job, doubts in waiting(self._desk.book.folder, jobs):
                self.post_message(self.Waiting(job, doubts))

    def on_jobs_screen_waiting(self, waiting: Waiting) -> None:
        self._doubts[waiting.job] = waiting.doubts
        self.lay_out()

    def head(self) -> Content:
        return Content.assemble(
            (counted(len(self._jobs), "job"), "bold"),
            f"; you are at {plain(self._desk.job.name)}",
        )

    def lines(self, width: int) -> Sequence[ListLine]:
        names = [plain(line.job.name) for line in self._jobs]
        rows = [self._cells(line) for line in self._jobs]
        columns = ("to decide", "days", "last used", "state")
        head, shown = in_columns("job", columns, names, rows, width - 2)
        return [
            ListLine(f"  {head}", self._marked(line, text), line.job.name, self._meaning(line))
            for line, text in zip(self._jobs, shown, strict=True)
        ]

    def empty(self) -> str:
        return ""

    def _cells(self, line: JobLine) -> tuple[str, ...]:
        doubts = self._doubts.get(line.job.name)
        return (
            "…" if doubts is None else str(doubts) if doubts else "-",
            str(line.days),
            day_written(line.used_on, short=True, year=True) if line.used_on else "-",
            _state(line),
        )

    def _marked(self, line: JobLine, text: str) -> Content:
        if line.job.name == self._desk.job.name:
            return Content.assemble(("> ", f"bold {DONE}"), (text, "bold"))
        doubts = self._doubts.get(line.job.name)
        return Content.assemble(("? " if doubts else "  ", f"bold {DOUBT}"), text)

    def _meaning(self, line: JobLine) -> Content:
        here = line.job.name == self._desk.job.name
        used = [
            "you are at this one" if here else "",
            "the last one that something was put into" if line.last_used else "",
            f"its last day is {day_written(line.last_day)}" if line.last_day else "",
        ]
        parts = [
            Content.styled(plain(line.job.name), "bold"),
            Content("; ".join(filter(None, used))),
            Content.assemble(("time zone: ", FAINT), plain(line.job.zone)),
        ]
        if line.job.places:
            parts.append(Content.assemble(("places: ", FAINT), plain(", ".join(line.job.places))))
        if line.closing is not None:
            why = reopening(line.closing.changed, line.closing.plan_changed, line.closing.told_on)
            again = f", {why}" if line.closing.reopened else ""
            parts.append(Content(f"closed on {day_written(line.closing.day)}{again}"))
        return Content("\n").join(part for part in parts if part.plain)

    # --- keys ---------------------------------------------------------------------------------

    def open(self, line: ListLine) -> None:
        turn_to(self.app, self._desk, line.id)

    def action_begin(self) -> None:
        def begun(name: str | None) -> None:
            if name is not None:
                turn_to(self.app, self._desk, name)

        begin = partial(begin_job, self._desk.book)
        self.app.push_screen(BeginScreen(begin, self._desk.vocabulary), begun)


def _state(line: JobLine) -> str:
    if line.closing is None:
        return "open"
    return "reopened" if line.closing.reopened else "closed"
