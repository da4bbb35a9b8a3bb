"""The walk around a house: it closes, or says by how much it does not, and where."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given

from joblog.house.walk import checked, outline
from joblog.model import Body, House
from tests.house.walks import house, rectilinear, side

RECTANGLE = house(side("front", 42), side("left", 28), side("back", 42), side("right", 28)).bodies[
    0
]


def test_a_rectangle_closes() -> None:
    assert checked(RECTANGLE) == ((), ())
    assert outline(RECTANGLE).missing == (0, 0)


def test_with_the_house_at_the_right_hand_an_outside_corner_turns_right() -> None:
    second = outline(RECTANGLE).walls[1]

    assert second.begins == (504, 0)
    assert second.ends == (504, -336)


def test_with_the_house_at_the_left_hand_it_turns_left() -> None:
    assert outline(RECTANGLE, "left").walls[1].ends == (504, 336)


def test_what_is_missing_is_told_with_its_axis() -> None:
    body = house(side("front", 42), side("left", 28), side("back", 41), side("right", 28)).bodies[0]

    (problem,), _ = checked(body)

    assert "front 42' one way, back 41' the other, 1' apart" in problem.why
    assert "left" not in problem.why


def test_an_inch_is_told_and_not_refused() -> None:
    back = Fraction(42 * 12 - 1, 12)
    body = house(side("front", 42), side("left", 28), side("back", back), side("right", 28))

    problems, notes = checked(body.bodies[0])

    assert problems == ()
    assert "front 42' one way, back 41' 11\" the other, 1\" apart" in notes[0]


def test_whoever_is_sure_has_his_house_as_measured() -> None:
    body = house(side("front", 42), side("left", 28), side("back", 41), side("right", 28)).bodies[0]

    problems, notes = checked(body, sure=True)

    assert problems == ()
    assert "1' apart" in notes[0]


def test_an_open_walk_need_not_close() -> None:
    body = house(side("left", 6), side("front", 8), side("right", 6, "end")).bodies[0]

    assert checked(body) == ((), ())
    assert body.first == "end"


def test_a_corner_told_the_wrong_way_is_refused() -> None:
    body = house(side("front", 42), side("left", 28, "inside"), side("back", 42), side("right", 28))

    (problem,), _ = checked(body.bodies[0])

    assert "3 outside corners and 1 inside corner" in problem.why


def test_a_walk_that_ends_in_the_middle_is_refused() -> None:
    body = house(side("front", 42), side("left", 28, "end"), side("back", 42)).bodies[0]

    (problem,), _ = checked(body)

    assert "ends behind left, but goes on" in problem.why


def test_a_walk_that_runs_into_itself_is_refused() -> None:
    # Closes on both axes, but the bay reaches through the front wall.
    crossing = Body(
        "main",
        (
            side("a", 10),
            side("b", 20),
            side("c", 10),
            side("d", 5),
            side("e", 20, "inside"),
            side("f", 5, "inside"),
            side("g", 20),
            side("h", 10),
        ),
    )

    (problem,), _ = checked(crossing)

    assert "crosses itself" in problem.why


@given(rectilinear())
def test_every_square_cornered_house_closes_whatever_its_corners(of: House) -> None:
    assert checked(of.bodies[0]) == ((), ())


@pytest.mark.parametrize("off", [Fraction(1, 16), Fraction(25, 16)])
@given(of=rectilinear())
def test_what_one_side_is_off_by_is_told_exactly(off: Fraction, of: House) -> None:
    sides = of.bodies[0].sides
    longer = side("base", sides[-1].length / 12 + off / 12)

    body = Body("main", (*sides[:-1], longer))

    assert outline(body).missing[1] in (off, -off)
