"""A house drawn: what stands where, and that a slip is seen."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from joblog.house.scene import Scene, elevations_of, plans_of
from joblog.model import Body, Corner, House, Interruption, Opening, Side, Top
from joblog.report.drawn import as_text, drawn


def side(name: str, feet: int, corner: Corner = "outside", top: Top = "eave") -> Side:
    return Side(
        name,
        Fraction(12 * feet),
        top,
        corner,
        height=Fraction(108),
        depth=Fraction(12),
        pitch=Fraction(6) if top == "gable" else None,
    )


MAIN = Body(
    "main",
    (
        side("front", 42),
        side("left", 28, top="gable"),
        side("back", 26, "inside"),
        side("wing side", 12),
        side("wing back", 16, top="gable"),
        side("right", 40),
    ),
)


def walls(scene: Scene) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    return [(one.begins, one.ends) for one in scene.strokes if one.kind == "wall"]


def test_with_the_house_at_the_right_hand_the_first_side_is_at_the_foot_and_goes_left() -> None:
    (scene,) = plans_of(House((MAIN,)))
    (begins, ends), *rest = walls(scene)
    assert (begins, ends) == ((0, 0), (-504, 0))
    assert all(spot[1] >= 0 for wall in rest for spot in wall)
    assert rest[-1][1] == (0, 0)


def test_with_it_at_the_left_hand_the_first_side_is_at_the_foot_and_goes_right() -> None:
    (scene,) = plans_of(House((MAIN,), at_hand="left"))
    (begins, ends), *rest = walls(scene)
    assert (begins, ends) == ((0, 0), (504, 0))
    assert all(spot[1] >= 0 for wall in rest for spot in wall)


def test_soffits_lie_outside_their_walls_and_meet_at_the_corners() -> None:
    (scene,) = plans_of(House((MAIN,)))
    edges = [one for one in scene.strokes if one.kind == "edge"]
    for one, other in zip(edges, [*edges[1:], edges[0]], strict=True):
        assert one.ends == other.begins
    assert scene.extent == (-516, -12, 12, 492)


def test_what_a_walk_lacks_to_close_is_drawn() -> None:
    slip = replace(MAIN, sides=(*MAIN.sides[:-1], side("right", 37)))
    (scene,) = plans_of(House((slip,)))
    [missing] = [one for one in scene.strokes if one.kind == "missing"]
    assert missing.begins == (0, 36)
    assert any("?" in line for line in drawn(scene))
    assert not any("?" in line for line in drawn(plans_of(House((MAIN,)))[0]))


def test_seen_from_outside_a_side_begins_at_the_hand_where_the_house_was_not() -> None:
    window = Opening("window", Fraction(36), Fraction(48), at=Fraction(24), sill=Fraction(36))
    body = Body("shed", (replace(side("front", 20), openings=(window,)), *MAIN.sides[1:]))
    for hand, left, right in (("right", 180, 216), ("left", 24, 60)):
        scene = elevations_of(House((body,), at_hand=hand))[0]  # type: ignore[arg-type]
        across = [one.begins[0] for one in scene.strokes if one.kind == "opening"]
        assert (min(across), max(across)) == (left, right)


def test_where_something_interrupts_an_eave_no_soffit_is_drawn() -> None:
    porch = Interruption("porch roof", Fraction(120), Fraction(96))
    body = replace(MAIN, sides=(replace(MAIN.sides[0], interruptions=(porch,)), *MAIN.sides[1:]))
    (scene,) = plans_of(House((body,)))
    along_front = sorted(
        sorted((one.begins[0], one.ends[0]))
        for one in scene.strokes
        if one.kind == "edge" and one.begins[1] == one.ends[1] == -12
    )
    assert along_front == [[-516, -216], [-120, 12]]


@pytest.mark.parametrize("width", [40, 60, 80, 140])
def test_every_side_and_its_measures_are_told_within_the_width(width: int) -> None:
    text = as_text(House((MAIN,)), width)
    drawing, _, legend = text.partition("  1 front: 42', soffit 12 in, 9' high")
    assert legend
    for line in drawing.splitlines():
        assert len(line) <= width
    for line in (
        "2 left: 28', gable, 6 in 12, soffit 12 in, 9' high",
        "3 back: 26', soffit 12 in, 9' high; then an inside corner",
    ):
        assert line in text


def test_what_is_in_a_side_is_told_below_it() -> None:
    windows = Opening("window", Fraction(36), Fraction(48), 2, "kitchen", Fraction(72))
    body = replace(MAIN, sides=(replace(MAIN.sides[0], openings=(windows,)), *MAIN.sides[1:]))
    assert "      2 kitchen window 3' x 4' at 6'\n" in as_text(House((body,)))


def test_names_from_outside_are_text_and_never_signs_for_the_terminal() -> None:
    body = replace(MAIN, name="\x1b[31m", sides=(side("\x1b]0;x\x07", 42), *MAIN.sides[1:]))
    assert not {"\x1b", "\x07"} & set(as_text(House((body,))))


def test_a_plain_square_looks_like_one() -> None:
    square = Body("shed", tuple(replace(side(str(n), 10), depth=None) for n in range(4)))
    assert drawn(plans_of(House((square,)))[0], 40, 12.0) == [
        "shed from above",
        "          2 10'",
        "       ┌─────────┐",
        "       │         │",
        " 1 10' │         │ 3 10'",
        "       │         │",
        "       │         │",
        "       └─────────┘",
        "          0 10'",
    ]
