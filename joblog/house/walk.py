"""The walk around a house: where each wall stands, and whether the walk closes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations

from joblog.model import Body, Hand, Problem, Side
from joblog.quantity import feet_and_inches
from joblog.reason import IF_SO
from joblog.sheet.nouns import SURE, Question

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
    where = body.row or body.name or "the house"
    found = outline(body)
    off = "; ".join(_off(found.walls, body, axis) for axis in (0, 1) if found.missing[axis])
    near = all(abs(missing) <= SLACK for missing in found.missing)
    for why in (_ends_within(body), _turns_wrong(body)):
        if why:
            return (Problem(where, why),), ()
    if off and not (sure or near):
        why = f"the walk does not close: {off}. Measure these again, or {IF_SO}"
        return (Question(where, why, (SURE,)),), ()
    if why := _crosses(found.walls, body):
        return (Problem(where, why),), ()
    return (), (f"{body.name or 'the house'}: the walk does not close: {off}",) if off else ()


def _ends_within(body: Body) -> str:
    for side in body.sides[:-1]:
        if side.corner == "end":
            return (
                f"the walk ends behind {_named(side, body)}, but goes on; begin another body "
                'there, or put down the wall between as a side with the top "open" and the siding '
                '"no"'
            )
    return ""


def _turns_wrong(body: Body) -> str:
    turns = [side.corner for side in body.sides]
    outward, inward = turns.count("outside"), turns.count("inside")
    if body.first == "end" or outward - inward == 4:
        return ""
    return (
        f"has {_count(outward, 'outside')} and {_count(inward, 'inside')}; a walk that comes back "
        "has four more outside ones than inside ones. Look at the corner behind each side, and say "
        '"end" behind the last one where the walk stops'
    )


def _crosses(walls: Sequence[Wall], body: Body) -> str:
    for (first, one), (second, other) in combinations(enumerate(walls), 2):
        follow = second == first + 1 or (first == 0 and second == len(walls) - 1)
        if not follow and _meet(one, other):
            return (
                f"the walk crosses itself: {_named(other.side, body)} runs into "
                f"{_named(one.side, body)}. Look at their lengths and corners"
            )
    return ""


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


def _meet(one: Wall, other: Wall) -> bool:
    # Square corners only: two walls meet where the boxes around them do.
    return all(
        max(min(one.begins[axis], one.ends[axis]), min(other.begins[axis], other.ends[axis]))
        <= min(max(one.begins[axis], one.ends[axis]), max(other.begins[axis], other.ends[axis]))
        for axis in (0, 1)
    )
