"""One row of the house to be written in: what the walk comes to is shown before it is kept."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import TypeAlias

from textual.content import Content

from joblog.reason import IF_SO
from joblog.service import ServiceError
from joblog.service.desk import Desk
from joblog.service.errors import FieldError
from joblog.service.house import change_house, house_of_rows
from joblog_tui.form_screen import FormScreen
from joblog_tui.widgets.completing import Choices
from joblog_tui.widgets.field_row import FieldRow
from joblog_tui.wording import counted, in_doubt

Rows: TypeAlias = tuple[Mapping[str, str], ...]

FIELDS: Mapping[str, tuple[str, ...]] = {
    "side": (
        "name", "length", "corner", "top", "depth", "height", "height_end", "pitch", "gutter",
        "siding",
    ),
    "window": ("name", "length", "height", "at", "sill", "count"),
    "door": ("name", "length", "height", "at", "sill", "count"),
    "vent": ("name", "length", "height", "at", "sill", "count"),
    "interrupted": ("name", "at", "length"),
    "body": ("name", "corner", "count"),
    "ceiling": ("name", "length", "height", "open_sides"),
    "attic": ("area",),
}  # fmt: skip
"""Of each kind of row, which columns of the table it takes, in the order in which they are said."""
KINDS = tuple(FIELDS)

_CALLED = {
    "height_end": "height at end", "depth": "soffit deep", "open_sides": "open edges",
    "at": "begins at", "corner": "then",
}  # fmt: skip
_CALLED_IN = {
    ("ceiling", "height"): "width",
    ("interrupted", "name"): "by what",
    ("window", "length"): "width", ("door", "length"): "width", ("vent", "length"): "width",
    ("body", "corner"): "before it",
}  # fmt: skip
_CHOICES = {
    "corner": ("outside", "inside", "straight", "end"),
    "top": ("eave", "gable", "open"),
    "gutter": ("yes", "no"),
    "siding": ("yes", "no"),
}


def called_in(what: str, column: str) -> str:
    """What a column of the table is called in a form, for a row of this kind."""
    return _CALLED_IN.get((what, column)) or _CALLED.get(column, column)


def without_flag(why: str) -> str:
    """What is wrong, without the flag of the command line that would settle it there."""
    return re.sub(rf"(, or|;) {re.escape(IF_SO)}", "", why)


class HouseRowScreen(FormScreen[int]):
    """Closes with the number of the row that was kept, or None."""

    def __init__(self, desk: Desk, rows: Rows, number: int, *, new: bool = False) -> None:
        super().__init__()
        self._desk = desk
        self._given = rows
        self._number = number
        self._new = new

    @property
    def _what(self) -> str:
        return self._given[self._number]["what"]

    def head(self) -> str:
        return f"{'add' if self._new else 'change'} a {self._what} of the house"

    def rows(self) -> Iterable[FieldRow]:
        row = self._given[self._number]
        held = [column for column, text in row.items() if text and column != "what"]
        for column in dict.fromkeys((*FIELDS.get(self._what, ()), *held)):
            called = called_in(self._what, column)
            typed = row.get(column, "")
            yield FieldRow(column, called, typed, self._choices(column), stay_open=True)

    def _choices(self, column: str) -> Choices | None:
        fixed = _CHOICES.get(column)
        return None if fixed is None else lambda: fixed

    def would(self, values: Mapping[str, str]) -> Content:
        if self._what == "side" and not values["length"].strip():
            return Content("say how long it is along the wall: 42 ft")
        try:
            # What is beyond reason is told and may be kept all the same.
            found = house_of_rows(self._with(values), sure=False)
        except ServiceError as error:
            column, colon, why = without_flag(str(error)).partition(": ")
            known = bool(colon) and column in values
            return in_doubt(
                f"{called_in(self._what, column)}: {why}" if known else without_flag(str(error))
            )
        wrong = [*(one.why for one in found.problems), *found.notes]
        if wrong:
            return in_doubt(without_flag(wrong[0]))
        return Content(f"{counted(len(found.runs), 'run')} to take off; it holds together")

    def keep(self, values: Mapping[str, str]) -> int:
        try:
            kept = change_house(self._desk, self._with(values))
        except ServiceError as error:
            said = str(error)
            field = next((column for column in values if said.startswith(f"{column}: ")), None)
            # It stands below its field, which may be called otherwise here than in a table.
            raise FieldError(said.removeprefix(f"{field}: "), field) from None
        # The first side of a house begins a body, which has a row of its own.
        return self._number + len(kept.rows) - len(self._given)

    def _with(self, values: Mapping[str, str]) -> Rows:
        row = {"what": self._what, **{column: text.strip() for column, text in values.items()}}
        return (*self._given[: self._number], row, *self._given[self._number + 1 :])
