"""Where joints fall: held against every way there is, and against a plain whole-number model."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from decimal import Decimal
from fractions import Fraction
from functools import cache
from itertools import pairwise
from math import ceil
from pathlib import Path

import highspy
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.cutting.joints import joints_of, plan_runs, with_joints_of
from joblog.cutting.read_plan import read_plans
from joblog.cutting.recut import recut
from joblog.model import CutPlan, Joints, Piece, StockLength
from joblog.report.cut_sheet import cut_json

NONE = Fraction(0)
FEET = 12
THREE = tuple(StockLength(Fraction(feet * FEET)) for feet in (12, 16, 20))
LAPPED = Joints(lap=Fraction(1), clear=Fraction(24))


def run(feet: int, rule: Joints = LAPPED, label: str = "eave", pieces: int = 1) -> Piece:
    return Piece(Fraction(feet * FEET), pieces, label, "fascia", joints=rule)


def planned(
    wanted: Sequence[Piece], stock: Sequence[StockLength] = THREE, effort: float = 1
) -> CutPlan:
    plan, problems = plan_runs(wanted, stock, kerf=NONE, effort=effort)
    assert (problems, plan.short) == ((), ())
    return plan


def joints(plan: CutPlan) -> int:
    return sum(len(one.joints) * one.pieces for one in plan.runs)


def bought(plan: CutPlan) -> list[int]:
    return sorted(int(stick.length / FEET) for stick in plan.sticks if not stick.offcut)


# --- what a person sees -------------------------------------------------------------------------


def test_two_eaves_of_41_ft_take_84_ft_in_12_16_and_20_with_two_joints_each() -> None:
    # Of 12 ft alone it is as much, but three joints an eave: 41 ft has room for 3 sticks and more.
    wanted = [run(41, label="front"), run(41, label="back")]
    alone, mixed = planned(wanted, THREE[:1]), planned(wanted)
    assert (sum(bought(alone)), joints(alone)) == (84, 6)
    assert (sum(bought(mixed)), joints(mixed)) == (84, 4)
    assert mixed.proved
    assert mixed.joints_at_least == 4


def test_the_label_of_a_piece_says_from_where_to_where_it_goes() -> None:
    plan = planned([run(30, label="front")], THREE[:1])
    labels = sorted(cut.label for stick in plan.sticks for cut in stick.cuts)
    assert labels[0] == "front, 0\" to 12'"
    [one] = plan.runs
    assert (one.label, one.length) == ("front", 360)


def test_what_costs_least_is_taken_where_lengths_have_prices() -> None:
    # 31 ft and a lap: 12 + 20 is 36.00, three of 12 as much with a joint more, two of 20 48.00.
    prices = {12: "12.00", 16: "40.00", 20: "24.00"}
    stock = [StockLength(Fraction(f * FEET), cost=Decimal(p)) for f, p in prices.items()]
    plan = planned([run(31)], stock)
    assert bought(plan) == [12, 20]
    assert (plan.spent, plan.at_least) == (36, 36)


def test_an_offcut_on_hand_becomes_part_of_a_run() -> None:
    offcut = StockLength(Fraction(100), 1, offcut=True)
    plan = planned([run(20)], [THREE[0], offcut])
    assert bought(plan) == [12]
    assert joints(plan) == 1


def test_runs_and_pieces_that_stay_whole_share_their_sticks() -> None:
    plan = planned([run(20), Piece(Fraction(40), 1, "short", "fascia")], THREE[:1])
    # 144 and 97, 40 beside it.
    assert bought(plan) == [12, 12]


def test_joints_fall_over_rafters_alone_and_stay_away_from_corners() -> None:
    rule = Joints(spacing=Fraction(16), first=Fraction(8), clear=Fraction(24))
    plan = planned([run(41, rule)])
    for joint in plan.runs[0].joints:
        assert (joint - 8) % 16 == 0
        assert 24 <= joint <= 41 * FEET - 24


def test_joints_stay_away_from_those_of_another_item_at_the_same_place() -> None:
    fascia = planned([run(41)])
    rule = Joints(lap=Fraction(2), clear=Fraction(24), beside="fascia", stagger=Fraction(24))
    edge = [Piece(Fraction(41 * FEET), 1, "eave", "drip edge", joints=rule)]
    plan, _ = plan_runs(edge, THREE, elsewhere=joints_of([fascia]))
    theirs = fascia.runs[0].joints
    assert plan.runs[0].joints
    assert all(abs(a - b) >= 24 for a in plan.runs[0].joints for b in theirs)


def test_joints_of_two_runs_side_by_side_are_staggered() -> None:
    rule = Joints(clear=Fraction(24), beside="lower", stagger=Fraction(36))
    wanted = [run(35, Joints(clear=Fraction(24)), "lower"), run(35, rule, "upper")]
    lower, upper = planned(wanted).runs
    assert all(abs(a - b) >= 36 for a in lower.joints for b in upper.joints)


def test_a_wish_that_cannot_be_kept_is_given_up_and_said() -> None:
    # Nothing of 12 ft reaches from rafter to rafter that are 15 ft apart.
    rule = Joints(spacing=Fraction(180))
    [one] = planned([run(41, rule)], THREE[:1]).runs
    assert one.note == "its joints cannot all fall on their spacing"


def test_a_run_that_no_sticks_are_left_for_is_short() -> None:
    plan, problems = plan_runs([run(41)], [StockLength(Fraction(144), 2)], effort=0.05)
    assert plan.short
    assert "no stock is left" in problems[0].why


def test_a_list_that_was_begun_goes_on_with_its_joints() -> None:
    wanted = [run(41, label="front"), run(41, label="back")]
    plan = planned(wanted)
    again, problems = recut(plan, plan.sticks[:2], with_joints_of(plan, wanted), THREE)
    assert problems == ()
    assert again.in_vain == ()
    assert len(again.plan.sticks) == len(plan.sticks) - 2


# --- what always holds --------------------------------------------------------------------------

RULES = st.builds(
    Joints,
    lap=st.sampled_from([NONE, Fraction(3, 4), Fraction(1)]),
    spacing=st.sampled_from([None, Fraction(16), Fraction(96, 5)]),
    first=st.integers(0, 16).map(Fraction),
    clear=st.sampled_from([NONE, Fraction(12), Fraction(24)]),
)


@settings(max_examples=10, deadline=None)
@given(st.lists(st.tuples(st.fractions(1, 60, max_denominator=16), RULES), min_size=1, max_size=4))
def test_pieces_cover_each_run_with_its_laps_and_nothing_is_below_the_bound(
    sizes: list[tuple[Fraction, Joints]],
) -> None:
    wanted = [
        Piece(Fraction(ceil(feet * FEET * 16), 16), 1, f"run {at}", "fascia", joints=rule)
        for at, (feet, rule) in enumerate(sizes)
    ]
    plan, problems = plan_runs(wanted, THREE, effort=0.02)
    assert problems == ()
    assert plan.at_least <= plan.spent
    assert plan.joints_at_least <= joints(plan)
    cut: dict[str, list[Fraction]] = {}
    for stick in plan.sticks:
        for one in stick.cuts:
            cut.setdefault(one.label.partition(",")[0], []).append(one.length)
    parted = {one.label: one for one in plan.runs}
    for piece, (_, rule) in zip(wanted, sizes, strict=True):
        at = parted[piece.label].joints if piece.label in parted else ()
        assert len(cut[piece.label]) == len(at) + 1
        over = sum(cut[piece.label]) - piece.length - rule.lap * len(at)
        assert 0 <= over <= Fraction(len(at) + 1, 16)
        assert list(at) == sorted(at)


# --- against every way there is -----------------------------------------------------------------


def ways(length: int, stock: Sequence[int], spacing: int, clear: int) -> Iterator[tuple[int, ...]]:
    """All ways to part a run at places of its spacing, butted; each as its pieces' lengths."""
    places = [at for at in range(spacing, length, spacing) if clear <= at <= length - clear]

    def from_(begin: int) -> Iterator[tuple[int, ...]]:
        if length - begin <= max(stock):
            yield (length - begin,)
        for place in places:
            if begin < place and place - begin <= max(stock) and place - begin >= (clear or 1):
                for rest in from_(place):
                    yield (place - begin, *rest)

    yield from from_(0)


def least_stock(pieces: tuple[int, ...], stock: tuple[int, ...]) -> int:
    """The shortest sticks that hold the pieces, by trying everything; no kerf."""

    @cache
    def least(left: tuple[int, ...]) -> int:
        if not left:
            return 0
        found = []
        for length in stock:
            if left[0] <= length:
                for rest in filled(left[1:], length - left[0]):
                    found.append(length + least(rest))
        return min(found)

    def filled(left: tuple[int, ...], room: int) -> set[tuple[int, ...]]:
        """What may be left beside a stick with so much room."""
        rests = {left}
        for at, piece in enumerate(left):
            if piece <= room and (not at or left[at - 1] != piece):
                for rest in filled(left[at + 1 :], room - piece):
                    rests.add((*left[:at], *rest))
        return rests

    return least(tuple(sorted(pieces, reverse=True)))


def best_of_all(
    runs: Sequence[int], stock: tuple[int, ...], spacing: int, clear: int
) -> tuple[int, int]:
    """(stock, joints) of the best choice, by trying all of them."""
    pools: dict[tuple[int, ...], int] = {(): 0}
    for length in runs:
        pools = {
            tuple(sorted((*pool, *way))): count + len(way) - 1
            for pool, count in pools.items()
            for way in ways(length, stock, spacing, clear)
        }
    return min((least_stock(pool, stock), count) for pool, count in pools.items())


@pytest.mark.parametrize(
    ("runs", "stock", "spacing", "clear"),
    [
        ([7], (4,), 1, 0),
        ([7, 7], (4, 5), 1, 1),
        ([9, 5], (4, 6), 1, 2),
        ([11], (4, 5), 2, 2),
        ([6, 6, 6], (5, 7), 1, 2),
        ([10, 7], (6,), 1, 2),
        ([8, 8], (3, 5), 1, 1),
        ([13], (4, 5, 6), 1, 2),
        ([5, 6, 7], (4, 9), 1, 1),
        ([12, 5], (5, 8), 3, 2),
    ],
)
def test_small_ones_are_the_best_of_all_choices(
    runs: list[int], stock: tuple[int, ...], spacing: int, clear: int
) -> None:
    rule = Joints(spacing=Fraction(spacing * 16), clear=Fraction(clear * 16))
    wanted = [Piece(Fraction(n * 16), 1, f"run {at}", joints=rule) for at, n in enumerate(runs)]
    plan = planned(wanted, [StockLength(Fraction(n * 16)) for n in stock])
    found = (plan.spent / 16, joints(plan))
    assert found == best_of_all(runs, stock, spacing, clear)
    assert plan.at_least / 16 <= found[0]


# --- against a plain model ----------------------------------------------------------------------


def by_plain_model(runs: Sequence[int], stock: Sequence[int], clear: int) -> tuple[int, int]:
    """(stock, joints) at least, by a whole-number program that numbers every stick: in units of a
    rafter, butted, no kerf. A piece of a run is an arc from place to place; sticks take pieces."""
    most = sum(-(-length // min(stock)) for length in runs)
    model = highspy.Highs()
    model.setOptionValue("output_flag", False)
    model.setOptionValue("time_limit", 120.0)
    used = {(k, size): model.addBinary(obj=1000 * size) for k in range(most) for size in stock}
    cut = {
        (k, size): model.addIntegral(lb=0, ub=max(stock))
        for k in range(most)
        for size in range(1, max(stock) + 1)
    }
    asked: dict[int, list[highspy.highs.highs_var]] = {n: [] for n in range(1, max(stock) + 1)}
    for length in runs:
        places = [0, *(p for p in range(1, length) if clear <= p <= length - clear), length]
        arcs = {
            (a, b): model.addBinary(obj=1)
            for a in places
            for b in places
            if a < b and b - a <= max(stock) and (b - a >= clear or (a, b) == (0, length))
        }
        for (a, b), arc in arcs.items():
            asked[b - a].append(arc)
        for place in places:
            out = sum(arc for (a, _), arc in arcs.items() if a == place)
            into = sum(arc for (_, b), arc in arcs.items() if b == place)
            ends = 1 if place == 0 else -1 if place == length else 0
            model.addConstr(out - into == ends)
    for size, arcs_of in asked.items():
        if arcs_of:
            model.addConstr(sum(cut[k, size] for k in range(most)) >= sum(arcs_of))
    for k in range(most):
        model.addConstr(sum(used[k, size] for size in stock) <= 1)
        room = sum(size * used[k, size] for size in stock)
        model.addConstr(sum(n * cut[k, n] for n in range(1, max(stock) + 1)) <= room)
        if k:
            before = sum(size * used[k - 1, size] for size in stock)
            model.addConstr(before >= room)
    model.run()
    assert model.getModelStatus() == highspy.HighsModelStatus.kOptimal
    stock_used, pieces = divmod(round(model.getObjectiveValue()), 1000)
    return stock_used, pieces - len(runs)


@pytest.mark.parametrize(
    ("runs", "stock", "clear"),
    [
        ([30, 22], (9, 12, 15), 2),
        ([31, 31, 21], (9, 12, 15), 2),
        ([26, 17, 13], (9, 12), 2),
        ([33, 20], (9,), 2),
    ],
)
def test_medium_ones_are_as_good_as_by_a_plain_model(
    runs: list[int], stock: tuple[int, ...], clear: int
) -> None:
    rule = Joints(spacing=Fraction(16), clear=Fraction(clear * 16))
    wanted = [Piece(Fraction(n * 16), 1, f"run {at}", joints=rule) for at, n in enumerate(runs)]
    plan = planned(wanted, [StockLength(Fraction(n * 16)) for n in stock])
    assert (plan.spent / 16, joints(plan)) == by_plain_model(runs, stock, clear)


def test_the_same_list_gets_the_same_joints() -> None:
    wanted = [run(feet, label=str(feet)) for feet in (41, 29, 22, 18)]
    first, second = planned(wanted, effort=0.05), planned(wanted, effort=0.05)
    assert first == second
    for one in first.runs:
        assert all(a < b for a, b in pairwise(one.joints))


def test_a_list_that_was_printed_is_read_back_with_its_joints(tmp_path: Path) -> None:
    plan = planned([run(41, label="front"), run(30, label="back")], effort=0.05)
    file = tmp_path / "cuts.json"
    file.write_text(json.dumps({"plans": [cut_json(plan)]}), "utf-8")
    assert read_plans(file) == (plan,)
