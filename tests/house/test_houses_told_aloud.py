"""Houses that stand in a table, told aloud instead: the same house comes of it, but for what nobody
says on a walk: gutters, siding, sills, and what sides and openings are called."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from joblog.house.read_table import read_house
from joblog.model import Body, House, Side
from tests.house.told import told

TABLES = Path(__file__).parents[1] / "takeoff/houses"

HIP = """
front eave forty feet
walls are nine feet high
overhang sixteen
window four by five at six feet
front door three by six eight at eighteen feet
window four by five at thirty feet
outside corner
left eave twenty eight feet
overhang fifteen
window two by three at twelve feet
outside corner
back eave forty feet, overhang sixteen
window three foot by three foot six at eight feet
back door three by six eight at twenty two feet
outside corner
right eave twenty eight feet, overhang fifteen
that's all the way around
attic eleven hundred twenty square feet
"""
GABLE = """
front eave thirty two feet, wall eight feet high, overhang fourteen
living room window three by five at four feet
door three by six eight at fourteen feet
bedroom window three by five at twenty four feet
outside corner
left side twenty four, gable
wall eight feet high
overhang ten
six twelve pitch
window three by four at ten feet
vent two by two feet at eleven feet
outside corner
back eave thirty two, wall eight feet high, overhang fourteen
patio door six by six eight at twelve feet
kitchen window four by three at twenty four feet
outside corner
right side twenty four, gable, six twelve pitch
wall eight feet high
overhang ten
window three by four at ten feet
outside corner
carport ceiling twenty by fourteen
attic seven hundred sixty eight square feet
"""
L_SHAPE = """
walls are nine feet high
eaves overhang twelve
front eave forty feet, window three by five at five feet, door three by six eight at eighteen feet
window three by five at thirty feet
outside corner
left eave thirty feet, two windows three by four, outside corner
back eave twenty four feet, window three by three at nine feet, outside corner
inner eave twelve feet, inside corner
wing back sixteen feet, eave
back door three by six eight at five feet
outside corner
right eave eighteen feet
that closes it
attic one thousand eight square feet
"""
PORCH = """
front eave thirty six feet
walls are eight feet high
eaves overhang twelve
gables overhang twelve
porch roof interrupts it from ten to nineteen feet
window three by four at four feet
door three by six eight at thirteen feet
window three by four at twenty six feet
outside corner
left gable twenty six feet
four twelve pitch
window three by four at eleven feet
outside corner
back eave thirty six feet
two windows three by three
door three by six eight at seventeen feet
outside corner
right gable twenty six feet, four twelve pitch
that's all the way around
it starts at the house wall
porch right six feet, eave, outside corner
overhang six
porch front eight feet, eave, overhang six, outside corner
porch left six feet, eave, overhang six
it ends at the house wall
porch ceiling eight by six
attic nine hundred thirty six square feet
"""


@pytest.mark.parametrize(
    ("name", "walk"),
    [("hip", HIP), ("gable", GABLE), ("l_shape", L_SHAPE), ("porch", PORCH)],
    ids=lambda given: given.split()[0],
)
def test_a_house_told_aloud_is_the_house_in_the_table(name: str, walk: str) -> None:
    written, problems = read_house(TABLES / f"{name}.csv")
    found = told(*walk.strip().splitlines())
    assert (problems, found.problems) == ((), ())
    assert as_told(found.house) == as_told(written)


def as_told(house: House) -> House:
    """The house as far as it is told on a walk."""
    ceilings = tuple(
        replace(one, length=max(one.length, one.width), width=min(one.length, one.width))
        for one in house.ceilings
    )
    bodies = tuple(map(_body, house.bodies))
    return replace(house, bodies=bodies, ceilings=ceilings, every=())


def _body(body: Body) -> Body:
    return replace(body, sides=tuple(map(_side, body.sides)))


def _side(side: Side) -> Side:
    openings = tuple(replace(one, name="", sill=None) for one in side.openings)
    return replace(side, name="", gutter=False, siding=True, openings=openings)
