"""A house is read from a table, row by row, and written back as the same house."""

from __future__ import annotations

import csv
import io
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.house.read_table import COLUMNS, is_house_table, read_house, rows_of
from joblog.model import Body, Ceiling, Depth, House, Interruption, Opening, Side
from joblog.sheet import Reading, refused
from tests.house.walks import rectilinear

HEAD = (
    "what,name,length,height,top,corner,depth,pitch,at,sill,count,gutter,siding,open_sides,area\n"
)
TABLE = (
    HEAD
    + '''body,Main,,,,,,,,,,,,,
side,Front,42 ft,9 ft,eave,outside,12,,,,,yes,,,
window,kitchen,3 ft,4 ft,,,,,6 ft,3 ft,2,,,,
door,,3 ft,"6' 8""",,,,,20 ft,,1,,,,
interrupted,porch roof,10 ft,,,,,,16 ft,,,,,,
side,left,28,9,gable,outside,14 3/4,6/12,,,,,,,
side,back,42 ft,9 ft,eave,,12; 12 1/4,,,,,,,,
side,right,28 ft,9 ft,gable,outside,14 3/4,6/12,,,,,no,,
ceiling,porch,8 ft,6 ft,,,,,,,,,,3,
attic,,,,,,,,,,,,,,1176 ft2
'''
)


def problem_of(*rows: str) -> str:
    """Why the last of these rows cannot be taken."""
    first = "" if rows[0].startswith(("side", "body")) else "side,front,42 ft,9 ft\n"
    _, (problem, *_) = read_house(HEAD + first + "\n".join(rows) + "\n")
    return problem.why


def test_a_top_that_was_forgotten_beside_others_is_told() -> None:
    rows = (
        "side,front,42 ft,,eave\nside,left,28 ft\nside,back,42 ft,,eave\nside,right,28 ft,,gable\n"
    )
    house, problems = read_house(HEAD + rows)

    assert [problem.why for problem in problems] == ["no top is said of left; taken as eave"]
    assert refused(problems) == ()
    assert house.bodies[0].sides[1].top == "eave"


def test_a_row_is_a_thing_in_the_order_of_the_walk() -> None:
    house, problems = read_house(TABLE)

    assert problems == ()
    (main,) = house.bodies
    assert [side.name for side in main.sides] == ["front", "left", "back", "right"]
    assert main.sides[0] == Side(
        "front",
        Fraction(504),
        "eave",
        "outside",
        Fraction(108),
        depth=Fraction(12),
        gutter=True,
        openings=(
            Opening("window", Fraction(36), Fraction(48), 2, "kitchen", Fraction(72), Fraction(36)),
            Opening("door", Fraction(36), Fraction(80), at=Fraction(240)),
        ),
        interruptions=(Interruption("porch roof", Fraction(192), Fraction(120)),),
    )
    assert main.sides[1].pitch == 6
    assert main.sides[2].depths == (Depth(Fraction(12)), Depth(Fraction(49, 4)))
    assert not main.sides[3].siding
    assert house.ceilings == (Ceiling("porch", Fraction(96), Fraction(72), 3),)
    assert house.attic == 1176 * 144


def test_every_thing_knows_the_row_it_came_from() -> None:
    house, _ = read_house(TABLE)

    front = house.bodies[0].sides[0]
    assert [front.row, front.openings[1].row] == ["house, row 3", "house, row 5"]
    assert house.attic_row == "house, row 11"


def test_an_attic_of_which_nothing_is_told_is_asked_for_its_area() -> None:
    assert problem_of("attic,") == "says no area"


def test_an_attic_may_be_told_by_its_length_and_width() -> None:
    house, _ = read_house("what,length,height\nattic,42 ft,28 ft\n")

    assert house.attic == 1176 * 144


def test_without_a_row_of_a_body_the_sides_are_those_of_the_house() -> None:
    house, _ = read_house(HEAD + "side,front,42 ft\n")

    assert house.bodies[0].name == "main"


def test_the_walk_may_go_the_other_way() -> None:
    house, _ = read_house(HEAD + "walk,house on the left\nside,front,42 ft\n")

    assert house.at_hand == "left"


def test_what_holds_of_every_run_is_said_once() -> None:
    text = HEAD + "every,drip_edge=1\nevery,Items=fascia: Fascia 1x8\nside,front,42 ft\n"

    house, problems = read_house(text)

    assert problems == ()
    assert house.every == (("drip_edge", "1"), ("items", "fascia: Fascia 1x8"))
    assert read_house(written(house)) == (house, ())


def test_a_body_that_begins_at_a_wall_ends_somewhere() -> None:
    assert "never ends" in problem_of("body,porch,,,,end", "side,left,6 ft", "side,front,8 ft")


def test_a_number_alone_is_no_length_where_feet_and_inches_are_both_usual() -> None:
    assert problem_of("window,,36,48") == (
        "length: may be feet or inches, and so may height; write 36 ft or 36 in"
    )
    assert "write 6 ft or 6 in" in problem_of("window,,3 ft,4 ft,,,,,6")


@pytest.mark.parametrize("corner", ["45", "135 degrees", "bay", "angle"])
def test_corners_that_are_not_square_are_refused_with_what_to_do_instead(corner: str) -> None:
    why = problem_of(f"side,front,42 ft,9 ft,eave,{corner}")

    assert "not square" in why
    assert "give the sides around it as runs of their own" in why


@pytest.mark.parametrize(
    ("row", "why"),
    [
        ("roof,main,3 ft", "'roof' is no row of a house; rows are body, side"),
        ("side,left,,9 ft", "says no length"),
        ("side,left,420 ft,9 ft", "length 420 ft is more than 400 ft"),
        ("side,left,28 ft,108 ft", "height: height 108 ft is more than 60 ft"),
        ("side,left,28 ft,9 ft,eave,,2", "depth: depth 2 in is below 3 in"),
        ("side,left,28 ft,9 ft,gabel", "top: 'gabel' is none of eave, gable, open"),
        ("side,left,28 ft,9 ft,,,,,,,,perhaps", "gutter: 'perhaps' is neither yes nor no"),
        ("side,left,28 ft,9 ft,,,12;0", "one of several is zero"),
        ("side,left,28 ft,9 ft,,,0: 12; 14", "says of some where they were measured"),
        ("side,left,28 ft,9 ft,,,0: 12; 30: 14", "measured beyond the end of the side"),
        ("side,left,28 ft,9 ft,,,,,,,2", "a side takes no count"),
        ("window,,3 ft,4 ft,,,12", "a window takes no depth"),
        ("window,,3 ft", "says no height"),
        ("window,,3 ft,4 ft,,,,,,,2 1/2", "count: 2 1/2 is no count"),
        ("interrupted,porch,9 ft", "says no at"),
        ("ceiling,porch,8 ft,6 ft,,,,,,,,,,5", "a ceiling has 4 edges, not 5"),
        ("every,drip edge", "is written with a measure and what it is"),
        ("walk,around", "on which hand the house was"),
        ("body,porch,,,,outside", "before a body stands nothing"),
    ],
)
def test_what_cannot_be_so_is_refused_in_words(row: str, why: str) -> None:
    assert why in problem_of(row)


def test_what_belongs_to_a_side_wants_one_above_it() -> None:
    _, (problem,) = read_house("what,length,height\nwindow,3 ft,4 ft\n")

    assert problem.why == "a window belongs to the side above it, and there is none"


def test_a_body_with_a_side_that_cannot_be_read_is_left_out_whole() -> None:
    house, problems = read_house(
        HEAD + "side,front,42 ft\nside,left,oops\nbody,porch\nside,left,6 ft,,,end\n"
    )

    assert [body.name for body in house.bodies] == ["porch"]
    assert len(problems) == 1


@pytest.mark.parametrize("rows", ["walk,house on the left\n", "every,drip_edge=1\n"])
def test_a_table_of_no_house_says_so(rows: str) -> None:
    _, (problem,) = read_house(HEAD + rows)

    assert problem.why == "describes no house: it has no row of a side"


def test_a_body_without_a_side_is_told() -> None:
    assert problem_of("body,porch", "body,wing", "side,front,42 ft") == (
        "begins a body, but no side comes behind it"
    )


def test_more_sides_than_any_house_has_are_refused() -> None:
    house, problems = read_house(HEAD + "side,front,42 ft\n" * 202)

    assert house.bodies == ()
    assert len(problems) == 2
    assert "one more than the 200 sides" in problems[0].why


def test_whoever_is_sure_has_it_as_it_stands() -> None:
    house, problems = read_house(HEAD + "side,left,420 ft,9 ft\n", Reading(sure=True))

    assert problems == ()
    assert house.bodies[0].sides[0].length == 5040


def test_a_house_and_runs_are_told_apart_by_their_columns() -> None:
    assert is_house_table(TABLE)
    assert is_house_table(TABLE.replace(",", ";"))
    assert not is_house_table("work,place,length\nboxed eave,front,42\n")
    assert not is_house_table("")


# --- there and back -----------------------------------------------------------------------------


def written(house: House) -> str:
    text = io.StringIO()
    table = csv.DictWriter(text, COLUMNS)
    table.writeheader()
    table.writerows(rows_of(house))
    return text.getvalue()


def test_what_was_read_is_written_as_it_was_read() -> None:
    house, _ = read_house(TABLE)

    assert read_house(written(house)) == (house, ())


lengths = st.fractions(1, 300, max_denominator=16).map(lambda feet: feet * 12)
names = st.sampled_from(("", "front", "left", "north wall", "ell 2"))
maybe = st.none() | lengths.filter(lambda inches: inches <= 600)
openings = st.builds(
    Opening,
    st.sampled_from(("window", "door", "vent", "other")),
    lengths.filter(lambda inches: inches <= 400),
    lengths.filter(lambda inches: inches <= 400),
    st.integers(1, 20),
    names,
    maybe,
    maybe,
)
depths = st.fractions(3, 60, max_denominator=16)
sides = st.builds(
    Side,
    names,
    lengths,
    st.sampled_from(("eave", "gable", "open")),
    st.sampled_from(("outside", "inside", "straight")),
    maybe,
    maybe,
    st.none() | depths,
    pitch=st.none() | st.fractions(1, 24, max_denominator=4),
    gutter=st.booleans(),
    siding=st.booleans(),
    openings=st.lists(openings, max_size=2).map(tuple),
    interruptions=st.lists(st.builds(Interruption, names, lengths, lengths), max_size=1).map(tuple),
)
houses = st.builds(
    House,
    st.lists(
        st.builds(
            Body,
            st.sampled_from(("main", "dormer", "porch")),
            st.lists(sides, min_size=1, max_size=4).map(tuple),
            st.integers(1, 9),
        ),
        min_size=1,
        max_size=3,
    ).map(tuple),
    st.lists(
        st.builds(
            Ceiling, st.just("porch"), lengths.filter(lambda i: i < 2400),
            lengths.filter(lambda i: i < 2400), st.integers(0, 4),
        ),
        max_size=2,
    ).map(tuple),
    st.none() | st.fractions(4, 20_000, max_denominator=4).map(lambda feet: feet * 144),
    st.sampled_from(("left", "right")),
)  # fmt: skip


@given((houses | rectilinear()).filter(lambda house: house.bodies or house.attic))
def test_any_house_comes_back_from_its_table(house: House) -> None:
    assert read_house(written(house)) == (house, ())
