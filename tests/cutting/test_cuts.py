"""The cut list: nothing is lost, nothing is invented, and the least stock is used."""

from __future__ import annotations

from collections import Counter
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.cutting.cuts import plan_cuts
from joblog.model import CutPlan, Piece, Stick, StockLength

TWELVE_FEET = StockLength(Fraction(144))

sixteenths = st.integers(1, 16 * 150).map(lambda count: Fraction(count, 16))
odd_lengths = st.fractions(Fraction(1, 3), 140, max_denominator=97)
lines = st.builds(
    Piece,
    sixteenths | odd_lengths,
    st.integers(1, 6),
    st.sampled_from(["", "north", "porch"]),
)
new_stock = st.lists(
    st.builds(StockLength, sixteenths, st.none() | st.integers(0, 4)), min_size=1, max_size=3
)
offcuts = st.lists(
    st.builds(StockLength, sixteenths, st.integers(0, 3), offcut=st.just(True)), max_size=3
)


def pieces_of(wanted: list[Piece] | tuple[Piece, ...]) -> Counter[tuple[Fraction, str]]:
    counted: Counter[tuple[Fraction, str]] = Counter()
    for line in wanted:
        counted[line.length, line.label] += line.pieces
    return counted


def cut_pieces(plan: CutPlan) -> Counter[tuple[Fraction, str]]:
    return Counter((cut.length, cut.label) for stick in plan.sticks for cut in stick.cuts)


def marks_by_hand(stick: Stick, kerf: Fraction) -> list[Fraction]:
    lengths = [cut.length for cut in stick.cuts]
    return [sum(lengths[: at + 1], at * kerf) for at in range(len(lengths))]


def longest_fitting(stock: list[StockLength]) -> Fraction:
    return max((line.length for line in stock if line.pieces != 0), default=Fraction(0))


@settings(max_examples=60)
@given(
    st.lists(lines, max_size=8),
    new_stock,
    offcuts,
    st.sampled_from([Fraction(0), Fraction(1, 8), Fraction(3, 32), Fraction(5)]),
    st.sampled_from([1, 2]),
)
def test_no_plan_loses_a_piece_invents_material_or_exceeds_its_stock(
    wanted: list[Piece],
    new: list[StockLength],
    old: list[StockLength],
    kerf: Fraction,
    at_once: int,
) -> None:
    stock = [TWELVE_FEET if longest_fitting(new) == 0 else new[0], *new, *old]
    # Whatever it finds must hold; how good it is, and that it is proved, is asked elsewhere.
    plan, _ = plan_cuts(wanted, stock, kerf=kerf, at_once=at_once, effort=0.02)
    fitting = [line for line in wanted if line.length <= longest_fitting(stock)]
    assert cut_pieces(plan) + pieces_of(plan.short) == pieces_of(fitting)
    for stick in plan.sticks:
        assert stick.length == sum(cut.length for cut in stick.cuts) + stick.kerf + stick.remainder
        assert stick.remainder >= 0
        assert (len(stick.cuts) - 1) * kerf <= stick.kerf <= len(stick.cuts) * kerf
        assert stick.kerf == len(stick.cuts) * kerf or stick.remainder == 0
        assert [cut.mark for cut in stick.cuts] == marks_by_hand(stick, kerf)
        assert stick.kept == (stick.remainder >= plan.useful and stick.remainder > 0)
    used = Counter((stick.length, stick.offcut) for stick in plan.sticks)
    for (length, offcut), count in used.items():
        alike = [line for line in stock if (line.length, line.offcut) == (length, offcut)]
        assert alike
        assert any(line.pieces is None for line in alike) or count <= sum(
            line.pieces or 0 for line in alike
        )
    assert plan.at_least <= plan.spent
    assert plan.spent == sum(stick.length for stick in plan.sticks if not stick.offcut)


@settings(max_examples=15)
@given(st.lists(lines, min_size=1, max_size=6))
def test_the_same_question_gives_the_same_plan(wanted: list[Piece]) -> None:
    assert plan_cuts(wanted, [TWELVE_FEET]) == plan_cuts(wanted, [TWELVE_FEET])


@settings(max_examples=40)
@given(st.lists(lines, min_size=1, max_size=6))
def test_a_proved_plan_is_never_worse_than_its_order_of_lines_allows(wanted: list[Piece]) -> None:
    forwards, _ = plan_cuts(wanted, [TWELVE_FEET])
    backwards, _ = plan_cuts(wanted[::-1], [TWELVE_FEET])
    assert forwards.proved
    assert backwards.proved
    assert forwards.spent == backwards.spent


def test_the_last_piece_may_end_where_the_stick_ends() -> None:
    # By hand: 3 x 47 7/8 + 2 x 3/16 = 144.
    plan, _ = plan_cuts([Piece(Fraction(383, 8), 3)], [TWELVE_FEET], kerf=Fraction(3, 16))
    [stick] = plan.sticks
    assert (stick.kerf, stick.remainder) == (Fraction(3, 8), 0)
    assert [cut.mark for cut in stick.cuts] == [
        Fraction(383, 8),
        Fraction(383, 8) * 2 + Fraction(3, 16),
        144,
    ]


def test_a_blade_that_runs_off_the_end_takes_what_is_there() -> None:
    # By hand: 71 15/16 twice and one cut of 1/8 make 144 exactly less nothing; a sixteenth less
    # in one piece leaves a sixteenth, which the last cut turns to dust.
    plan, _ = plan_cuts([Piece(Fraction(1151, 16)), Piece(Fraction(1150, 16))], [TWELVE_FEET])
    [stick] = plan.sticks
    assert (stick.kerf, stick.remainder) == (Fraction(3, 16), 0)


def test_a_sixteenth_too_much_takes_another_stick() -> None:
    plan, _ = plan_cuts([Piece(Fraction(1151, 16)), Piece(Fraction(1152, 16))], [TWELVE_FEET])
    assert len(plan.sticks) == 2


def test_offcuts_on_hand_are_used_first() -> None:
    rack = StockLength(Fraction(50), 2, offcut=True, label="rack")
    plan, _ = plan_cuts([Piece(Fraction(45), 3)], [TWELVE_FEET, rack])
    assert [(stick.offcut, len(stick.cuts), stick.label) for stick in plan.sticks] == [
        (True, 1, "rack"),
        (True, 1, "rack"),
        (False, 1, ""),
    ]


def test_the_cheapest_stock_is_bought_where_there_are_costs() -> None:
    # By hand: two of 96 in at 10 each beat one of 144 and one of 96 at 27.
    long = StockLength(Fraction(144), cost=Decimal("17.00"))
    short = StockLength(Fraction(96), cost=Decimal("10.00"))
    plan, _ = plan_cuts([Piece(Fraction(47), 4)], [long, short])
    assert (plan.spent, plan.priced, plan.proved) == (20, True, True)
    assert {stick.length for stick in plan.sticks} == {96}


def test_the_least_length_is_bought_where_there_are_no_costs() -> None:
    plan, _ = plan_cuts([Piece(Fraction(100))], [TWELVE_FEET, StockLength(Fraction(120))])
    assert [stick.length for stick in plan.sticks] == [120]


def test_of_plans_with_the_same_stock_the_one_with_fewest_patterns_is_taken() -> None:
    # By hand: 40 + 60 + 40 twice is one pattern; 60 + 60 and 40 + 40 + 40, 40 would be three.
    wanted = [Piece(Fraction(60), 2), Piece(Fraction(40), 4)]
    plan, _ = plan_cuts(wanted, [TWELVE_FEET])
    assert (len(plan.sticks), plan.patterns, plan.patterns_proved) == (2, 1, True)


def test_of_plans_with_the_same_patterns_the_one_with_the_longest_offcut_is_taken() -> None:
    # By hand, no kerf: 70 + 70 with 50 leaves 94; 70 + 50 with 70 leaves only 74.
    plan, _ = plan_cuts(
        [Piece(Fraction(70), 2), Piece(Fraction(50))], [TWELVE_FEET], kerf=Fraction(0)
    )
    assert max(stick.remainder for stick in plan.sticks) == 94


def test_a_short_remainder_is_waste_and_a_long_one_is_kept() -> None:
    plan, _ = plan_cuts([Piece(Fraction(100))], [TWELVE_FEET], useful=Fraction(43))
    stricter, _ = plan_cuts([Piece(Fraction(100))], [TWELVE_FEET], useful=Fraction(44))
    assert [stick.kept for stick in (*plan.sticks, *stricter.sticks)] == [True, False]


def test_a_run_longer_than_any_stock_is_made_of_sticks_that_lap() -> None:
    # By hand: three sticks that lap 1 in cover 3 x 144 - 2 = 430; 492 takes 62 + 1 more.
    plan, problems = plan_cuts([Piece(Fraction(492), 1, "eave")], [TWELVE_FEET], lap=Fraction(1))
    assert problems == ()
    assert sorted(cut.length for stick in plan.sticks for cut in stick.cuts) == [63, 144, 144, 144]


def test_a_run_is_made_of_sticks_that_do_not_run_out() -> None:
    # The one longer stick on hand is cut like any other; it does not set the length of all.
    longer = StockLength(Fraction(180), 1, offcut=True)
    plan, problems = plan_cuts(
        [Piece(Fraction(492), 2, "eave")], [TWELVE_FEET, longer], lap=Fraction(1)
    )
    assert (problems, plan.short) == ((), ())
    assert Counter(cut.length for stick in plan.sticks for cut in stick.cuts) == {144: 6, 63: 2}


def test_what_no_stock_is_left_for_is_said() -> None:
    two = StockLength(Fraction(144), 2)
    plan, [problem] = plan_cuts([Piece(Fraction(80), 3, "eave", source="list, row 2")], [two])
    assert [(line.length, line.pieces) for line in plan.short] == [(80, 1)]
    assert (problem.what, problem.why) == (
        "list, row 2",
        "no stock is left for 1 piece of 6' 8\"",
    )


@pytest.mark.parametrize(
    ("line", "why"),
    [
        (Piece(Fraction(0)), "longer than zero"),
        (Piece(Fraction(-3)), "longer than zero"),
        (Piece(Fraction(10), 0), "must be 1 or more"),
        (Piece(Fraction(145)), "longer than the longest stock, 12'"),
        (Piece(Fraction(10), 10**9), "beyond 20,000 pieces"),
    ],
)
def test_a_line_that_cannot_be_cut_is_named_and_the_rest_is_planned(line: Piece, why: str) -> None:
    plan, [problem] = plan_cuts([line, Piece(Fraction(20), 2)], [TWELVE_FEET])
    assert why in problem.why
    assert cut_pieces(plan) == {(Fraction(20), ""): 2}


@pytest.mark.parametrize(
    ("stock", "why"),
    [
        ([], "no stock to cut from"),
        ([StockLength(Fraction(0))], "must be above zero"),
        ([StockLength(Fraction(144), -1), TWELVE_FEET], "cannot be -1"),
        ([StockLength(Fraction(96), cost=Decimal(3)), TWELVE_FEET], "every stock length, or for"),
        ([StockLength(Fraction(96), cost=Decimal("-3"))], "a cost is above 0"),
    ],
)
def test_stock_that_makes_no_sense_is_refused(stock: list[StockLength], why: str) -> None:
    with pytest.raises(ValueError, match=why):
        plan_cuts([Piece(Fraction(20))], stock)


def test_an_empty_list_is_an_empty_plan() -> None:
    plan, problems = plan_cuts([], [TWELVE_FEET])
    assert (plan.sticks, plan.proved, problems) == ((), True, ())


def test_when_nothing_may_be_searched_the_plan_says_how_far_it_may_be_from_the_best() -> None:
    wanted = [Piece(Fraction(60 + at), 5) for at in range(12)]
    plan, _ = plan_cuts(wanted, [TWELVE_FEET], effort=0)
    assert sum(cut_pieces(plan).values()) == 60
    assert plan.at_least <= plan.spent
    assert not plan.patterns_proved


def test_two_sticks_of_one_load_are_cut_alike() -> None:
    plan, _ = plan_cuts([Piece(Fraction(60), 10)], [TWELVE_FEET], at_once=2)
    loads = Counter(stick.load for stick in plan.sticks)
    assert sorted(loads.values()) == [1, 2, 2]


def test_lengths_off_every_tape_are_cut_exactly() -> None:
    # A hundredth of a millimetre is 1/2540 in: far finer than the search goes.
    length = Fraction(12345, 254) + Fraction(1, 999983)
    plan, _ = plan_cuts([Piece(length, 4)], [TWELVE_FEET])
    assert {cut.length for stick in plan.sticks for cut in stick.cuts} == {length}
    assert len(plan.sticks) == 2


@pytest.mark.parametrize("kerf", [Fraction(0), Fraction(1, 8)])
def test_a_stick_of_any_length_and_a_piece_of_any_thinness_are_planned(kerf: Fraction) -> None:
    # A tenth of a billionth of an inch beside a stick of 19 miles.
    wanted = [
        Piece(Fraction(1, 10**10)),
        Piece(Fraction(12), 3),
        Piece(Fraction(1439999999, 10**7), 2),
    ]
    endless = StockLength(Fraction(99999 * 12), 1, offcut=True)
    plan, problems = plan_cuts(wanted, [TWELVE_FEET, endless], kerf=kerf)
    assert problems == ()
    assert sum(cut_pieces(plan).values()) == 6
    assert (len(plan.sticks), plan.spent, plan.proved) == (1, 0, True)
