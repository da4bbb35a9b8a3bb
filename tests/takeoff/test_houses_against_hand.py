"""What the program takes off five houses, against what was taken off them by hand before."""

from collections.abc import Iterable

import pytest

from joblog.model import Piece
from tests.takeoff.by_hand import (
    LAPS,
    NAMES,
    TAPE,
    ByHand,
    amount,
    beyond,
    groups_of,
    inches,
    opening,
    pieces,
    sticks,
)

GROUPS = [
    pytest.param(
        group,
        id=f"{house}: {' and '.join(line.place for line in group)}, {group[0].item}",
    )
    for house in NAMES
    for group in groups_of(house)
    if group[0].item != "return"
]


@pytest.mark.parametrize("group", GROUPS)
def test_an_amount_is_that_which_was_found_by_hand(group: tuple[ByHand, ...]) -> None:
    by_hand = sum(line.amount for line in group)
    assert amount(group[0]) == pytest.approx(by_hand, abs=TAPE * max(2, len(group)))


@pytest.mark.parametrize(
    "group",
    [p for p in GROUPS if p.values[0][0].item in LAPS and any(x.pieces for x in p.values[0])],
)
def test_sticks_are_those_of_the_straight_lines_by_hand(group: tuple[ByHand, ...]) -> None:
    found = [piece for line in _once(group) for piece in pieces(line)]
    assert _lengths(found) == pytest.approx(sticks(group), abs=SIXTEENTH)


@pytest.mark.parametrize("group", [p for p in GROUPS if p.values[0][0].item == "soffit panel"])
def test_soffit_panels_are_as_many_and_as_long(group: tuple[ByHand, ...]) -> None:
    by_hand = [(int(many), inches(length)) for many, length in (_parted(line) for line in group)]
    panels = [length for many, length in by_hand for _ in range(many)]
    assert _lengths(pieces(group[0])) == sorted(panels)


@pytest.mark.parametrize("house", NAMES)
def test_nothing_is_taken_off_where_nothing_goes(house: str) -> None:
    assert beyond(house) == []


SIXTEENTH = 1 / 16 + 1 / 64
"""A piece is rounded to a sixteenth for the tape, and what a root comes to up to 1/64 before."""


def _once(group: tuple[ByHand, ...]) -> list[ByHand]:
    """The lines of which each has pieces of its own: openings have, parts of one side have not."""
    return list(group) if len({line.place for line in group if opening(line)}) else [group[0]]


def _lengths(found: Iterable[Piece]) -> list[float]:
    return sorted(float(piece.length) for piece in found for _ in range(piece.pieces))


def _parted(line: ByHand) -> tuple[str, str]:
    many, _, length = line.pieces.partition(" x ")
    return many, length
