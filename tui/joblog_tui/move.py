"""An entry put on another day, at another time, or into another job."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime

from textual.content import Content

from joblog.form import describe, plain
from joblog.model import BookEntry
from joblog.service import decide
from joblog.service.desk import Desk
from joblog.service.errors import FieldError
from joblog.service.moments import clock_typed, day_typed, days_known, jobs_known, moment_read
from joblog_tui.form_screen import FormScreen
from joblog_tui.widgets.field_row import FieldRow
from joblog_tui.wording import DONE, FAINT


class MoveScreen(FormScreen[BookEntry]):
    def __init__(self, desk: Desk, entry: BookEntry) -> None:
        super().__init__()
        self._desk = desk
        self._entry = entry

    def head(self) -> str:
        return f"move: {describe(self._entry.entry)}"

    def rows(self) -> Iterable[FieldRow]:
        desk, at = self._desk, self._entry.at
        yield FieldRow("day", "day", day_typed(desk, at), lambda: days_known(desk), stay_open=True)
        yield FieldRow("clock", "time", clock_typed(desk, at), stay_open=True)
        yield FieldRow("job", "job", desk.job.name, lambda: jobs_known(desk), stay_open=True)

    def would(self, values: Mapping[str, str]) -> Content:
        at, job = self._read(values)
        if at == self._entry.at and job == self._desk.job.name:
            return Content.styled("where it is; nothing is changed until you type", FAINT)
        where = f"{day_typed(self._desk, at)}, {clock_typed(self._desk, at)}, {plain(job)}"
        return Content.assemble(("then: ", FAINT), (where, f"bold {DONE}"))

    def keep(self, values: Mapping[str, str]) -> BookEntry:
        at, job = self._read(values)
        return decide.move_entry(self._desk, self._entry.id, at=at, job=job)

    def _read(self, values: Mapping[str, str]) -> tuple[datetime, str]:
        at = moment_read(self._desk, values["day"], values["clock"], self._entry.at)
        if values["job"] not in jobs_known(self._desk):
            raise FieldError(f"there is no job {values['job']!r}; pick one of the list", "job")
        return at, values["job"]
