"""A house becomes runs: each corner counted once, each side by itself.

What corners do to an eave is common practice, worked out by hand at each test.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from joblog.catalog.lines import starter_catalog
from joblog.house.runs import runs_of
from joblog.model import Amount, Body, Ceiling, Depth, House, Interruption, Opening, Run
from joblog.sheet import Question
from joblog.takeoff.take_off import take_off
from tests.house.walks import DEPTH, fascia, house, measures, rectilinear, runs, side, summed

HIP = house(side("front", 42), side("left", 28), side("back", 42), side("right", 28))
GABLED = house(
    side("front", 42),
    side("left", 28, top="gable", pitch=Fraction(6), depth=Fraction(14)),
    side("back", 42),
    side("right", 28, top="gable", pitch=Fraction(6), depth=Fraction(14)),
)


def test_a_side_that_is_called_by_its_body_is_so_called_once() -> None:
    porch = Body("porch", (side("porch left", 6, corner="end"),), count=2)
    places = {run.place for run in runs(House((*HIP.bodies, porch)))}

    assert {"porch 1 left", "porch 2 left", "left"} < places


def test_two_gables_of_one_width_and_two_pitches_are_told() -> None:
    front, left, back, right = GABLED.bodies[0].sides
    steeper = Body("main", (front, left, back, replace(right, pitch=Fraction(8))))

    assert (
        "left rises 6 in 12 and right 8, as wide as each other; is one a slip?"
        in (runs_of(House((steeper,)))[1])
    )
    assert not any("slip" in note for note in runs_of(GABLED)[1])


# --- eaves ------------------------------------------------------------------------------------


def test_at_a_hip_the_fascia_goes_on_by_the_depth_around_the_corner() -> None:
    deep_ends = house(
        side("front", 42),
        side("left", 28, depth=Fraction(16)),
        side("back", 42),
        side("right", 28, depth=Fraction(18)),
    )

    # 16 in past the left corner and 18 in past the right one.
    (front,) = measures(deep_ends, "boxed eave", "front")
    (left,) = measures(deep_ends, "boxed eave", "left")

    assert front["beyond"] == 34
    assert left["beyond"] == 24


def test_each_corner_is_counted_once_and_each_mitred_end_too() -> None:
    total = summed(runs(HIP))

    assert total["boxed eave", "outside_corners"] == 4
    assert total["boxed eave", "mitred_ends"] == 8
    assert ("boxed eave", "free_ends") not in total


def test_all_the_fascia_of_a_hip_is_measured_at_the_soffits_edge() -> None:
    # 140 ft around the walls and 8 ft for the four corners of a soffit one foot deep.
    assert fascia(HIP) == 148 * 12


def test_at_an_inside_corner_both_fascias_stop_short() -> None:
    ell = house(
        side("front", 20),
        side("left", 30),
        side("back", 40),
        side("right", 16),
        side("inner", 20, "inside"),
        side("wing", 14),
    )

    (inner,) = measures(ell, "boxed eave", "inner")
    (wing,) = measures(ell, "boxed eave", "wing")

    assert (inner["beyond"], inner["short"], inner["inside_corners"]) == (12, 12, 1)
    assert (wing["beyond"], wing["short"]) == (12, 12)
    assert summed(runs(ell))["boxed eave", "inside_corners"] == 1


def test_beside_a_gable_the_eave_goes_on_to_the_edge_of_the_rake_and_returns() -> None:
    (front,) = measures(GABLED, "boxed eave", "front")

    assert front["beyond"] == 28
    assert front["returns"] == 2
    assert front["slanted"] == 0
    assert "outside_corners" not in front


def test_an_eave_that_meets_a_wall_has_a_free_end_there() -> None:
    porch = house(side("left", 6), side("front", 8), side("right", 6, "end"))

    (left,) = measures(porch, "boxed eave", "left")
    (right,) = measures(porch, "boxed eave", "right")

    assert (left["beyond"], left["free_ends"], left["outside_corners"]) == (12, 1, 1)
    assert (right["beyond"], right["free_ends"]) == (12, 1)
    assert "outside_corners" not in right


def test_beside_a_side_where_nothing_is_ours_the_eave_ends() -> None:
    beside = house(
        side("front", 42), side("left", 28, top="open", depth=None), side("back", 42),
        side("right", 28),
    )  # fmt: skip

    (front,) = measures(beside, "boxed eave", "front")

    assert (front["beyond"], front["free_ends"]) == (12, 1)


def test_an_eave_in_one_line_with_a_gable_ends_at_it() -> None:
    flush = house(
        side("front", 42),
        side("left", 28),
        side("back", 42),
        side("right", 14, "straight", top="gable", pitch=Fraction(8)),
        side("right rear", 14),
    )

    (rear,) = measures(flush, "boxed eave", "right rear")
    slopes = measures(flush, "rake", "right")

    assert (rear["beyond"], rear["free_ends"]) == (12, 1)
    assert [slope["run"] for slope in slopes] == [8, 7]


# --- rakes ------------------------------------------------------------------------------------


def test_the_slope_of_a_rake_comes_down_over_the_eave_at_its_foot() -> None:
    slopes = measures(GABLED, "rake", "left")

    # Half of 28 ft, and the foot of soffit that the eave has.
    assert [slope["run"] for slope in slopes] == [15, 15]
    assert [slope["depth"] for slope in slopes] == [14, 14]


def test_a_gable_without_its_pitch_is_refused() -> None:
    flat = house(side("front", 42), side("left", 28, top="gable"), side("back", 42), side("r", 28))

    _, _, (problem,) = runs_of(flat)

    assert "says no pitch" in problem.why


def test_where_the_ridge_is_beside_an_inside_corner_is_asked() -> None:
    ell = house(
        side("front", 20),
        side("left", 30),
        side("back", 40),
        side("right", 16),
        side("inner", 20, "inside"),
        side("wing", 14, top="gable", pitch=Fraction(6)),
    )

    _, _, (question,) = runs_of(ell)
    found, (note, *_), problems = runs_of(ell, sure=True)

    assert isinstance(question, Question)
    assert "say --sure if it is so" in question.why
    assert problems == ()
    assert "its ridge is taken to stand in its middle" in note
    # Half of 14 ft; down over the eave of the front, and short of the inner one's.
    assert [dict(run.measures)["run"].quantity for run in found if run.work == "rake"] == [6, 8]


# --- what interrupts --------------------------------------------------------------------------


def test_an_interruption_parts_an_eave_into_two_with_free_ends() -> None:
    porch = Interruption("porch roof", Fraction(16 * 12), Fraction(10 * 12))
    parted = house(
        side("front", 42, interruptions=(porch,)),
        *HIP.bodies[0].sides[1:],
    )

    one, other = measures(parted, "boxed eave", "front")

    assert (one["length"], one["beyond"], one["free_ends"]) == (16, 12, 1)
    assert (other["length"], other["beyond"], other["free_ends"]) == (16, 12, 1)
    assert "outside_corners" not in one
    assert other["outside_corners"] == 1


def test_an_interruption_at_a_corner_leaves_none_there() -> None:
    porch = Interruption("porch roof", Fraction(0), Fraction(10 * 12))
    parted = house(side("front", 42, interruptions=(porch,)), *HIP.bodies[0].sides[1:])

    (front,) = measures(parted, "boxed eave", "front")
    (right,) = measures(parted, "boxed eave", "right")

    assert (front["length"], front["beyond"], front["free_ends"]) == (32, 12, 1)
    assert (right["beyond"], right["free_ends"]) == (12, 1)
    assert "outside_corners" not in right


@pytest.mark.parametrize(("at", "length"), [(40, 10), (14, 10)])
def test_what_interrupts_beyond_the_end_or_twice_is_refused(at: int, length: int) -> None:
    chimney = Interruption("chimney", Fraction(12 * 12), Fraction(5 * 12))
    other = Interruption("porch", Fraction(at * 12), Fraction(length * 12))
    parted = house(side("front", 42, interruptions=(chimney, other)), *HIP.bodies[0].sides[1:])

    _, _, (problem,) = runs_of(parted)

    assert "porch" in problem.why


def test_depths_along_an_eave_go_with_its_parts() -> None:
    porch = Interruption("porch roof", Fraction(120), Fraction(120))
    depths = (Depth(Fraction(12)), Depth(Fraction(14)), Depth(Fraction(14)))
    parted = house(
        side("front", 40, depth=None, depths=depths, interruptions=(porch,)),
        side("left", 28), side("back", 40), side("right", 28),
    )  # fmt: skip

    one, other = (run for run in runs(parted) if run.place == "front")

    # Measured at 0, 20 and 40 ft: 13 in lies straight between at 10 ft, and 14 in from 20 ft on.
    assert one.depths == (Depth(Fraction(12), Fraction(0)), Depth(Fraction(13), Fraction(120)))
    assert other.depths == ()
    assert dict(other.measures)["depth"].quantity == 14


# --- gutters ----------------------------------------------------------------------------------


def test_gutters_all_around_have_mitres_and_no_end_caps() -> None:
    sides = (replace(one, gutter=True, height=Fraction(108)) for one in HIP.bodies[0].sides)

    total = summed([run for run in runs(house(*sides)) if run.work == "gutter run"])

    assert total["gutter run", "outside_corners"] == 4
    assert total["gutter run", "end_caps"] == 0
    assert total["gutter run", "length"] == 148
    assert total["gutter run", "drop"] == 4 * 9


def test_a_gutter_knows_how_much_of_it_comes_before() -> None:
    sides = HIP.bodies[0].sides
    three = (replace(one, gutter=one.name != "left", height=Fraction(108)) for one in sides)
    found = house(*three)

    # Back, right and front hang together, 44, 30 and 44 ft along the fascia; left has none.
    assert "before" not in measures(found, "gutter run", "back")[0]
    assert measures(found, "gutter run", "right")[0]["before"] == 44
    assert measures(found, "gutter run", "front")[0]["before"] == 74


def test_a_gutter_beside_a_gable_has_two_end_caps_at_the_edges_of_the_rakes() -> None:
    front = replace(GABLED.bodies[0].sides[0], gutter=True, height=Fraction(108))
    gabled = house(front, *(replace(one, siding=False) for one in GABLED.bodies[0].sides[1:]))

    (gutter,) = measures(gabled, "gutter run", "front")

    assert gutter["end_caps"] == 2
    assert gutter["length"] == 42 + Fraction(28, 12)


# --- walls ------------------------------------------------------------------------------------

WALLED = tuple(replace(one, height=Fraction(108)) for one in GABLED.bodies[0].sides)


def test_each_corner_post_belongs_to_the_wall_before_it() -> None:
    total = summed([run for run in runs(house(*WALLED)) if run.work == "wall"])

    assert total["wall", "corners"] == 4


def test_a_post_beside_a_wall_without_siding_belongs_to_the_one_that_has_it() -> None:
    only_left = house(*(replace(one, siding=one.name == "left") for one in WALLED))

    (left,) = measures(only_left, "wall", "left")

    assert left["corners"] == 2


def test_a_gable_is_a_wall_and_a_triangle_that_stands_on_it() -> None:
    vent = Opening("vent", Fraction(18), Fraction(24))
    left = replace(WALLED[1], openings=(vent, Opening("window", Fraction(36), Fraction(48), 2)))
    found = house(WALLED[0], left, *WALLED[2:])

    (wall,) = measures(found, "wall", "left")
    (triangle,) = measures(found, "gable wall", "left")

    assert (wall["height"], wall["openings"]) == (9, 24)
    assert "under_eave" not in wall
    assert (triangle["on_wall"], triangle["openings"]) == (1, 3)
    assert [window["count"] for window in measures(found, "window", "left")] == [1, 2]


def test_a_door_at_the_foot_takes_no_starter() -> None:
    doors = (
        Opening("door", Fraction(36), Fraction(80)),
        Opening("door", Fraction(72), Fraction(80), sill=Fraction(96)),
    )
    front = replace(WALLED[0], openings=doors[:1], height=Fraction(216))
    upstairs = replace(WALLED[2], openings=doors[1:], height=Fraction(216))
    found = house(front, WALLED[1], upstairs, WALLED[3])

    assert measures(found, "wall", "front")[0]["door_width"] == 3
    assert "door_width" not in measures(found, "wall", "back")[0]


@pytest.mark.parametrize(
    ("opening", "why"),
    [
        (Opening("window", Fraction(600), Fraction(36)), "is 50' wide, but the side is 42' long"),
        (Opening("window", Fraction(36), Fraction(36), at=Fraction(480)), "ends at 43'"),
        (Opening("window", Fraction(36), Fraction(36), sill=Fraction(96)), "reaches up to 11'"),
    ],
)
def test_an_opening_that_does_not_fit_its_wall_is_refused(opening: Opening, why: str) -> None:
    found = house(replace(WALLED[0], openings=(opening,)), *WALLED[1:])

    _, _, (problem,) = runs_of(found)

    assert why in problem.why


def test_an_opening_over_another_one_is_refused() -> None:
    window = Opening("window", Fraction(36), Fraction(48), at=Fraction(72), sill=Fraction(36))
    above = replace(window, sill=Fraction(84), height=Fraction(24))
    once_more = replace(window, at=Fraction(90), row="house.csv, row 5")
    found = house(replace(WALLED[0], openings=(window, above, once_more)), *WALLED[1:])

    _, _, (problem,) = runs_of(found)

    assert problem.what == "house.csv, row 5"
    assert problem.why == "lies over the window at 6'"


def test_walls_that_are_far_from_alike_at_their_corner_are_told() -> None:
    found = house(replace(WALLED[0], height=Fraction(228)), *WALLED[1:])

    _, notes, problems = runs_of(found)

    assert problems == ()
    assert "front is 19' high where left begins with 9'" in notes


@pytest.mark.parametrize(
    ("more", "why"),
    [
        ({"pitch": Fraction(6)}, "says a pitch, but its top is eave"),
        ({"top": "open", "gutter": True}, "no eave that it could hang on"),
        (
            {"top": "open", "interruptions": (Interruption("porch", Fraction(0), Fraction(60)),)},
            "interrupts a side that has no eave",
        ),
    ],
)
def test_what_does_not_go_together_is_refused(more: dict[str, Any], why: str) -> None:
    found = house(replace(HIP.bodies[0].sides[0], **more), *HIP.bodies[0].sides[1:])

    _, _, (problem,) = runs_of(found)

    assert why in problem.why


def test_the_cheek_of_a_dormer_is_a_triangle_of_siding() -> None:
    dormer = Body(
        "dormer",
        (
            side("left", 6, height=Fraction(0), height_end=Fraction(60)),
            side("front", 5, height=Fraction(60), top="gable", pitch=Fraction(8)),
            side("right", 6, "end", height=Fraction(60), height_end=Fraction(0)),
        ),
        count=2,
    )
    found = House((house(*WALLED).bodies[0], dormer))

    (cheek,) = measures(found, "wall", "dormer 2 left")

    assert (cheek["height"], cheek["height_end"], cheek["corners"]) == (5, 0, 1)
    assert measures(found, "wall", "dormer 1 right") == [
        {"width": 6, "height": 5, "height_end": 0, "on_roof": 1, "under_eave": 1}
    ]


# --- what is not known ------------------------------------------------------------------------


def test_without_any_height_only_what_is_under_the_roof_is_taken_off_and_that_is_said() -> None:
    found, notes, problems = runs_of(GABLED)

    assert {run.work for run in found} == {"boxed eave", "rake"}
    assert problems == ()
    assert notes == ("no side says its height; left out: siding",)


def test_a_height_that_only_one_side_lacks_is_refused() -> None:
    found = house(*WALLED[:3], replace(WALLED[3], height=None, row="house.csv, row 6"))

    _, _, (problem,) = runs_of(found)

    assert problem.what == "house.csv, row 6"
    assert (
        'says no height, which its siding needs; say siding "no" where it has none' in problem.why
    )


def test_a_depth_that_only_one_side_lacks_is_refused() -> None:
    found = house(*HIP.bodies[0].sides[:3], side("right", 28, depth=None))

    _, _, (problem,) = runs_of(found)

    assert "says no depth" in problem.why


def test_soffits_that_leave_nothing_of_a_short_side_are_refused() -> None:
    bay = house(
        side("front", 40),
        side("left", 30),
        side("back", 20),
        side("in", 1, "inside"),
        side("nook", 1, "inside"),
        side("out", 1),
        side("back again", 19),
        side("right", 30),
    )

    _, _, problems = runs_of(bay)

    assert any("leaves no eave" in problem.why for problem in problems)


def test_a_body_whose_walk_does_not_close_gives_no_runs() -> None:
    found, _, problems = runs_of(house(*HIP.bodies[0].sides[:3], side("right", 27)))

    assert found == ()
    assert len(problems) == 1


def test_ceilings_and_attic_are_runs_of_their_own() -> None:
    found = House(
        ceilings=(Ceiling("porch", Fraction(96), Fraction(72)),), attic=Fraction(1176 * 144)
    )

    ceiling, attic = runs(found)

    assert ceiling.measures[0][1].quantity == 8
    assert attic.measures[0][1].quantity == 1176


# --- what holds of every house ------------------------------------------------------------------


@given(rectilinear())
def test_the_edge_around_any_square_cornered_house_is_its_walls_and_eight_depths(of: House) -> None:
    # The outer offset of a closed line with square corners: each outside corner adds the depth
    # twice, each inside corner takes it away twice, and there are four more of the former.
    around = sum(one.length for one in of.bodies[0].sides)

    assert fascia(of) == around + 8 * DEPTH


@given(rectilinear(height=Fraction(108), gutter=True), st.integers(0, 20))
def test_it_makes_no_difference_where_the_walk_begins(of: House, turned: int) -> None:
    sides = of.bodies[0].sides
    begun = turned % len(sides)

    def alike(found: tuple[Run, ...]) -> list[Run]:
        # Which gutter comes before another is all that goes by where the walk begins.
        bare = (replace(run, measures=_but(run, "before")) for run in found)
        return sorted(bare, key=lambda run: (run.place, run.work, str(run.measures)))

    assert alike(runs(house(*sides[begun:], *sides[:begun]))) == alike(runs(of))


@given(rectilinear(height=Fraction(108), gutter=True), st.integers(0, 20), st.integers(1, 11))
def test_a_side_told_as_two_in_one_line_changes_no_feet(of: House, which: int, cut: int) -> None:
    sides = of.bodies[0].sides
    number = which % len(sides)
    whole = sides[number]
    assume(whole.length * min(cut, 12 - cut) / 12 > 2 * DEPTH)
    one = replace(whole, length=whole.length * cut / 12, corner="straight")
    other = replace(whole, name="rest", length=whole.length - one.length)

    told = house(*sides[:number], one, other, *sides[number + 1 :])

    # The ground is as far down from both parts, so a second drop is a measure and no length.
    assert _feet(told) == _feet(of)


def _but(run: Run, name: str) -> tuple[tuple[str, Amount], ...]:
    return tuple(measure for measure in run.measures if measure[0] != name)


def _feet(of: House) -> dict[tuple[str, str], Fraction]:
    total = summed(runs(of))
    same = ("before", "drop", "depth", "height", "under_eave")
    return {key: Fraction(value) for key, value in total.items() if key[1] not in same}


@given(rectilinear(height=Fraction(108), gutter=True))
def test_whatever_is_made_of_a_house_can_be_taken_off(of: House) -> None:
    found, problems = take_off(runs(of), starter_catalog())

    assert problems == ()
    assert found.lines
