"""What the squared-up job misses, told on the line that misses it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime

from textual.content import Content

from joblog.form import describe
from joblog.model import BookEntry, Entry
from joblog.service.desk import Desk
from joblog.service.done import done_in_all, say_done
from joblog.service.editing import offered, typed
from joblog.service.filling_in import Missing, filling, keep_filled_in
from joblog.service.moments import (
    after_all_said,
    clock_typed,
    day_typed,
    days_known,
    moment_read,
)
from joblog_tui.form_screen import FormScreen
from joblog_tui.widgets.field_row import FieldRow
from joblog_tui.wording import DONE, FAINT, day_name


class FillInScreen(FormScreen[tuple[BookEntry, ...]]):
    """A count is as of a moment: what came or went after it is not in it."""

    def __init__(self, desk: Desk, missing: Missing) -> None:
        super().__init__()
        self._desk = desk
        self._missing = missing
        self._at = after_all_said(desk, missing.day)

    def head(self) -> str:
        name = self._missing.name
        if self._missing.what == "count":
            return f"{name}: how much is left?"
        if self._missing.what == "hours":
            return f"{name}: how long did it take?"
        if self._missing.what == "done":
            return f"{name}: how much was done, in all its hours?"
        assert self._missing.day is not None
        return f"{day_name(self._missing.day)}: when did work start and stop?"

    def rows(self) -> Iterable[FieldRow]:
        desk, missing = self._desk, self._missing
        if missing.what == "count":
            yield FieldRow("quantity", "left", "", stay_open=True)
            left = Entry("on_hand", item=missing.name, unit=missing.unit)
            unit = typed(left, "unit")
            yield FieldRow(
                "unit", "unit", unit, lambda: offered(desk, left, "unit"), stay_open=True
            )
            yield from self._moment("as of")
        elif missing.what == "hours":
            yield FieldRow("hours", "hours", "", stay_open=True)
            yield FieldRow("workers", "people", "1", stay_open=True)
            if missing.unit:
                yield FieldRow("quantity", f"done, {missing.unit}", "", stay_open=True)
            yield from self._moment("on")
        elif missing.what == "done":
            yield FieldRow("quantity", f"done, {missing.unit}", "", stay_open=True)
        else:
            yield FieldRow("start", "started", "", stay_open=True)
            yield FieldRow("stop", "stopped", "", stay_open=True)
            yield FieldRow("workers", "people", "1", stay_open=True)

    def _moment(self, called: str) -> Iterable[FieldRow]:
        desk = self._desk
        day = day_typed(desk, self._at)
        yield FieldRow("day", called, day, lambda: days_known(desk), stay_open=True)
        yield FieldRow("clock", "at", clock_typed(desk, self._at), stay_open=True)

    def would(self, values: Mapping[str, str]) -> Content:
        if not any(values.get(field) for field in ("quantity", "hours", "start", "stop")):
            return Content.styled("nothing is told until you type", FAINT)
        shown = [(describe(entry), f"bold {DONE}") for entry in self._told(values)]
        return Content("\n").join(Content.assemble(("adds: ", FAINT), entry) for entry in shown)

    def keep(self, values: Mapping[str, str]) -> tuple[BookEntry, ...]:
        if self._missing.what == "done":
            return (say_done(self._desk, self._missing.name, values["quantity"]),)
        entries = self._told(values)
        return keep_filled_in(self._desk, entries, self._read(values))

    def _told(self, values: Mapping[str, str]) -> tuple[Entry, ...]:
        if self._missing.what == "done":
            return (done_in_all(self._desk, self._missing.name, values["quantity"]),)
        told = {field: text for field, text in values.items() if field not in ("day", "clock")}
        return filling(self._desk, self._missing, told, self._read(values))

    def _read(self, values: Mapping[str, str]) -> datetime:
        if "day" not in values:
            return self._at
        return moment_read(self._desk, values["day"], values["clock"], self._at)
