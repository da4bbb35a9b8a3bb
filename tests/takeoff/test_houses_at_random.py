"""Houses of any square shape, whose edges are found here by drawing their plan and measuring it."""

from dataclasses import dataclass
from itertools import pairwise
from math import ceil, dist

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.catalog.lines import starter_catalog
from joblog.house.read_table import read_house
from joblog.house.runs import runs_of
from joblog.model import TakeOff
from joblog.takeoff.for_every import for_every
from joblog.takeoff.take_off import take_off
from joblog.takeoff.works import starter_works

Point = tuple[float, float]
DEPTHS = st.integers(8 * 4, 24 * 4).map(lambda quarters: quarters / 4)
NOTCH = st.tuples(st.integers(72, 150), st.integers(72, 150))
"""What is cut out of a corner, wide enough for two soffits that face each other."""


@dataclass(frozen=True)
class Plan:
    """Corners of the walls in the order of the walk, and how deep the soffit of each wall is.

    Inches; the front is at the bottom, and its right end comes first.
    """

    corners: tuple[Point, ...]
    depths: tuple[float, ...]

    def wall(self, number: int) -> tuple[Point, Point]:
        return self.corners[number], self.corners[(number + 1) % len(self.corners)]

    def table(self) -> str:
        rows = ["what,name,length,height,top,corner,depth,gutter", "every,drip_edge=1,,,,,,"]
        rows.append("body,,,,,,,")
        for number, depth in enumerate(self.depths):
            length = f"{dist(*self.wall(number)):g} in"
            corner = "outside" if self.is_outside(number + 1) else "inside"
            rows.append(f"side,side {number},{length},9 ft,eave,{corner},{depth:g},yes")
        return "\n".join(rows) + "\n"

    def is_outside(self, number: int) -> bool:
        """Whether the walk turns right at this corner."""
        (before, at), (_, after) = self.wall(number - 1), self.wall(number % len(self.corners))
        return cross(minus(at, before), minus(after, at)) < 0

    def fascia(self) -> tuple[Point, ...]:
        """Where edges meet that are each as far outside of their wall as it is deep."""
        found = []
        for number, (x, y) in enumerate(self.corners):
            before, behind = number - 1, number
            upright, level = (before, behind) if self.is_level(behind) else (behind, before)
            # The level wall moves it up or down, the upright one to the side.
            out_x = self.outward(upright)[0] * self.depths[upright]
            out_y = self.outward(level)[1] * self.depths[level]
            found.append((x + out_x, y + out_y))
        return tuple(found)

    def is_level(self, number: int) -> bool:
        start, end = self.wall(number)
        return start[1] == end[1]

    def outward(self, number: int) -> Point:
        """One step away from the house, which is on the right of the walk."""
        start, end = self.wall(number)
        x, y = minus(end, start)
        length = abs(x + y)
        return -y / length, x / length


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    wide, high = draw(st.integers(400, 900)), draw(st.integers(400, 900))
    corners: list[Point] = []
    for sign_x, sign_y in ((1, -1), (-1, -1), (-1, 1), (1, 1)):
        x, y = wide * (sign_x > 0), high * (sign_y > 0)
        notch = draw(st.none() | NOTCH)
        if notch is None:
            corners.append((x, y))
            continue
        in_x, in_y = x - sign_x * notch[0], y - sign_y * notch[1]
        # The walk goes left along the front and up the left side: it comes level to two corners
        # and upright to the other two.
        level = [(in_x, y), (in_x, in_y), (x, in_y)]
        corners += level if sign_x == sign_y else level[::-1]
    return Plan(tuple(corners), tuple(draw(DEPTHS) for _ in corners))


@settings(max_examples=40, deadline=None)
@given(plans())
def test_edges_dividers_and_panels_are_those_of_the_plan_as_it_is_drawn(plan: Plan) -> None:
    found = taken_off(plan)
    fascia = [*plan.fascia(), plan.fascia()[0]]
    edges = [dist(one, other) for one, other in pairwise(fascia)]
    dividers = [dist(wall, edge) for wall, edge in zip(plan.corners, plan.fascia(), strict=True)]
    assert lengths(found, "drip edge", 120) == pytest.approx(edges)
    assert lengths(found, "gutter", 120) == pytest.approx(edges)
    assert lengths(found, "F channel", 144) == pytest.approx(
        [dist(*plan.wall(number)) for number in range(len(plan.depths))]
    )
    # The divider belongs to the side before its corner, and is rounded for the tape.
    assert sticks(found, "H trim") == pytest.approx([*dividers[1:], dividers[0]], abs=1 / 16)
    assert panels(found) == [ceil(reach(plan, number) / 12) for number in range(len(plan.depths))]


@settings(max_examples=40, deadline=None)
@given(plans())
def test_each_corner_is_counted_once(plan: Plan) -> None:
    found = taken_off(plan)
    outside = sum(plan.is_outside(number) for number in range(len(plan.corners)))
    inside = len(plan.corners) - outside
    assert outside == inside + 4
    assert counted(found, "outside gutter corner", "inside gutter corner") == [outside, inside]
    assert [len(sticks(found, f"{item}corner post")) for item in ("", "inside ")] == [
        outside,
        inside,
    ]
    fascia = [*plan.fascia(), plan.fascia()[0]]
    around = sum(dist(one, other) for one, other in pairwise(fascia))
    assert counted(found, "gutter outlet", "end cap") == [ceil(around / 12 / 35), 0]


@settings(max_examples=40, deadline=None)
@given(
    wide=st.integers(200, 700),
    high=st.integers(200, 700),
    eaves=st.tuples(DEPTHS, DEPTHS),
    rakes=st.tuples(DEPTHS, DEPTHS),
    rise=st.integers(2, 12),
)
def test_a_gabled_house_is_that_of_its_roof_as_it_stands_in_space(
    wide: int, high: int, eaves: Point, rakes: Point, rise: int
) -> None:
    front, back = eaves
    left, right = rakes
    found = house_of(
        f"""what,name,length,height,top,corner,depth,pitch
every,drip_edge=1,,,,,,
body,,,,,,,
side,front,{wide} in,9 ft,eave,outside,{front:g},
side,left,{high} in,9 ft,gable,outside,{left:g},{rise}/12
side,back,{wide} in,9 ft,eave,outside,{back:g},
side,right,{high} in,9 ft,gable,outside,{right:g},{rise}/12
"""
    )
    # From the middle of the ridge, out and down to where the roof ends over each eave.
    slopes = [
        dist((0, 0), (high / 2 + deep, (high / 2 + deep) * rise / 12)) for deep in (front, back)
    ]
    along = wide + left + right
    assert at("front", found, "drip edge", 120) == pytest.approx([along])
    for gable in ("left", "right"):
        assert sorted(at(gable, found, "drip edge", 120)) == pytest.approx(sorted(slopes), abs=0.1)
    sided = sum(float(line.net) * 144 * 8 for line in found.lines if line.item == "siding panel")
    triangle = high * (high / 2 * rise / 12) / 2
    assert sided == pytest.approx(2 * (wide + high) * 108 + 2 * triangle)


@settings(max_examples=40, deadline=None)
@given(
    length=st.integers(300, 700),
    begins=st.integers(40, 100),
    long=st.integers(40, 120),
    deep=DEPTHS,
)
def test_an_interruption_takes_its_own_length_out_of_an_eave_and_nothing_else(
    length: int, begins: int, long: int, deep: float
) -> None:
    table = f"""what,name,length,height,top,corner,depth,at
every,drip_edge=1,,,,,,
body,,,,,end,,
side,front,{length} in,9 ft,eave,end,{deep:g},
"""
    whole = at("front", house_of(table), "drip edge", 120)
    parted = at(
        "front", house_of(f"{table}interrupted,porch,{long} in,,,,,{begins} in\n"), "drip edge", 120
    )
    assert whole == pytest.approx([length])
    assert parted == pytest.approx([begins, length - begins - long])


def taken_off(plan: Plan) -> TakeOff:
    return house_of(plan.table())


def house_of(table: str) -> TakeOff:
    house, unread = read_house(table)
    runs, notes, impossible = runs_of(house)
    made, untaken = take_off(for_every(runs, house.every, starter_works()), starter_catalog())
    assert not (*unread, *notes, *impossible, *untaken)
    return made


def reach(plan: Plan, number: int) -> float:
    """How much of a side its panels must cover, along the longer of its two edges at each end."""
    start, end = plan.wall(number)
    edge = plan.fascia()[number], plan.fascia()[(number + 1) % len(plan.corners)]
    x, y = minus(end, start)
    level = abs(x) > abs(y)
    along = [point[0] if level else point[1] for point in (start, end, *edge)]
    return max(along) - min(along)


def lengths(found: TakeOff, item: str, stock: int) -> list[float]:
    return [float(line.net * stock) for line in found.lines if line.item == item]


def sticks(found: TakeOff, item: str) -> list[float]:
    return [
        float(piece.length)
        for piece in found.pieces
        if piece.item == item
        for _ in range(piece.pieces)
    ]


def panels(found: TakeOff) -> list[int]:
    return [piece.pieces for piece in found.pieces if piece.item == "soffit panel"]


def counted(found: TakeOff, *items: str) -> list[int]:
    return [int(sum(line.net for line in found.lines if line.item == item)) for item in items]


def minus(one: Point, other: Point) -> Point:
    return one[0] - other[0], one[1] - other[1]


def cross(one: Point, other: Point) -> float:
    return one[0] * other[1] - one[1] * other[0]


def at(place: str, found: TakeOff, item: str, stock: int) -> list[float]:
    return [
        float(line.net * stock) for line in found.lines if line.item == item and line.place == place
    ]
