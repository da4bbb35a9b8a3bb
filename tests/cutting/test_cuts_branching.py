"""Cuts and branches: what they find can be cut, and what they refute cannot."""

from __future__ import annotations

import random
from collections import Counter

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.cutting.by_counts import by_counts
from joblog.cutting.by_cuts import by_cuts
from joblog.cutting.columns import Bin, PackingProblem, Pattern, generate_columns, most_of_each
from joblog.cutting.effort import Effort
from joblog.cutting.knapsack import Knapsack, Room
from joblog.cutting.packing import pack
from tests.cutting.test_cuts_bounds import least_by_trying_all


def every_full_pattern(problem: PackingProblem) -> list[Pattern]:
    longest = max(bin.capacity for bin in problem.bins)
    room = Room(problem.weights, problem.demands, longest, problem.effort)
    knapsack = Knapsack(room, problem.weights, problem.effort)
    return [
        (at, counts)
        for at, bin in enumerate(problem.bins)
        for counts in knapsack.near(bin.capacity, 1, 10_000, maximal=True)[0]
    ]


def holds_everything(problem: PackingProblem, patterns: Counter[Pattern]) -> bool:
    held = [sum(counts[at] * times for (_, counts), times in patterns.items())
            for at in range(len(problem.weights))]  # fmt: skip
    used = Counter[int]()
    for (bin, _), times in patterns.items():
        used[bin] += times
    return all(map(int.__ge__, held, problem.demands)) and all(
        bin.limit is None or used[at] <= bin.limit for at, bin in enumerate(problem.bins)
    )


@settings(max_examples=150, deadline=None)
@given(
    st.lists(st.integers(2, 20), min_size=1, max_size=7),
    st.lists(st.builds(Bin, st.integers(6, 19), st.integers(0, 3), st.integers(1, 2)), max_size=2),
)
def test_cuts_and_branches_find_the_cheapest_and_refute_all_below_it(
    pieces: list[int], limited: list[Bin]
) -> None:
    counted = Counter(pieces)
    weights = tuple(sorted(counted, reverse=True))
    bins = (*limited, Bin(20, 2))
    problem = PackingProblem(weights, tuple(counted[each] for each in weights), bins, Effort())
    least = least_by_trying_all(sorted(pieces, reverse=True), list(bins))
    patterns = every_full_pattern(problem)
    found, _ = by_cuts(problem, patterns, least)
    assert found is not None
    assert holds_everything(problem, found)
    assert problem.cost(found) <= least
    assert by_cuts(problem, patterns, least - 1) == (None, True)


def test_a_list_that_needs_one_stick_more_than_its_relaxation_rounded_up_is_refuted() -> None:
    # Source: Fieldhouse, The duality gap in trim problems (1990), from memory: the relaxation over
    # any patterns takes 2/3 + 3/4 + 6/11 = 1.96 sticks, and two do not hold it.
    problem = PackingProblem((44, 33, 12), (2, 3, 6), (Bin(132, 1),), Effort())
    assert by_cuts(problem, every_full_pattern(problem), 2) == (None, True)
    packing = pack(problem.weights, problem.demands, problem.bins, Effort())
    assert (packing.cost, packing.bound) == (3, 3)


def test_no_answer_is_certain_that_the_effort_did_not_reach() -> None:
    problem = PackingProblem((44, 33, 12), (2, 3, 6), (Bin(132, 1),), Effort(0))
    assert by_cuts(problem, [(0, (3, 0, 0))], 2) == (None, False)
    relaxed = generate_columns(problem, [most_of_each(problem)])
    assert by_counts(problem, relaxed, 1, 3, lambda cost: cost) == (None, 1)


@pytest.mark.parametrize("seed", range(4))
def test_many_offcuts_and_several_prices_are_proved(seed: int) -> None:
    chance = random.Random(seed)
    lengths = chance.sample(range(190, 1540), 12)
    counted = Counter(lengths) + Counter(chance.choices(lengths, k=40))
    offcuts = [Bin(chance.randint(390, 1900), 0, 1) for _ in range(12)]
    bins = [*offcuts, Bin(2306, 185), Bin(3074, 264), Bin(3842, 341)]
    weights = sorted(counted, reverse=True)
    packing = pack(weights, [counted[weight] for weight in weights], bins, Effort())
    assert packing.cost == packing.bound
