"""A house from a table, a row a thing in the order of the walk, and back.

What a row is stands in its first column: `body` begins a part that is walked around by itself,
`side` is one wall of it, and behind a side come its `window`, `door`, `vent` or other `opening`,
and what it is `interrupted` by; `ceiling` and `attic` stand by themselves, `walk` says on which
hand the house was, and `every` what holds of every run that takes it. A number alone is feet for
the length and height of a side, and inches for the depth of its soffit; every other length says
its unit, since it may be either.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from pathlib import Path
from typing import Literal, cast

from joblog.catalog.amounts import amount_of, pitch_of
from joblog.model import (
    Body,
    Ceiling,
    Corner,
    Depth,
    Hand,
    House,
    Interruption,
    Opening,
    Problem,
    Side,
    Top,
)
from joblog.quantity import feet_and_inches, fraction_of, tape
from joblog.reason import check
from joblog.sheet import (
    AS_IT_IS,
    Columns,
    Notice,
    Reading,
    Row,
    Sheet,
    columns_in,
    each_row,
    read_sheet,
    refused,
)

COLUMNS = (
    "what", "name", "length", "height", "height_end", "top", "corner", "depth", "pitch", "at",
    "sill", "count", "gutter", "siding", "open_sides", "area",
)  # fmt: skip
HOUSE = Columns(
    "a house",
    (*COLUMNS, "width"),
    required=("what",),
    alike={
        "end height": "height_end", "ends at": "height_end", "overhang": "depth",
        "soffit": "depth", "pieces": "count", "gutters": "gutter",
    },
    words=("what", "name", "top", "corner", "gutter", "siding"),
)  # fmt: skip


def read_house(
    source: str | Path, reading: Reading = AS_IT_IS
) -> tuple[House, tuple[Problem, ...]]:
    """The house in a table, and a problem for every row that cannot be read, naming it.

    `source` is the text itself or a file. A body with a side that cannot be read is left out whole,
    since the walk around it has a hole.
    """
    return house_in(read_sheet(source, "house", HOUSE, reading))


def house_in(sheet: Sheet) -> tuple[House, tuple[Problem, ...]]:
    """The same of a sheet that was read already, by the columns of `HOUSE`."""
    draft = _Draft(sheet.decimal, sheet.reading.sure)

    def read(row: Row) -> None:
        try:
            _row(draft, row)
        except ValueError:
            draft.refused(_what(row))
            raise

    problems = each_row(sheet, read)
    problems = (*problems, *draft.lacking(), *draft.taken_as_eaves(sheet.name))
    house = draft.house()
    if not (house.bodies or house.ceilings or house.attic or refused(problems)):
        problems = (*problems, Problem(sheet.name, "describes no house: it has no row of a side"))
    return house, problems


def is_house_table(source: str | Path, reading: Reading = AS_IT_IS) -> bool:
    """Whether a table is one of a house and not of runs, by the columns that it has."""
    return columns_in(source, _EITHER, reading) == ("what",)


_EITHER = Columns("runs or a house", ("what", "work"))


# --- reading a row ----------------------------------------------------------------------------


@dataclass
class _Draft:
    """A house on its way."""

    decimal: str
    sure: bool
    bodies: list[Body] = field(default_factory=list)
    opened: list[bool] = field(default_factory=list)
    """Of each body, whether it says that something stands before its first side."""
    broken: set[int] = field(default_factory=set)
    """Bodies of which a side could not be read."""
    ceilings: list[Ceiling] = field(default_factory=list)
    attic: Fraction | None = None
    attic_row: str = ""
    at_hand: Hand = "right"
    every: dict[str, str] = field(default_factory=dict)
    topped: dict[bool, list[str]] = field(default_factory=lambda: {True: [], False: []})
    """The sides that say what their top is, and those that do not."""

    def begin(self, body: Body, opened: bool) -> None:
        self.bodies.append(body)
        self.opened.append(opened)

    def body(self, row: str = "") -> Body:
        if not self.bodies:
            self.begin(Body("main", row=row), False)
        return self.bodies[-1]

    def add(self, side: Side) -> None:
        body = self.body(side.row)
        if len(body.sides) == MOST_SIDES:
            raise ValueError(f"is one more than the {MOST_SIDES} sides that a body may have")
        self.bodies[-1] = replace(body, sides=(*body.sides, side))

    def at_last_side(self, what: str, change: Callable[[Side], Side]) -> None:
        """Raises ValueError where no side was read yet in this body."""
        if not self.bodies or not self.bodies[-1].sides:
            raise ValueError(f"a {what} belongs to the side above it, and there is none")
        body = self.bodies[-1]
        self.bodies[-1] = replace(body, sides=(*body.sides[:-1], change(body.sides[-1])))

    def refused(self, what: str) -> None:
        if what not in _ROWS or what in ("side", "body", "interrupted"):
            self.body()
            self.broken.add(len(self.bodies) - 1)

    def lacking(self) -> Iterator[Problem]:
        """A problem for each body without a side, and for each that begins at a wall or a roof and
        ends nowhere."""
        for number, (body, opened) in enumerate(zip(self.bodies, self.opened, strict=True)):
            if number in self.broken:
                continue
            if not body.sides:
                yield Problem(body.row, "begins a body, but no side comes behind it")
            elif opened and body.first != "end":
                self.broken.add(number)
                why = 'begins at a wall or roof, but never ends; say "end" behind its last side'
                yield Problem(body.row, why)

    def taken_as_eaves(self, table: str) -> Iterator[Notice]:
        """Sides without a top, where others say theirs: one of them may be a gable forgotten."""
        if self.topped[True] and self.topped[False]:
            sides = ", ".join(self.topped[False])
            yield Notice(table, f"no top is said of {sides}; taken as eave")

    def house(self) -> House:
        bodies = (body for number, body in enumerate(self.bodies) if number not in self.broken)
        return House(
            tuple(body for body in bodies if body.sides),
            tuple(self.ceilings),
            self.attic,
            self.at_hand,
            tuple(self.every.items()),
            attic_row=self.attic_row,
        )


@dataclass(frozen=True, slots=True)
class _Cells:
    """The cells of a row, as what they hold."""

    cells: Mapping[str, str]
    decimal: str
    sure: bool
    where: str

    def text(self, column: str) -> str:
        return " ".join(self.cells.get(column, "").split())

    def word(self, column: str) -> str:
        return self.text(column).lower()

    def length(self, column: str, bound: str, unit: str = "") -> Fraction | None:
        """Inches, or None where the cell is empty; a number alone is in `unit` where there is one.
        What is below zero or beyond reason is refused."""
        text = self.text(column)
        if not text:
            return None
        try:
            if not unit and _bare(text, self.decimal):
                others = [name for name in _OF_AN_OPENING if name != column and self.bare(name)]
                too = f", and so may {' and '.join(others)}" if others else ""
                raise ValueError(f"may be feet or inches{too}; write {text} ft or {text} in")
            inches = amount_of(text, unit or "in", decimal=self.decimal).quantity
            inches *= 12 if unit == "ft" else 1
            if inches < 0:
                raise ValueError(f"{text} is below zero")
            if inches and bound:
                self.check(bound, inches)
        except ValueError as error:
            raise type(error)(f"{column}: {error}") from None
        return inches

    def bare(self, column: str) -> bool:
        """Whether a cell holds a number that does not say its unit."""
        return _bare(self.text(column), self.decimal)

    def check(self, bound: str, inches: Fraction) -> None:
        if bound == "depth":
            check(bound, inches, "in", sure=self.sure)
        else:
            check(bound, inches / 12, "ft", sure=self.sure, least=_LEAST.get(bound))

    def needed(self, column: str, bound: str, unit: str = "") -> Fraction:
        inches = self.length(column, bound, unit)
        if not inches:
            raise ValueError(f"says no {column}")
        return inches

    def count(self, column: str, usual: int) -> int:
        text = self.text(column)
        if not text:
            return usual
        number = fraction_of(text, decimal=self.decimal)
        if number.denominator != 1 or not 0 <= number <= MOST_ALIKE or (not number and usual):
            raise ValueError(f"{column}: {text} is no count of 1 to {MOST_ALIKE}")
        return int(number)

    def truth(self, column: str, usual: bool) -> bool:
        word = self.word(column)
        if word and word not in _TRUTHS:
            raise ValueError(f"{column}: {self.text(column)!r} is neither yes nor no")
        return _TRUTHS.get(word, usual)


MOST_SIDES = 200
MOST_ALIKE = 99
"""Windows in one row, or bodies that are alike; more is a slip of the pen."""
_LEAST = {"length": Fraction(1, 4)}
"""Feet; a wall may jog by a few inches."""
_TRUTHS = {"yes": True, "y": True, "no": False, "n": False, "none": False}


def _bare(text: str, decimal: str) -> bool:
    try:
        return bool(fraction_of(text, decimal=decimal))
    except ValueError:
        return False


def _row(draft: _Draft, row: Row) -> None:
    what = _what(row)
    kind = _ROWS.get(what)
    if kind is None:
        raise ValueError(f"{row.cells.get('what', '')!r} is no row of a house; {_KINDS}")
    taken, read = kind
    for column, text in row.cells.items():
        if text and column not in ("what", "name", *taken):
            raise ValueError(f"a {what} takes no {column}; it takes {', '.join(taken) or 'none'}")
    read(draft, _Cells(row.cells, draft.decimal, draft.sure, row.where), what)


def _what(row: Row) -> str:
    word = " ".join(row.cells.get("what", "").lower().split())
    return _SPELLED.get(word, word)


def _body(draft: _Draft, cells: _Cells, what: str) -> None:
    corner = cells.word("corner")
    if corner not in ("", "end"):
        raise ValueError(
            'corner: before a body stands nothing, or "end" where its walk begins at a wall or roof'
        )
    name = cells.word("name") or ("" if draft.bodies else "main")
    draft.begin(Body(name, (), cells.count("count", 1), cells.where), corner == "end")


def _side(draft: _Draft, cells: _Cells, what: str) -> None:
    pitch = cells.text("pitch")
    depths = _depths(cells)
    draft.topped[bool(cells.text("top"))].append(cells.word("name") or cells.where)
    draft.add(
        Side(
            name=cells.word("name"),
            length=cells.needed("length", "length", "ft"),
            top=cast(Top, _one_of(cells, "top", _TOPS, "eave")),
            corner=cast(Corner, _one_of(cells, "corner", _CORNERS, "outside")),
            height=cells.length("height", "height", "ft"),
            height_end=cells.length("height_end", "height", "ft"),
            depth=depths[0].depth if len(depths) == 1 else None,
            depths=depths if len(depths) > 1 else (),
            pitch=_pitch(cells) if pitch else None,
            gutter=cells.truth("gutter", usual=False),
            siding=cells.truth("siding", usual=True),
            row=cells.where,
        )
    )


def _opening(draft: _Draft, cells: _Cells, what: str) -> None:
    width = "width" if cells.text("width") else "length"
    if cells.text("width") and cells.text("length"):
        raise ValueError("says its width twice, under width and length; leave one empty")
    opening = Opening(
        cast(Literal["window", "door", "vent", "other"], "other" if what == "opening" else what),
        cells.needed(width, "side of an opening"),
        cells.needed("height", "side of an opening"),
        cells.count("count", 1),
        cells.word("name"),
        cells.length("at", ""),
        cells.length("sill", ""),
        cells.where,
    )
    draft.at_last_side(what, lambda side: replace(side, openings=(*side.openings, opening)))


def _interrupted(draft: _Draft, cells: _Cells, what: str) -> None:
    at = cells.length("at", "")
    if at is None:
        raise ValueError("says no at: how far from where the side begins, 0 at its beginning")
    one = Interruption(cells.word("name"), at, cells.needed("length", "length"), cells.where)
    draft.at_last_side(
        "row interrupted", lambda side: replace(side, interruptions=(*side.interruptions, one))
    )


def _ceiling(draft: _Draft, cells: _Cells, what: str) -> None:
    across = "width" if cells.text("width") else "height"
    if cells.text("width") and cells.text("height"):
        raise ValueError("says its width twice, under width and height; leave one empty")
    open_sides = cells.count("open_sides", 0)
    if open_sides > 4:
        raise ValueError(f"open_sides: a ceiling has 4 edges, not {open_sides}")
    draft.ceilings.append(
        Ceiling(
            cells.word("name") or "ceiling",
            cells.needed("length", "length", "ft"),
            cells.needed(across, "width", "ft"),
            open_sides,
            cells.where,
        )
    )


def _attic(draft: _Draft, cells: _Cells, what: str) -> None:
    if draft.attic is not None:
        raise ValueError("there is an attic already; put the two together")
    if cells.text("area"):
        feet = amount_of(cells.text("area"), "ft2", decimal=draft.decimal).quantity
        check("area", feet, "ft2", sure=draft.sure)
        draft.attic = feet * 144
    elif not (cells.text("length") or cells.text("height")):
        raise ValueError("says no area")
    else:
        length, width = (cells.needed(name, "width", "ft") for name in ("length", "height"))
        draft.attic = length * width
    draft.attic_row = cells.where


def _walk(draft: _Draft, cells: _Cells, what: str) -> None:
    said = cells.word("name").split()
    hands: list[Hand] = [hand for hand in _HANDS if hand in said]
    if len(hands) != 1:
        raise ValueError('say in its name on which hand the house was: "right" or "left"')
    draft.at_hand = hands[0]


def _every(draft: _Draft, cells: _Cells, what: str) -> None:
    name, equals, value = cells.text("name").partition("=")
    if not equals or not name.strip() or not value.strip():
        raise ValueError("is written with a measure and what it is: every, drip_edge=1")
    name = name.strip().lower()
    if name in draft.every:
        raise ValueError(f"{name} is said of every run already")
    draft.every[name] = value.strip()


_HANDS: tuple[Hand, ...] = ("left", "right")
_OF_AN_OPENING = ("length", "width", "height", "at", "sill")
"""Its lengths, each of which says its unit."""
_OF_OPENINGS = ("length", "width", "height", "at", "sill", "count")
_ROWS: Mapping[str, tuple[tuple[str, ...], Callable[[_Draft, _Cells, str], None]]] = {
    "body": (("corner", "count"), _body),
    "side": (
        (
            "length", "height", "height_end", "top", "corner", "depth", "pitch", "gutter", "siding",
        ),
        _side,
    ),
    "window": (_OF_OPENINGS, _opening),
    "door": (_OF_OPENINGS, _opening),
    "vent": (_OF_OPENINGS, _opening),
    "opening": (_OF_OPENINGS, _opening),
    "interrupted": (("length", "at"), _interrupted),
    "ceiling": (("length", "width", "height", "open_sides"), _ceiling),
    "attic": (("area", "length", "height"), _attic),
    "walk": ((), _walk),
    "every": ((), _every),
}  # fmt: skip
"""By what a row is: the columns that it takes besides its name, and how it is read."""
_KINDS = f"rows are {', '.join(_ROWS)}"
_SPELLED = {"wall": "side", "windows": "window", "doors": "door", "vents": "vent", "part": "body"}
_TOPS = {"eave": "eave", "hip": "eave", "gable": "gable", "rake": "gable", "open": "open"}
_CORNERS = {
    "outside": "outside", "out": "outside", "inside": "inside", "in": "inside",
    "straight": "straight", "end": "end",
}  # fmt: skip
_NOT_SQUARE = (
    "{!r} is no corner that can be taken: outside, inside, straight or end. Corners that are not "
    "square cannot be worked out here; end the walk before the first one, and give the sides "
    "around it as runs of their own"
)


def _one_of(cells: _Cells, column: str, known: Mapping[str, str], usual: str) -> str:
    word = cells.word(column).removesuffix(" corner")
    if not word:
        return usual
    if word not in known:
        if column == "corner":
            raise ValueError(f"corner: {_NOT_SQUARE.format(cells.text(column))}")
        raise ValueError(f"{column}: {cells.text(column)!r} is none of eave, gable, open")
    return known[word]


def _pitch(cells: _Cells) -> Fraction:
    try:
        rise = pitch_of(cells.text("pitch"), decimal=cells.decimal).quantity
        check("pitch", rise, sure=cells.sure)
    except ValueError as error:
        raise type(error)(f"pitch: {error}") from None
    return rise


def _depths(cells: _Cells) -> tuple[Depth, ...]:
    """One depth, or several along the side: "11 7/8; 12" evenly from end to end, or with where each
    was measured, "0: 11 7/8; 20 ft: 12"."""
    found = []
    for part in filter(None, map(str.strip, cells.text("depth").split(";"))):
        at, colon, depth = part.rpartition(":")
        if not depth.strip():
            raise ValueError(f"depth: {part!r} says where, but not how deep")
        own = replace(cells, cells={"depth": depth, "at": at})
        deep = own.length("depth", "depth", "in") or Fraction(0)
        place = own.length("at", "", "ft") if colon else None
        found.append(Depth(deep, place))
    if len(found) > 1 and not all(one.depth for one in found):
        raise ValueError("depth: one of several is zero; give a side of its own from there")
    if len({one.at is None for one in found}) > 1:
        raise ValueError("depth: says of some where they were measured, but not of all")
    length = cells.length("length", "", "ft") if len(found) > 1 else None
    if length is not None and any(one.at is not None and one.at > length for one in found):
        raise ValueError("depth: one was measured beyond the end of the side")
    return tuple(found)


# --- writing it -------------------------------------------------------------------------------


def rows_of(house: House) -> tuple[dict[str, str], ...]:
    """The table again, a row a thing, by `COLUMNS`; reading it gives the same house."""
    return tuple({column: row.get(column, "") for column in COLUMNS} for row in _all_rows(house))


def _all_rows(house: House) -> Iterator[dict[str, str]]:
    if house.at_hand == "left":
        yield {"what": "walk", "name": "house on the left"}
    for name, value in house.every:
        yield {"what": "every", "name": f"{name}={value}"}
    for body in house.bodies:
        corner = "end" if body.first == "end" else ""
        count = str(body.count) if body.count > 1 else ""
        yield {"what": "body", "name": body.name, "corner": corner, "count": count}
        for side in body.sides:
            yield _side_cells(side)
            yield from (_opening_cells(one) for one in side.openings)
            for one in side.interruptions:
                size = {"length": feet_and_inches(one.length), "at": feet_and_inches(one.at)}
                yield {"what": "interrupted", "name": one.what, **size}
    for ceiling in house.ceilings:
        yield {
            "what": "ceiling",
            "name": ceiling.name,
            "length": feet_and_inches(ceiling.length),
            "height": feet_and_inches(ceiling.width),
            "open_sides": str(ceiling.open_sides or ""),
        }
    if house.attic is not None:
        yield {"what": "attic", "area": f"{tape(house.attic / 144)} ft2"}


def _side_cells(side: Side) -> dict[str, str]:
    return {
        "what": "side",
        "name": side.name,
        "length": feet_and_inches(side.length),
        "height": _length(side.height),
        "height_end": _length(side.height_end),
        "top": side.top,
        "corner": side.corner,
        "depth": "; ".join(map(_depth, side.depths)) if side.depths else _inches(side.depth),
        "pitch": "" if side.pitch is None else f"{tape(side.pitch)}/12",
        "gutter": "yes" if side.gutter else "",
        "siding": "" if side.siding else "no",
    }


def _opening_cells(opening: Opening) -> dict[str, str]:
    return {
        "what": "opening" if opening.kind == "other" else opening.kind,
        "name": opening.name,
        "length": feet_and_inches(opening.width),
        "height": feet_and_inches(opening.height),
        "at": _length(opening.at),
        "sill": _length(opening.sill),
        "count": str(opening.count),
    }


def _length(inches: Fraction | None) -> str:
    return "" if inches is None else feet_and_inches(inches)


def _inches(inches: Fraction | None) -> str:
    return "" if inches is None else f"{tape(inches)} in"


def _depth(depth: Depth) -> str:
    where = "" if depth.at is None else f"{feet_and_inches(depth.at)}: "
    return f"{where}{_inches(depth.depth)}"
