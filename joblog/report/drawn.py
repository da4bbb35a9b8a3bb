"""A house in characters: its plan and its sides with their measures, so that a slip is seen."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise

from joblog.form import plain
from joblog.house.scene import (
    Scene,
    Word,
    elevation_of,
    elevations_of,
    measures_of,
    named,
    plans_of,
)
from joblog.model import Body, House
from joblog.quantity import feet_and_inches

ROWS = 20
"""Lines of one drawing at most."""
ELEVATION_ROWS = 14
TALL = 2.0
"""How much higher than wide a character is."""
LEAST = 24
"""Columns of a drawing at least."""


def as_text(house: House, width: int = 80, *, elevations: bool = True) -> str:
    """Every plan, and with `elevations` each side that says how high it is, with what is in it."""
    return "\n\n".join(_parts(house, width, elevations))


def _parts(house: House, width: int, elevations: bool) -> Iterator[str]:
    for scene, body in zip(plans_of(house), filter(_has_sides, house.bodies), strict=True):
        legend = ["", *side_lines(body)] if elevations else []
        yield "\n".join([*drawn(scene, width), *legend])
    if elevations:
        scenes = elevations_of(house)
        # All in one scale, so that one that is out of proportion is seen.
        step = max((_step(scene, width - 1, ELEVATION_ROWS) for scene in scenes), default=1.0)
        for scene in scenes:
            yield "\n".join(drawn(scene, width, step))


def plan_drawn(house: House, body: Body, width: int, rows: int = ROWS) -> str:
    """One body of a house from above."""
    [scene] = plans_of(House((body,), at_hand=house.at_hand))
    return "\n".join(drawn(scene, width, rows=rows))


def side_drawn(house: House, body: Body, number: int, width: int, rows: int = ROWS) -> str:
    """One side of a body from outside; "" where nobody said how high it is."""
    scene = elevation_of(body, number, house.at_hand)
    return "" if scene is None else "\n".join(drawn(scene, width, rows=rows))


def side_lines(body: Body) -> Iterator[str]:
    """A line on each side of a body, and one on each thing in it, for a person."""
    for number in range(len(body.sides)):
        yield from _side(body, number)


def drawn(scene: Scene, width: int = 80, step: float | None = None, rows: int = ROWS) -> list[str]:
    """The lines of one drawing: its title, and what it shows in characters, each `step` inches
    wide; as large as `rows` and the width allow where nobody says."""
    # Words to the left and to the right of walls need room of their own.
    sides = [one for one in scene.words if one.beside in ("left", "right")]
    left_room = max((len(one.text) + 2 for one in sides if one.beside == "left"), default=0)
    right_room = max((len(one.text) + 2 for one in sides if one.beside == "right"), default=0)
    if left_room + right_room + LEAST > width:
        left_room, right_room = min(left_room, 4), min(right_room, 4)
    left, _, _, top = scene.extent
    columns = max(1, width - left_room - right_room - 1)
    step = _step(scene, columns, rows) if step is None else step
    canvas = _Canvas(left_room)

    def cell(spot: tuple[float, float]) -> tuple[int, int]:
        return round((top - spot[1]) / step / TALL) + 1, round((spot[0] - left) / step)

    for stroke in scene.strokes:
        canvas.line(cell(stroke.begins), cell(stroke.ends), _MARKS.get(stroke.kind, ""))
    for word in scene.words:
        canvas.write(cell(word.at), word, width)
    return [plain(scene.title), *canvas.lines()]


def _step(scene: Scene, columns: int, rows: int) -> float:
    left, bottom, right, top = scene.extent
    return max((right - left) / columns, (top - bottom) / (rows - 1) / TALL, 1e-9)


def _has_sides(body: Body) -> bool:
    return bool(body.sides)


def _side(body: Body, number: int) -> Iterator[str]:
    side = body.sides[number]
    behind = {"inside": "; then an inside corner", "end": "; there the walk ends"}
    name = plain(named(body, number))
    yield f"{number + 1:>3} {name}: {measures_of(side)}{behind.get(side.corner, '')}"
    for opening in side.openings:
        many = f"{opening.count} " if opening.count > 1 else ""
        name = plain(" ".join(dict.fromkeys(filter(None, (opening.name, opening.kind)))))
        size = f"{feet_and_inches(opening.width)} x {feet_and_inches(opening.height)}"
        at = "" if opening.at is None else f" at {feet_and_inches(opening.at)}"
        sill = "" if opening.sill is None else f", {feet_and_inches(opening.sill)} up"
        yield f"      {many}{name} {size}{at}{sill}"
    for one in side.interruptions:
        ends = feet_and_inches(one.at + one.length)
        yield f"      {plain(one.what)} from {feet_and_inches(one.at)} to {ends}"


_MARKS: Mapping[str, str] = {"edge": "·", "interrupted": "┄", "missing": "?"}
_OVER = ("┄", "?")
"""Marks that are seen over a wall."""
_JOINED = (
    " \u2575\u2576\u2514\u2577\u2502\u250c\u251c\u2574\u2518\u2500\u2534\u2510\u2524\u252c\u253c"
)
"""Box-drawing characters by the sum of what goes on from them: 1 up, 2 right, 4 down, 8 left."""


class _Canvas:
    """Cells by row and column, the lines through them, and the words over them."""

    def __init__(self, left_room: int) -> None:
        self.left_room = left_room
        self.joins: dict[tuple[int, int], int] = {}
        self.marks: dict[tuple[int, int], str] = {}
        self.over: dict[tuple[int, int], str] = {}
        self.words: dict[tuple[int, int], str] = {}

    def line(self, begins: tuple[int, int], ends: tuple[int, int], mark: str) -> None:
        cells = list(_between(begins, ends))
        if mark or (begins[0] != ends[0] and begins[1] != ends[1]):
            up = (ends[0] - begins[0]) * (ends[1] - begins[1]) < 0
            marks = self.over if mark in _OVER else self.marks
            for at in cells:
                marks.setdefault(at, mark or ("/" if up else "\\"))
            return
        for one, other in pairwise(cells):
            if one[0] == other[0]:
                first, second = sorted((one, other), key=lambda at: at[1])
                self._join(first, 2)
                self._join(second, 8)
            else:
                first, second = sorted((one, other))
                self._join(first, 4)
                self._join(second, 1)

    def write(self, at: tuple[int, int], word: Word, width: int) -> None:
        """The words where they have room, else what stands for them."""
        for text in filter(None, (plain(word.text), word.number)):
            row, column = at
            match word.beside:
                case "below":
                    row, column = row + 1, column - len(text) // 2
                case "above":
                    row, column = row - 1, column - len(text) // 2
                case "left":
                    column -= len(text) + 1
                case "right":
                    column += 2
                case "within":
                    column -= len(text) // 2
            cells = [(row, column + number) for number in range(len(text))]
            inside = column >= -self.left_room and column + len(text) + self.left_room <= width
            free = all(
                cell not in self.words
                and cell not in self.joins
                and self.marks.get(cell, "·") == "·"
                for cell in (*cells, (row, column - 1), (row, column + len(text)))
            )
            if inside and (free or (word.beside in ("left", "right") and not self._taken(cells))):
                self.words.update(zip(cells, text, strict=True))
                return

    def lines(self) -> Iterator[str]:
        shown = {
            **self.marks,
            **{at: _JOINED[joins] for at, joins in self.joins.items()},
            **self.over,
            **self.words,
        }
        if not shown:
            return
        first, last = min(row for row, _ in shown), max(row for row, _ in shown)
        wide = max(column for _, column in shown)
        for row in range(first, last + 1):
            yield "".join(
                shown.get((row, column), " ") for column in range(-self.left_room, wide + 1)
            ).rstrip()

    def _join(self, at: tuple[int, int], way: int) -> None:
        self.joins[at] = self.joins.get(at, 0) | way

    def _taken(self, cells: list[tuple[int, int]]) -> bool:
        return any(cell in self.words or cell in self.joins for cell in cells)


def _between(begins: tuple[int, int], ends: tuple[int, int]) -> Iterator[tuple[int, int]]:
    """The cells from one to another, each beside the one before it."""
    down, right = ends[0] - begins[0], ends[1] - begins[1]
    steps = max(abs(down), abs(right))
    for step in range(steps + 1):
        share = step / steps if steps else 0.0
        yield begins[0] + round(down * share), begins[1] + round(right * share)
