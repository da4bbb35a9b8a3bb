"""Branching on how many sticks of each kind are bought, from the cheapest together.

Where there are sticks of several costs, the relaxation mixes them in parts and so proves less than
whole sticks cost. Here each combination of whole sticks of one cost is taken by itself: dual values
refute it, exactly and in whole numbers, or the pieces are packed into it. The first that holds them
is the cheapest, when all that cost less were refuted.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace
from itertools import islice

from joblog.cutting.columns import (
    Bin,
    PackingProblem,
    Pattern,
    Relaxed,
    generate_columns,
    most_of_each,
)
from joblog.cutting.whole_sticks import filled_greedily, primal_heuristics

Bought = tuple[int, ...]
"""How many sticks of each bin there are to cut from."""


def by_counts(
    problem: PackingProblem,
    relaxed: Relaxed,
    bound: int,
    most: int,
    next_cost: Callable[[int], int],
) -> tuple[Counter[Pattern] | None, int]:
    """Patterns of a cost from `bound` to below `most`, or None; and what any must cost at least.

    `bound` is proved already. `next_cost` is the least that whole sticks can cost from a cost on.
    """
    open_ones: list[tuple[int, Bought]] = []
    cost = next_cost(bound)
    found = None
    while cost < most and found is None and not problem.effort.spent:
        for bought in _combinations(problem, cost):
            if problem.effort.spent or len(open_ones) >= _OPEN:
                open_ones.append((cost, bought))
                break
            found, refuted = _packed(problem, relaxed, bought, _QUICK)
            if found is not None:
                most = cost
                break
            if not refuted:
                open_ones.append((cost, bought))
        else:
            if not problem.effort.spent:
                cost = next_cost(cost + 1)
                continue
            open_ones.append((cost, ()))
        break
    # What was not refuted at once is looked at longer, the cheapest first.
    proved = open_ones[0][0] if open_ones else min(cost, most)
    for at, (cost, bought) in enumerate(open_ones):
        if cost >= most or problem.effort.spent:
            break
        better, refuted = _packed(problem, relaxed, bought, None)
        if better is not None:
            return better, min(proved, cost)
        if not refuted:
            break
        proved = open_ones[at + 1][0] if at + 1 < len(open_ones) else min(most, next_cost(cost + 1))
    return found, proved


_QUICK = 2
"""Tries of packing a combination, at first."""
_COMBINED = 4
"""Work for one step of the listing of combinations."""
_OPEN = 200
"""Combinations that may be left open before it is seen that this is no way."""


def _combinations(problem: PackingProblem, cost: int) -> Iterator[Bought]:
    """All that together cost so much and are long enough; with all sticks that cost nothing.

    Some are missing once the effort is spent.
    """
    bins = problem.bins
    length = sum(map(int.__mul__, problem.weights, problem.demands))
    free = [0 if bin.cost else bin.limit or 0 for bin in bins]
    length -= sum(bin.capacity * count for bin, count in zip(bins, free, strict=True))
    priced = sorted(
        (at for at, bin in enumerate(bins) if bin.cost), key=lambda at: (-bins[at].cost, at)
    )

    def rest(place: int, cost: int, length: int) -> Iterator[dict[int, int]]:
        if place == len(priced):
            if cost == 0 and length <= 0:
                yield {}
            return
        problem.effort.spend(_COMBINED)
        rest_of = [bins[at] for at in priced[place:]]
        if problem.effort.spent or all(length * bin.cost > cost * bin.capacity for bin in rest_of):
            return
        bin = rest_of[0]
        most = cost // bin.cost
        most = most if bin.limit is None else min(most, bin.limit)
        last = place == len(priced) - 1
        for count in [most] if last else range(most, -1, -1):
            for further in rest(place + 1, cost - count * bin.cost, length - count * bin.capacity):
                yield {**further, priced[place]: count}

    for counts in rest(0, cost, length):
        yield tuple(counts.get(at, free[at]) for at in range(len(bins)))


def _packed(
    problem: PackingProblem, relaxed: Relaxed, bought: Bought, tries: int | None
) -> tuple[Counter[Pattern] | None, bool]:
    """The pieces in these sticks, or None; and whether it is certain that they cannot be."""
    missing = len(problem.bins)
    bins = [Bin(bin.capacity, 0, count) for bin, count in zip(problem.bins, bought, strict=True)]
    bins.append(Bin(max(bin.capacity for bin in bins), 1))
    decision = replace(problem, bins=tuple(bins))
    greedy = filled_greedily(decision.weights, decision.demands, decision.bins)
    if not decision.cost(greedy):
        return greedy, False
    known = [pattern for pattern in relaxed.patterns if bought[pattern[0]]]
    start = generate_columns(decision, [most_of_each(decision), known, greedy], refuted_above=0)
    if start.bound > 0:
        return None, True
    for candidate in islice(primal_heuristics(decision, start, 0), tries):
        if not decision.cost(candidate):
            assert not any(bin == missing for bin, _ in candidate)
            return candidate, False
        if decision.effort.spent:
            break
    return None, False
