"""A search ends by the work done: the same list and effort give the same plan everywhere."""

from __future__ import annotations

import json
import os
import random
import subprocess
import sys
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.cutting.cuts import fewest_sticks, plan_cuts
from joblog.cutting.effort import USUAL, Effort
from joblog.model import CutPlan, Piece, StockLength

TWELVE_FEET = StockLength(Fraction(144))
RACK = [StockLength(Fraction(1009, 16), 2, offcut=True), StockLength(Fraction(80), offcut=True)]

odd_lengths = st.integers(100, 2304).map(lambda count: Fraction(count, 16))
long_lists = st.lists(st.builds(Piece, odd_lengths, st.integers(1, 4)), min_size=8, max_size=20)


def long_list(seed: int, lengths: int = 60) -> list[Piece]:
    chance = random.Random(seed)
    return [
        Piece(Fraction(chance.randint(100, 1000), 16), 3, f"wall {at}") for at in range(lengths)
    ]


@settings(max_examples=10)
@given(long_lists, st.sampled_from([0, 0.001, 0.01]))
def test_the_same_list_gives_the_same_plan_wherever_the_search_ends(
    wanted: list[Piece], effort: float
) -> None:
    plan = plan_cuts(wanted, [TWELVE_FEET], effort=effort)
    assert plan_cuts(wanted, [TWELVE_FEET], effort=effort) == plan


@settings(max_examples=10)
@given(long_lists, st.randoms(use_true_random=False), st.sampled_from([0.001, 0.01]))
def test_a_list_in_another_order_gives_the_same_sticks(
    wanted: list[Piece], chance: random.Random, effort: float
) -> None:
    mixed = chance.sample(wanted, len(wanted))
    stock = [TWELVE_FEET, StockLength(Fraction(192))]
    plan, _ = plan_cuts(wanted, stock, effort=effort)
    again, _ = plan_cuts(mixed, stock[::-1], effort=effort)
    assert again == plan


def test_labels_go_by_the_order_of_the_list_and_the_cuts_do_not() -> None:
    wanted = long_list(1)
    plan, _ = plan_cuts(wanted, [TWELVE_FEET], effort=0.01)
    again, _ = plan_cuts(wanted[::-1], [TWELVE_FEET], effort=0.01)
    assert without_labels(again) == without_labels(plan)


def without_labels(plan: CutPlan) -> CutPlan:
    bare = [
        replace(stick, cuts=tuple(replace(cut, label="") for cut in stick.cuts))
        for stick in plan.sticks
    ]
    return replace(plan, sticks=tuple(bare))


@pytest.mark.parametrize("effort", [0.02, 0.1])
def test_another_process_with_other_hashes_and_no_idle_time_gives_the_same_plan(
    effort: float,
) -> None:
    # Two at once, each with hashes of its own: what one takes of the machine the other lacks.
    running = [
        subprocess.Popen(
            [sys.executable, "-c", PRINTED_PLAN, str(effort)],
            env={**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": os.pathsep.join(sys.path)},
            stdout=subprocess.PIPE,
            text=True,
        )
        for seed in ("1", "2")
    ]
    printed = {process.communicate()[0] for process in running}
    assert len(printed) == 1
    assert len(json.loads(printed.pop())["sticks"]) > 20


PRINTED_PLAN = """
import json, sys
from fractions import Fraction
from joblog.cutting.cuts import plan_cuts
from joblog.report.cut_sheet import cut_json
from tests.cutting.test_cuts_effort import RACK, TWELVE_FEET, long_list
plan, _ = plan_cuts(long_list(3), [TWELVE_FEET, *RACK], at_once=2, effort=float(sys.argv[1]))
print(json.dumps(cut_json(plan)))
"""


def test_more_effort_never_buys_more_stock_nor_proves_less() -> None:
    plans = [
        plan_cuts(long_list(1, 40), [TWELVE_FEET], effort=effort)[0] for effort in (0, 0.02, 1)
    ]
    assert [plan.spent for plan in plans] == sorted((plan.spent for plan in plans), reverse=True)
    assert [plan.at_least for plan in plans] == sorted(plan.at_least for plan in plans)
    assert not plans[0].proved
    assert plans[2].proved


def test_the_fewest_sticks_are_counted_the_same_at_any_effort_or_are_too_many() -> None:
    wanted = long_list(4, 30)
    counted = [fewest_sticks(wanted, Fraction(144), effort=effort)[0] for effort in (0, 0.01, 0.1)]
    assert counted == sorted(counted, reverse=True)


def test_the_search_is_over_when_its_work_is_spent() -> None:
    effort = Effort(0.5)
    assert effort.left == USUAL // 2
    assert not effort.spent
    effort.spend(USUAL)
    assert effort.spent
