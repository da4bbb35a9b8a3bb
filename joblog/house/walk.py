"""The walk around a house: where each wall stands, and whether the walk closes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations

from joblog.model import Body, Hand, Problem, Side
from joblog.quantity import feet_and_inches

Point = tuple[Fraction, Fraction]
"""Inches from where the walk begins: along the first side, and to the left of it."""

SLACK = Fraction(1)
"""Inches by which a walk may miss its beginning and still be as good as a tape (common
practice)."""


@dataclass(frozen=True, slots=True)
class Wall:
    """One side of a body, where it stands."""

    side: Side
    begins: Point
    ends: Point


@dataclass(frozen=True, slots=True)
class Outline:
    """A body's walls in the order of the walk."""

    walls: tuple[Wall, ...]
    closed: bool
    """Whether the walk leads back to its beginning; an open one need not."""
    missing: Point = (Fraction(0), Fraction(0))
    """How far a closed walk ends from where it began, as a `Point`."""


def outline(body: Body, at_hand: Hand = "right") -> Outline:
    """Where the walls of a body stand, exactly; with the house at the right hand an outside corner
    turns right."""
    here: Point = (Fraction(0), Fraction(0))
    ahead = (1, 0)
    walls = []
    for side in body.sides:
        there = (here[0] + ahead[0] * side.length, here[1] + ahead[1] * side.length)
        walls.append(Wall(side, here, there))
        here = there
        right = (side.corner == "outside") == (at_hand == "right")
        if side.corner in _TURNS:
            ahead = (ahead[1], -ahead[0]) if right else (-ahead[1], ahead[0])
    closed = body.first != "end"
    return Outline(tuple(walls), closed, here if closed else (Fraction(0), Fraction(0)))


def checked(body: Body, *, sure: bool = False) -> tuple[tuple[Problem, ...], tuple[str, ...]]:
    """Why the walk around a body cannot be as it is told, and what a person should know of it.

    A closed walk turns outward four times more than inward, and ends where it began. What is
    missing, up to `SLACK`, is a note; so is more of it where a person is `sure` of his measures.
    """
    name = body.row or body.name or "the house"
    broken = next((side for side in body.sides[:-1] if side.corner == "end"), None)
    if broken is not None:
        why = (
            f"the walk ends behind {_named(broken, body)}, but goes on; begin another body there, "
            'or put down the wall between as a side with the top "open" and the siding "no"'
        )
        return (Problem(broken.row or name, why),), ()
    found = outline(body)
    if found.closed:
        problem, note = _closing(body, found, sure)
        if problem:
            return (Problem(name, problem),), ()
    crossing = next(_crossings(found.walls), None)
    if crossing is not None:
        one, other = (_named(wall.side, body) for wall in crossing)
        why = f"the walk crosses itself: {other} runs into {one}. Look at their lengths and corners"
        return (Problem(name, why),), ()
    return (), (f"{body.name or 'the house'}: {note}",) if found.closed and note else ()


def _closing(body: Body, found: Outline, sure: bool) -> tuple[str, str]:
    """Why a closed walk cannot be, or else what a person should know of it; "" where nothing."""
    turns = [side.corner for side in body.sides]
    outward, inward = turns.count("outside"), turns.count("inside")
    if outward - inward != 4:
        return (
            f"has {_count(outward, 'outside')} and {_count(inward, 'inside')}; a walk that comes "
            "back has four more outside ones than inside ones. Look at the corner behind each "
            'side, and say "end" behind the last one where the walk stops',
            "",
        )
    off = "; ".join(_off(found.walls, body, axis) for axis in (0, 1) if found.missing[axis])
    if not off:
        return "", ""
    if sure or all(abs(missing) <= SLACK for missing in found.missing):
        return "", f"the walk does not close to the inch: {off}"
    return f"the walk does not close: {off}. Measure these again, or say --sure if it is so", ""


_TURNS = ("outside", "inside")


def _off(walls: Sequence[Wall], body: Body, axis: int) -> str:
    """How far the walk misses its beginning along one axis, with the sides that lie along it."""
    ways: dict[bool, list[Wall]] = {True: [], False: []}
    for wall in walls:
        along = wall.ends[axis] - wall.begins[axis]
        if along:
            ways[along > 0].append(wall)
    forth, back = ways.values()
    if walls and walls[0] in back:
        forth, back = back, forth
    lengths = [sum((wall.side.length for wall in way), Fraction(0)) for way in (forth, back)]
    missing = feet_and_inches(abs(lengths[0] - lengths[1]))
    return (
        f"{_all_named(forth, body)} {feet_and_inches(lengths[0])} one way, "
        f"{_all_named(back, body)} {feet_and_inches(lengths[1])} the other, {missing} apart"
    )


def _all_named(walls: Sequence[Wall], body: Body) -> str:
    names = [_named(wall.side, body) for wall in walls]
    if len(names) > 4:
        names[3:] = [f"{len(names) - 3} more"]
    return " + ".join(names)


def _named(side: Side, body: Body) -> str:
    return side.name or f"side {body.sides.index(side) + 1}"


def _count(many: int, kind: str) -> str:
    return f"{many} {kind} corner{'' if many == 1 else 's'}"


def _crossings(walls: Sequence[Wall]) -> Iterator[tuple[Wall, Wall]]:
    """Walls that meet elsewhere than at the corner between them."""
    for (first, one), (second, other) in combinations(enumerate(walls), 2):
        follow = second == first + 1 or (first == 0 and second == len(walls) - 1)
        if not follow and _meet(one, other):
            yield one, other


def _meet(one: Wall, other: Wall) -> bool:
    # Square corners only: two walls meet where the boxes around them do.
    return all(
        max(min(one.begins[axis], one.ends[axis]), min(other.begins[axis], other.ends[axis]))
        <= min(max(one.begins[axis], one.ends[axis]), max(other.begins[axis], other.ends[axis]))
        for axis in (0, 1)
    )
