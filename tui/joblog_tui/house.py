"""The house of the job, side by side as somebody walks around it, drawn so that a slip is seen."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from textual.binding import Binding
from textual.content import Content

from joblog.form import plain
from joblog.model import House
from joblog.report.drawn import plan_drawn, side_drawn
from joblog.service.desk import Desk
from joblog.service.house import (
    Described,
    change_house,
    house_if_any,
    take_in_told_house,
)
from joblog_tui.ask import AskScreen
from joblog_tui.choose import ChooseScreen
from joblog_tui.columns import in_columns
from joblog_tui.house_row import KINDS, HouseRowScreen, Rows, called_in, without_flag
from joblog_tui.listed import DecidingList, ListLine
from joblog_tui.trouble import trouble_shown
from joblog_tui.widgets.panes import list_width
from joblog_tui.wording import counted, in_doubt

_EMPTY = """\
Nobody described the house yet.

Walk around it with the house at your right hand, and say each side and the
corner behind it:

    "front eave forty two feet, outside corner, left side twenty eight, gable"

Then m makes the house of what was said. Or + writes a first side here, or

    joblog house HOUSE.csv

takes it from a table."""


class HouseScreen(DecidingList):
    DECIDE = ("d", "m")
    ENTER = "change it"
    DEFAULT_CSS = """
    HouseScreen {
        Panes Sheet { height: 1fr; }
        Panes.-low Sheet { height: 5; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("plus", "add", "add below", key_display="+"),
        Binding("d", "drop", "drop it"),
        Binding("m", "measured", "as it was said"),
    ]

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._described = Described(House(), ())
        self._rows: Rows = ()

    def read(self) -> None:
        self._described = house_if_any(self._desk) or Described(House(), ())
        self._rows = self._described.rows

    # --- what is shown ------------------------------------------------------------------------

    def head(self) -> Content:
        sides = sum(len(body.sides) for body in self._described.house.bodies)
        name = Content.assemble(
            (plain(self._desk.job.name), "bold"), f": the house, {counted(sides, 'side')}"
        )
        told = [in_doubt(without_flag(one.why)) for one in self._described.problems[:1]]
        told += [in_doubt(note) for note in self._described.notes[:1]]
        return Content("\n").join([name, *told])

    def lines(self, width: int) -> Sequence[ListLine]:
        names = [plain(_named(row)) for row in self._rows]
        cells = [
            tuple(plain(row.get(column, "")) for column in ("length", "height", "top", "corner"))
            for row in self._rows
        ]
        head, shown = in_columns("side", ("length", "height", "top", "then"), names, cells, width)
        drawings = _Drawings(self._described.house, self._room)
        return tuple(
            ListLine(head, text, str(number), _meaning(row, drawings.of(row)))
            for number, (row, text) in enumerate(zip(self._rows, shown, strict=True))
        )

    @property
    def _room(self) -> int:
        """Columns that a drawing has."""
        screen = self.app.size.width
        beside = screen - list_width(screen) - 3
        return beside if beside >= _LEAST else screen - 3

    def empty(self) -> str:
        return _EMPTY

    # --- keys ---------------------------------------------------------------------------------

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        if action == "drop":
            return self.chosen is not None
        return super().check_action(action, parameters)

    def open(self, line: ListLine) -> None:
        number = int(line.id)
        self.app.push_screen(HouseRowScreen(self._desk, self._rows, number))

    def action_add(self) -> None:
        below = int(self.chosen.id) + 1 if self.chosen else 0

        def add(chosen: int | None) -> None:
            if chosen is not None:
                what = KINDS[chosen]
                rows = (*self._rows[:below], {"what": what}, *self._rows[below:])
                self.app.push_screen(HouseRowScreen(self._desk, rows, below, new=True), self._added)

        asks = "Add what below it?" if self.chosen else "Begin with what?"
        self.app.push_screen(ChooseScreen(asks, KINDS), add)

    def _added(self, number: int | None) -> None:
        self.read_anew()
        if number is not None:
            self.choose(str(number))

    def action_drop(self) -> None:
        if self.chosen is None:
            return
        number = int(self.chosen.id)
        rows = (*self._rows[:number], *self._rows[number + 1 :])

        def drop(sure: bool | None) -> None:
            if sure:
                with trouble_shown(self):
                    change_house(self._desk, rows)
                self.read_anew()

        named = plain(_named(self._rows[number]).strip())
        self.app.push_screen(AskScreen(Content(f"Drop {named}? u brings it back.")), drop)

    def action_measured(self) -> None:
        with trouble_shown(self):
            found = take_in_told_house(self._desk)
            if not found.kept:
                lines = [f"{one.what}: {without_flag(one.why)}" for one in found.problems]
                why = "\n".join(lines[:6]) or "Nothing was said of a walk around the house."
                self.notify(plain(why), severity="warning", title="not the house yet", timeout=20)
            self.read_anew()


_ROWS = 12
"""Lines of a drawing under the list."""
_LEAST = 40
"""Columns that a drawing needs beside a list."""
_OF_A_SIDE = ("side", "window", "door", "vent", "opening", "interrupted")


class _Drawings:
    """What is drawn under each row, asked for in their order; each drawing is made once."""

    def __init__(self, house: House, width: int) -> None:
        self._house, self._width = house, width
        self._bodies = [body for body in house.bodies if body.sides]
        self._body, self._side = -1, -1
        self._above = self._seen = ""

    def of(self, row: Mapping[str, str]) -> tuple[str, ...]:
        """The side that a row is of, and its body from above."""
        if row["what"] == "body" or (row["what"] == "side" and self._body < 0):
            self._body, self._side = self._body + 1, -1
            self._above = self._seen = ""
            if self._body < len(self._bodies):
                body = self._bodies[self._body]
                self._above = plan_drawn(self._house, body, self._width, _ROWS)
        if row["what"] == "side" and self._body < len(self._bodies):
            self._side += 1
            body = self._bodies[self._body]
            self._seen = side_drawn(self._house, body, self._side, self._width, _ROWS)
        seen = self._seen if row["what"] in _OF_A_SIDE else ""
        return tuple(filter(None, (seen, self._above)))


def _meaning(row: Mapping[str, str], drawings: Sequence[str]) -> Content:
    """The row in words, and the drawings that it belongs to."""
    what = row["what"]
    said = ", ".join(
        f"{called_in(what, column)} {text}"
        for column, text in row.items()
        if text and column not in ("what", "name")
    )
    name = " ".join(filter(None, (what, row.get("name"))))
    told = Content(plain(f"{name}: {said}" if said else name))
    return Content("\n\n").join([told, *map(Content, drawings)])


def _named(row: Mapping[str, str]) -> str:
    """What a row is called in the list: what is in a side stands further in."""
    what, name = row["what"], row.get("name", "")
    if what == "side":
        return name or "side"
    if what in ("body", "ceiling", "attic", "walk"):
        return f"{what} {name}".strip()
    many = f"{row['count']} " if row.get("count") not in (None, "", "1") else ""
    return f"  {many}{name if name and what == 'interrupted' else f'{what} {name}'.strip()}"
