"""A house as lines and words on a plane, for whoever draws it: its plan, and each side seen.

Coordinates are float inches, right and upwards, because a drawing is not a measurement; every
number in its words is exact.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Literal

from joblog.house.corners import depth_at, ends_of, feet_of
from joblog.house.runs import side_called
from joblog.house.spans import spans_of
from joblog.house.walk import outline
from joblog.model import Body, Hand, House, Opening, Side
from joblog.quantity import feet_and_inches, tape

Kind = Literal["wall", "edge", "opening", "interrupted", "missing"]
"""Of a stroke: a wall, the outer edge of soffits, an opening, where an eave is interrupted, or what
a walk lacks to close."""
Spot = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Stroke:
    """A straight line between two spots."""

    begins: Spot
    ends: Spot
    kind: Kind = "wall"


@dataclass(frozen=True, slots=True)
class Word:
    """Words in the middle of something, and on which side of it they have room."""

    at: Spot
    text: str
    beside: Literal["below", "above", "left", "right", "within"] = "within"
    number: str = ""
    """What stands for the words where there is no room for them."""


@dataclass(frozen=True, slots=True)
class Scene:
    """One drawing."""

    title: str
    strokes: tuple[Stroke, ...]
    words: tuple[Word, ...]

    @property
    def extent(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top of what is drawn."""
        spots = [spot for one in self.strokes for spot in (one.begins, one.ends)] or [(0.0, 0.0)]
        across, up = zip(*spots, strict=True)
        return min(across), min(up), max(across), max(up)


def plans_of(house: House) -> tuple[Scene, ...]:
    """Each body from above, its first side at the foot; what a walk lacks to close is shown."""
    return tuple(_plan(body, house.at_hand) for body in house.bodies if body.sides)


def elevations_of(house: House) -> tuple[Scene, ...]:
    """Each side of which the height is known, seen from outside."""
    seen = (
        elevation_of(body, number, house.at_hand)
        for body in house.bodies
        for number in range(len(body.sides))
    )
    return tuple(scene for scene in seen if scene is not None)


def elevation_of(body: Body, number: int, at_hand: Hand) -> Scene | None:
    """One side seen from outside; None where nobody said how high it is."""
    known = body.sides[number].height is not None
    return _elevation(body, number, at_hand) if known else None


def named(body: Body, number: int) -> str:
    """What a side is called in a drawing: its body too, where that is not the house itself."""
    name = body.sides[number].name or f"side {number + 1}"
    return name if body.name in ("", "main", "house") else side_called(body.name, name)


def measures_of(side: Side) -> str:
    """What is known of a side, on one line: 42', eave 12", 9' high."""
    parts = [feet_and_inches(side.length)]
    if side.top != "eave":
        parts.append(side.top)
    if side.pitch is not None:
        parts.append(f"{tape(side.pitch)} in 12")
    if soffit := soffit_of(side):
        parts.append(f"soffit {soffit}")
    if heights := heights_of(side):
        level = side.height_end in (None, side.height)
        parts.append(f"{heights} high" if level else heights)
    if side.gutter:
        parts.append("gutter")
    return ", ".join(parts)


def soffit_of(side: Side) -> str:
    """How deep the soffit of a side is, or from how deep to how deep; "" where nobody said."""
    known = [depth.depth for depth in side.depths]
    if side.depth is not None:
        known.append(side.depth)
    if not known:
        return ""
    return f"{' to '.join(map(tape, dict.fromkeys((min(known), max(known)))))} in"


def heights_of(side: Side) -> str:
    """How high a side is, at both ends where they differ; "" where nobody said."""
    if side.height is None:
        return ""
    ends = side.height if side.height_end is None else side.height_end
    return " to ".join(map(feet_and_inches, dict.fromkeys((side.height, ends))))


# --- from above -------------------------------------------------------------------------------


def _plan(body: Body, at_hand: Hand) -> Scene:
    found = outline(body, at_hand)
    # The first wall runs along the foot of the drawing, the house above it.
    turn = -1 if at_hand == "right" else 1
    strokes, words = [], []
    for number, wall in enumerate(found.walls):
        begins, ends = _turned(wall.begins, turn), _turned(wall.ends, turn)
        strokes.append(Stroke(begins, ends))
        length = float(wall.side.length)
        ahead = ((ends[0] - begins[0]) / length, (ends[1] - begins[1]) / length)
        outward = (turn * ahead[1], -turn * ahead[0])
        for one, other, depth in _edges(body, number):
            strokes.append(
                Stroke(
                    _along(begins, ahead, one, outward, depth),
                    _along(begins, ahead, other, outward, depth),
                    "edge",
                )
            )
        middle = _along(begins, ahead, length / 2, outward, 0)
        words.append(
            Word(
                middle,
                f"{wall.side.name or f'side {number + 1}'} {feet_and_inches(wall.side.length)}",
                _beside(outward),
                str(number + 1),
            )
        )
    if any(found.missing):
        strokes.append(Stroke(_turned(found.missing, turn), (0.0, 0.0), "missing"))
    alike = f", {body.count} alike" if body.count > 1 else ""
    return Scene(f"{body.name or 'the house'} from above{alike}", tuple(strokes), tuple(words))


def _turned(point: tuple[Fraction, Fraction], turn: int) -> Spot:
    return turn * float(point[0]), turn * float(point[1])


def _along(begins: Spot, ahead: Spot, far: float, outward: Spot, out: float) -> Spot:
    return (
        begins[0] + ahead[0] * far + outward[0] * out,
        begins[1] + ahead[1] * far + outward[1] * out,
    )


def _beside(outward: Spot) -> Literal["below", "above", "left", "right"]:
    if abs(outward[0]) > abs(outward[1]):
        return "right" if outward[0] > 0 else "left"
    return "above" if outward[1] > 0 else "below"


def _edges(body: Body, number: int) -> Iterator[tuple[float, float, float]]:
    """The outer edges of a side's soffits: from where to where along the wall, and how far out."""
    side = body.sides[number]
    if side.top == "open" or (side.depth is None and not side.depths):
        return
    if side.top == "gable":
        before, behind = feet_of(body, number)
        yield -float(before), float(side.length + behind), float(depth_at(side, at_end=True) or 0)
        return
    try:
        spans = spans_of(side, ends_of(body, number))
    except ValueError:
        return
    for span in spans:
        deepest = max(depth.depth for depth in span.depths)
        begins, ends = span.begins - span.before.beyond, span.ends + span.behind.beyond
        yield float(begins), float(ends), float(deepest)


# --- from outside -----------------------------------------------------------------------------


def _elevation(body: Body, number: int, at_hand: Hand) -> Scene:
    side = body.sides[number]
    long, high = float(side.length), float(side.height or 0)
    end = high if side.height_end is None else float(side.height_end)
    corners = [(0.0, 0.0), (0.0, high), (long, end), (long, 0.0)]
    strokes = [Stroke(one, other) for one, other in pairwise([*corners, corners[0]])]
    if side.top == "gable" and side.pitch is not None:
        ridge = (long / 2, high + long / 2 * float(side.pitch) / 12)
        strokes += [Stroke((0.0, high), ridge), Stroke(ridge, (long, end))]
    words = []
    for opening, at, sill in _placed(side):
        wide, tall = float(opening.width), float(opening.height)
        box = [(at, sill), (at, sill + tall), (at + wide, sill + tall), (at + wide, sill)]
        strokes += [
            Stroke(one, other, "opening")
            for one, other in zip(box, [*box[1:], box[0]], strict=True)
        ]
        size = f"{feet_and_inches(opening.width)} x {feet_and_inches(opening.height)}"
        words.append(Word((at + wide / 2, sill + tall / 2), size))
    for one in side.interruptions:
        begins, ends = (float(one.at), high), (float(one.at + one.length), high)
        strokes.append(Stroke(begins, ends, "interrupted"))
        words.append(Word((float(one.at + one.length / 2), high), one.what, "above"))
    if at_hand == "right":
        # Walked with the house at the right hand, and looked at, a side begins at the right.
        strokes = [
            Stroke(_over(one.begins, long), _over(one.ends, long), one.kind) for one in strokes
        ]
        words = [Word(_over(one.at, long), one.text, one.beside, one.number) for one in words]
    title = f"{named(body, number)}: {measures_of(side)}"
    unplaced = [
        one for one in side.openings if one.at is None or (one.sill is None and one.kind != "door")
    ]
    if unplaced:
        title += f" ({len(unplaced)} of its openings where nobody said exactly)"
    return Scene(title, tuple(strokes), tuple(words))


def _over(spot: Spot, long: float) -> Spot:
    return long - spot[0], spot[1]


def _placed(side: Side) -> Iterator[tuple[Opening, float, float]]:
    """Every opening with where it stands; evenly along the wall, halfway up, where nobody said."""
    unsaid = sum(one.count for one in side.openings if one.at is None)
    apart = float(side.length) / (unsaid + 1)
    number = 0
    for opening in side.openings:
        free = max(0.0, float((side.height or Fraction(0)) - opening.height))
        usual = 0.0 if opening.kind == "door" else free / 2
        sill = usual if opening.sill is None else float(opening.sill)
        for copy in range(opening.count):
            if opening.at is None:
                number += 1
                yield opening, number * apart - float(opening.width) / 2, sill
            else:
                yield opening, float(opening.at + copy * opening.width), sill
