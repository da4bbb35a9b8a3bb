"""A new list in the middle of the cutting."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.cutting.cuts import plan_cuts
from joblog.cutting.recut import begun, recut
from joblog.model import Piece, Stick, StockLength

TWELVE_FEET = StockLength(Fraction(144))
RACK = StockLength(Fraction(50), 2, offcut=True, label="rack")

lines = st.lists(
    st.builds(
        Piece,
        st.sampled_from([Fraction(20), Fraction(95, 2), Fraction(60), Fraction(287, 8)]),
        st.integers(1, 5),
        st.sampled_from(["north", "porch"]),
    ),
    min_size=1,
    max_size=4,
)


def lengths_of(pieces: tuple[Piece, ...] | list[Piece]) -> Counter[Fraction]:
    counted: Counter[Fraction] = Counter()
    for piece in pieces:
        counted[piece.length] += piece.pieces
    return counted


def cut_lengths(sticks: tuple[Stick, ...]) -> Counter[Fraction]:
    return Counter(cut.length for stick in sticks for cut in stick.cuts)


@settings(max_examples=40)
@given(lines, lines, st.integers(0, 4))
def test_nothing_that_was_cut_is_changed_lost_or_cut_twice(
    before: list[Piece], after: list[Piece], done_count: int
) -> None:
    stock = [TWELVE_FEET, RACK]
    plan, _ = plan_cuts(before, stock)
    done = plan.sticks[:done_count]
    again, problems = recut(plan, done, after, [TWELVE_FEET])
    assert problems == ()
    assert again.plan.already == done
    assert lengths_of(again.served) + cut_lengths(again.plan.sticks) == lengths_of(after)
    assert lengths_of(again.served) <= cut_lengths(done)
    used = Counter(stick.label for stick in (*done, *again.plan.sticks) if stick.offcut)
    assert used["rack"] <= 2
    for stick in again.plan.sticks:
        assert stick.length == sum(cut.length for cut in stick.cuts) + stick.kerf + stick.remainder


def test_an_unchanged_list_keeps_what_was_cut_and_cuts_the_rest() -> None:
    wanted = [Piece(Fraction(287, 8), 12, "north")]
    plan, _ = plan_cuts(wanted, [TWELVE_FEET])
    again, _ = recut(plan, plan.sticks[:1], wanted, [TWELVE_FEET])
    assert lengths_of(again.served) == {Fraction(287, 8): 4}
    assert len(again.plan.sticks) == 2
    assert again.in_vain == ()


def test_a_scratched_piece_that_is_long_enough_becomes_an_offcut() -> None:
    plan, _ = plan_cuts([Piece(Fraction(100), 1, "rake")], [TWELVE_FEET])
    again, _ = recut(plan, plan.sticks, [Piece(Fraction(45), 2, "porch")], [TWELVE_FEET])
    [stick] = again.plan.sticks
    assert (stick.length, stick.offcut, stick.label) == (100, True, "cut as rake")


def test_a_scratched_piece_that_is_short_was_cut_in_vain() -> None:
    plan, _ = plan_cuts([Piece(Fraction(10), 1, "vent")], [TWELVE_FEET])
    again, _ = recut(plan, plan.sticks, [Piece(Fraction(45))], [TWELVE_FEET])
    assert again.in_vain == (Piece(Fraction(10), 1, "vent"),)


def test_the_rest_of_a_stick_that_was_begun_is_used_first() -> None:
    # By hand: one of three cuts of 47 1/2 leaves 144 - 47 1/2 - 1/8 = 96 3/8.
    wanted = [Piece(Fraction(95, 2), 3, "north")]
    plan, _ = plan_cuts(wanted, [TWELVE_FEET])
    first = begun(plan, plan.sticks[0], 1)
    again, _ = recut(plan, [first], wanted, [TWELVE_FEET])
    assert first.remainder == Fraction(771, 8)
    assert [(stick.length, stick.offcut) for stick in again.plan.sticks] == [
        (Fraction(771, 8), True)
    ]


def test_a_piece_serves_another_place_that_wants_its_length() -> None:
    plan, _ = plan_cuts([Piece(Fraction(60), 2, "north")], [TWELVE_FEET])
    again, _ = recut(plan, plan.sticks, [Piece(Fraction(60), 2, "south")], [TWELVE_FEET])
    assert again.served == (Piece(Fraction(60), 2, "south"),)
    assert again.plan.sticks == ()


def test_limited_stock_that_was_cut_is_gone() -> None:
    two = StockLength(Fraction(144), 2)
    plan, _ = plan_cuts([Piece(Fraction(100), 1, "a")], [two])
    again, _ = recut(plan, plan.sticks, [Piece(Fraction(101), 2, "b")], [two])
    assert len(again.plan.sticks) == 1
    assert [(line.length, line.pieces) for line in again.plan.short] == [(101, 1)]


def test_a_stick_that_is_not_on_the_plan_cannot_be_done() -> None:
    plan, _ = plan_cuts([Piece(Fraction(60), 2)], [TWELVE_FEET])
    with pytest.raises(ValueError, match="not on the plan"):
        recut(plan, plan.sticks * 2, [Piece(Fraction(60))], [TWELVE_FEET])


def test_more_cuts_than_a_stick_has_cannot_be_done() -> None:
    plan, _ = plan_cuts([Piece(Fraction(60), 2)], [TWELVE_FEET])
    with pytest.raises(ValueError, match="has 2 cuts"):
        begun(plan, plan.sticks[0], 3)


def test_when_all_stock_is_cut_up_the_rest_is_short_and_said() -> None:
    one = StockLength(Fraction(144), 1)
    plan, _ = plan_cuts([Piece(Fraction(144), 1, "a")], [one])
    finished, nothing = recut(plan, plan.sticks, [Piece(Fraction(144), 1, "a")], [one])
    again, [problem] = recut(plan, plan.sticks, [Piece(Fraction(144), 2, "a")], [one])
    assert (finished.plan.sticks, finished.plan.short, nothing) == ((), (), ())
    assert again.plan.short == (Piece(Fraction(144), 1, "a"),)
    assert (problem.what, problem.why) == ("a", "no stock is left to cut it from")


@settings(max_examples=30)
@given(lines, lines, lines, st.integers(0, 3), st.integers(0, 3))
def test_a_list_may_change_twice(
    first: list[Piece], second: list[Piece], third: list[Piece], one: int, two: int
) -> None:
    plan, _ = plan_cuts(first, [TWELVE_FEET, RACK])
    again, _ = recut(plan, plan.sticks[:one], second, [TWELVE_FEET])
    last, _ = recut(again.plan, again.plan.sticks[:two], third, [TWELVE_FEET])
    cut = (*plan.sticks[:one], *again.plan.sticks[:two])
    assert last.plan.already == cut
    assert lengths_of(last.served) + cut_lengths(last.plan.sticks) == lengths_of(third)
    every = (*cut, *last.plan.sticks)
    bought = sum(stick.length for stick in every if not stick.offcut)
    material = bought + 2 * RACK.length
    assert sum(piece.length * piece.pieces for piece in last.served) <= material
    assert sum(stick.label == "rack" for stick in every) <= 2


def test_an_offcut_that_a_plan_left_alone_is_there_for_the_next() -> None:
    plan, _ = plan_cuts([Piece(Fraction(60), 2)], [TWELVE_FEET, RACK])
    again, _ = recut(plan, plan.sticks, [Piece(Fraction(45), 2)], [TWELVE_FEET])
    assert [stick.label for stick in again.plan.sticks] == ["rack", "rack"]
    assert [(line.length, line.pieces) for line in plan.spare] == [(50, 2)]
