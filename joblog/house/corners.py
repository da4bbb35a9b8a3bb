"""What happens to an eave or a rake at the two ends of its side, by what meets it at the corner."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from joblog.model import Body, Corner, Side

NONE = Fraction(0)


@dataclass(frozen=True, slots=True)
class End:
    """One end of a level eave."""

    beyond: Fraction = NONE
    """Inches that the fascia goes on beyond the wall; below zero where it stops short of it."""
    turn: Literal["outside", "inside"] | None = None
    """The corner at which it is mitred with the next eave."""
    returns: bool = False
    """Whether the fascia wraps around there, at the foot of a gable."""
    free: bool = False
    """Whether it ends in the open, or at a wall or a roof."""
    gutter_goes_on: bool = False
    """Whether a gutter there meets the gutter of the next eave."""


FREE = End(free=True)
"""The end of what something interrupts, and of what meets a wall or a roof."""


def ends_of(body: Body, number: int) -> tuple[End, End]:
    """Both ends of the eave of a side, in the order of the walk."""
    side = body.sides[number]
    before, corner_before = side_before(body, number)
    after, corner_after = side_after(body, number)
    return (
        _end(corner_before, side, depth_at(side, at_end=False), before, at_end=True),
        _end(corner_after, side, depth_at(side, at_end=True), after, at_end=False),
    )


def feet_of(body: Body, number: int) -> tuple[Fraction, Fraction]:
    """How many level inches the two slopes of a gable come down beyond its wall, at its beginning
    and at its end: over the eave or rake that meets it there; below zero at an inside corner."""
    before, corner_before = side_before(body, number)
    after, corner_after = side_after(body, number)
    return (
        _foot(corner_before, before, at_end=True),
        _foot(corner_after, after, at_end=False),
    )


def depth_at(side: Side, *, at_end: bool) -> Fraction | None:
    """How deep the soffit is at one end of the side; None where nobody said it."""
    if not side.depths:
        return side.depth
    placed = sorted(side.depths, key=lambda depth: depth.at or NONE)
    return placed[-1 if at_end else 0].depth


def posts_of(body: Body, number: int, corner: Corner) -> int:
    """How many corner posts of the siding belong to a side: the one behind it, and the one before
    it where the side before has no siding, or is the lower one there."""
    before, corner_before = side_before(body, number)
    after, corner_after = side_after(body, number)
    side = body.sides[number]
    mine_behind = corner_after == corner and _has_post(side, after)
    mine_before = corner_before == corner and not (before is not None and _has_post(before, side))
    return mine_behind + mine_before


def is_sided(side: Side) -> bool:
    """Whether siding goes on it, as far as anybody said how high."""
    return side.siding and side.height is not None


# --- what meets it ----------------------------------------------------------------------------


def side_before(body: Body, number: int) -> tuple[Side | None, Corner]:
    """The side before one, and the corner between them; None where the walk begins there."""
    if number == 0 and body.first == "end":
        return None, "end"
    side = body.sides[number - 1]
    return side, side.corner


def side_after(body: Body, number: int) -> tuple[Side | None, Corner]:
    """The side behind one, and the corner between them; None where the walk ends."""
    corner = body.sides[number].corner
    if corner == "end":
        return None, "end"
    return body.sides[(number + 1) % len(body.sides)], corner


def _kind(side: Side | None, at_end: bool) -> tuple[Literal["eave", "rake", "nothing"], Fraction]:
    """What of a side meets the corner at its end, or at its beginning, and how deep it is."""
    if side is None:
        return "nothing", NONE
    depth = depth_at(side, at_end=at_end)
    if depth is None or side.top == "open" or _interrupted(side, at_end):
        return "nothing", NONE
    return ("rake" if side.top == "gable" else "eave"), depth


def _interrupted(side: Side, at_end: bool) -> bool:
    if at_end:
        return any(one.at + one.length >= side.length for one in side.interruptions)
    return any(one.at <= 0 for one in side.interruptions)


def _end(
    corner: Corner, side: Side, depth: Fraction | None, other: Side | None, *, at_end: bool
) -> End:
    kind, beyond = _kind(other, at_end)
    gutters = side.gutter and other is not None and other.gutter
    match corner, kind:
        case "outside", "eave":
            return End(beyond, "outside", gutter_goes_on=gutters)
        case "inside", "eave":
            return End(-beyond, "inside", gutter_goes_on=gutters)
        case "outside", "rake":
            return End(beyond, returns=True)
        case "straight", "eave":
            level = depth == beyond
            deeper = depth is not None and depth > beyond
            return End(free=deeper, gutter_goes_on=gutters and level)
    return FREE


def _foot(corner: Corner, other: Side | None, *, at_end: bool) -> Fraction:
    kind, depth = _kind(other, at_end)
    match corner, kind:
        case "outside", "eave" | "rake":
            return depth
        case "inside", "eave":
            return -depth
    return NONE


def _has_post(side: Side, after: Side | None) -> bool:
    """Whether the post of the corner between two sides belongs to the first one."""
    if after is None or not is_sided(after) or after.height is None:
        return is_sided(side)
    ends = side.height if side.height_end is None else side.height_end
    return is_sided(side) and ends is not None and ends >= after.height
