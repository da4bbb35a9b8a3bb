"""A house made of a walk around it that was told aloud, line by line, through the book."""

from fractions import Fraction

import pytest

from joblog.house.walk import checked
from joblog.model import Ceiling, Depth, Interruption, Opening
from tests.house.told import told, whys

FRONT = "front eave forty two feet"
WALK = (
    FRONT,
    "outside corner",
    "left side twenty eight, gable",
    "outside corner",
    "back eave forty two feet, outside corner",
    "right side twenty eight, gable",
    "that's all the way around",
)


def lengths(*lines: str) -> list[tuple[str, Fraction, str, str]]:
    [body] = told(*lines).house.bodies
    return [(side.name, side.length / 12, side.top, side.corner) for side in body.sides]


def test_a_walk_around_a_house_comes_back() -> None:
    assert lengths(*WALK) == [
        ("front eave", 42, "eave", "outside"),
        ("left side", 28, "gable", "outside"),
        ("back eave", 42, "eave", "outside"),
        ("right side", 28, "gable", "outside"),
    ]
    found = told(*WALK)
    assert found.problems == ()
    assert checked(found.house.bodies[0]) == ((), ())


def test_the_corner_that_leads_back_need_not_be_said() -> None:
    assert lengths(*WALK)[-1][-1] == "outside"


def test_a_walk_that_comes_back_exactly_is_over_without_saying_so() -> None:
    assert lengths(*WALK[:-1], "outside corner") == lengths(*WALK)


def test_a_walk_that_stops_is_asked_about() -> None:
    found = told(*WALK[:4])
    assert found.house.bodies == ()
    assert "the walk stops behind left side" in whys(found)[0]


def test_an_inside_corner_turns_the_other_way() -> None:
    sides = lengths(
        "front eave forty feet, outside corner",
        "left eave thirty feet, outside corner",
        "back eave twenty four feet, outside corner",
        "inner eave twelve feet, inside corner",
        "wing eave sixteen feet, outside corner",
        "right eave eighteen feet, outside corner",
        "that's all the way around",
    )
    assert [corner for *_, corner in sides].count("inside") == 1
    assert sum(length for _, length, *_ in sides) == 140


def test_what_is_said_of_a_side_is_that_sides() -> None:
    found = told(
        FRONT,
        "wall nine feet high",
        "overhang twelve",
        "two windows three by five",
        "door three by six eight at twenty feet",
        "porch roof interrupts it from ten to eighteen feet",
        *WALK[1:],
    )
    front = found.house.bodies[0].sides[0]
    assert (front.height, front.depth) == (108, 12)
    assert front.openings == (
        Opening("window", Fraction(36), Fraction(60), 2),
        Opening("door", Fraction(36), Fraction(80), at=Fraction(240)),
    )
    assert front.interruptions == (Interruption("porch roof", Fraction(120), Fraction(96)),)
    assert found.notes[:-1] == (
        "nobody said the height of left side, back eave, right side",
        "nobody said the depth of the soffit of left side, back eave, right side",
        "nobody said the pitch of left side, right side",
    )


def test_a_place_that_is_named_again_goes_on_with_that_side() -> None:
    found = told(*WALK, "window three by four on the left side")
    assert [len(side.openings) for side in found.house.bodies[0].sides] == [0, 1, 0, 0]


def test_what_is_said_of_walls_and_eaves_holds_for_all_of_them() -> None:
    found = told(FRONT, "walls are nine feet high", "eaves overhang sixteen", *WALK[1:])
    sides = found.house.bodies[0].sides
    assert [side.height for side in sides] == [108] * 4
    assert [side.depth for side in sides] == [16, None, 16, None]


def test_depths_keep_where_they_were_measured() -> None:
    found = told(
        FRONT, "at ten feet, depth fourteen", "at thirty feet, depth fourteen and a half", *WALK[1:]
    )
    front = found.house.bodies[0].sides[0]
    assert front.depth is None
    assert front.depths == (
        Depth(Fraction(14), Fraction(120)),
        Depth(Fraction(29, 2), Fraction(360)),
    )


def test_a_ceiling_has_its_length_and_width() -> None:
    found = told(*WALK, "porch ceiling eight by six")
    assert found.house.ceilings == (Ceiling("porch", Fraction(96), Fraction(72)),)


@pytest.mark.parametrize(
    ("slip", "instead"),
    [
        (("front eave forty one feet", "make it forty two"), WALK[0]),
        (("inside corner", "not inside, outside"), WALK[1]),
        (("inside corner", "scratch that", "outside corner"), WALK[1]),
        (("inside corner", "no, outside corner"), WALK[1]),
    ],
)
def test_what_is_put_right_stands_as_if_it_had_been_said_so(
    slip: tuple[str, ...], instead: str
) -> None:
    lines: list[str] = []
    for line in WALK:
        lines += slip if line == instead and slip else (line,)
        slip = () if line == instead else slip
    assert lengths(*lines) == lengths(*WALK)


def test_a_side_whose_wall_nobody_named_is_asked_about() -> None:
    found = told(*WALK[:2], "left side twenty eight", *WALK[3:])
    assert found.house.bodies == ()
    assert whys(found) == ["left side: eave or gable? Nobody said it"]


def test_two_sides_without_a_corner_between_them_are_asked_about() -> None:
    found = told(*WALK[:1], *WALK[1:3], *WALK[4:])
    assert found.house.bodies == ()
    assert whys(found)[0] == "no corner was said between left side and back eave"


def test_two_corners_without_a_side_between_them_are_asked_about() -> None:
    found = told(*WALK[:2], "inside corner", *WALK[2:])
    assert found.house.bodies == ()
    assert "two corners in a row behind front eave" in whys(found)[0]


def test_two_lengths_of_one_side_are_asked_about() -> None:
    found = told(*WALK[:2], "left side thirty, gable", *WALK[2:])
    assert found.house.bodies == ()
    assert "left side was said to be 30' and 28' long" in whys(found)[0]


def test_an_entry_in_doubt_counts_nowhere() -> None:
    found = told(*WALK[:2], "left side eight, gable", *WALK[3:])
    assert found.house.bodies == ()
    assert any("in doubt, and counts nowhere; settle it first" in why for why in whys(found))


def test_measures_without_any_corner_are_no_walk() -> None:
    found = told("north eave forty two feet", "cut four at thirteen and a half")
    assert found.house.bodies == ()
    assert "nobody has told a walk around it" in whys(found)[0]


def test_a_dormer_that_begins_and_ends_at_the_roof_is_a_body_of_its_own() -> None:
    found = told(
        *WALK,
        "the walk starts at the roof",
        "dormer right six feet, eave, outside corner",
        "dormer front six feet, gable, outside corner",
        "dormer left six feet, eave",
        "the walk ends at the roof",
    )
    assert found.problems == ()
    assert [body.name for body in found.house.bodies] == ["main", "dormer"]
    dormer = found.house.bodies[1]
    assert [(side.name, side.corner) for side in dormer.sides] == [
        ("right", "outside"),
        ("front", "outside"),
        ("left", "end"),
    ]


def test_gutters_are_said_to_be_missing() -> None:
    assert told(*WALK).notes[-1].startswith("where gutters hang is not told aloud")


def test_what_is_measured_for_a_cut_is_no_side() -> None:
    assert lengths(*WALK, "cut three at thirty two and a half") == lengths(*WALK)
