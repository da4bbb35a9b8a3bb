"""The fewest or cheapest sticks that hold all pieces, with a bound that proves it.

Column generation gives the relaxation and a lower bound. Whole-number answers come from filling
greedily, from a branch and bound over the patterns of the relaxation, and from diving; where these
stay above the bound, from all patterns whose reduced cost lets them be part of anything better.

Everything here is whole numbers: a piece weighs its length plus the kerf, a stick holds its length
plus the kerf, because the last piece may end where the stick ends.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, gcd

from joblog.cutting.by_counts import by_counts
from joblog.cutting.columns import (
    Bin,
    PackingProblem,
    Pattern,
    bound_by_functions,
    generate_columns,
    most_of_each,
)
from joblog.cutting.effort import Effort
from joblog.cutting.whole_sticks import by_reduced_cost, filled_greedily, primal_heuristics


@dataclass(frozen=True, slots=True)
class Packing:
    """How many sticks are cut in each pattern; what they cost, and what any must cost at least."""

    patterns: Counter[Pattern]
    cost: int
    bound: int


def pack(
    weights: Sequence[int], demands: Sequence[int], bins: Sequence[Bin], effort: Effort
) -> Packing:
    """The cheapest sticks for `demands` pieces of each of `weights`, all whole numbers above zero.

    At least one bin without limit must hold the longest piece. When `effort` is spent before the
    proof, `cost` is above `bound`.
    """
    unit = gcd(*(bin.cost for bin in bins)) or 1
    bins = [Bin(bin.capacity, bin.cost // unit, bin.limit) for bin in bins]
    problem = PackingProblem(tuple(weights), tuple(demands), tuple(bins), effort)
    best, bound = _search(problem)
    return Packing(_trimmed(problem, best), problem.cost(best) * unit, bound * unit)


def least_cost(
    weights: Sequence[int], demands: Sequence[int], bins: Sequence[Bin], effort: Effort
) -> int:
    """What any sticks that hold the pieces must cost at least."""
    problem = PackingProblem(tuple(weights), tuple(demands), tuple(bins), effort)
    relaxed = generate_columns(problem, [most_of_each(problem)])
    return max(0, ceil(relaxed.bound), ceil(bound_by_functions(problem)))


def _search(problem: PackingProblem) -> tuple[Counter[Pattern], int]:
    best = filled_greedily(problem.weights, problem.demands, problem.bins)
    relaxed = generate_columns(problem, [most_of_each(problem), best])
    costs = _Costs(problem, problem.cost(best))
    bound = max(0, ceil(relaxed.bound), ceil(bound_by_functions(problem)))
    bound = costs.first_from(bound)
    for candidate in primal_heuristics(problem, relaxed, bound):
        best = min(best, candidate, key=problem.cost)
        if problem.cost(best) <= bound or problem.effort.spent:
            break
    if len({bin.cost for bin in problem.bins if 0 < bin.cost < problem.cost(best)}) > 1:
        with problem.effort.only(_FOR_COUNTS):
            better, bound = by_counts(problem, relaxed, bound, problem.cost(best), costs.first_from)
        best = best if better is None else better
    # First everything that could be better at all; where that is too much, from the bound up.
    for below_best in (True, False):
        while problem.cost(best) > bound and not problem.effort.spent:
            target = costs.last_below(problem.cost(best)) if below_best else bound
            found, final = by_reduced_cost(problem, relaxed, bound, target)
            before, best = best, min(best, found or best, key=problem.cost)
            improved = best is not before
            if not final and improved:
                continue
            if not final:
                break
            bound = problem.cost(best) if below_best else costs.first_from(bound + 1)
    return best, min(bound, problem.cost(best))


_FOR_COUNTS = 0.5
"""Of the effort that is left; what it leaves open is tried otherwise."""


class _Costs:
    """What sticks can cost together: sums of the bins' costs, as bits of one whole number."""

    def __init__(self, problem: PackingProblem, most: int) -> None:
        self._most = most
        self._sums = 1
        if most > _MOST_SUMS:
            self._sums = (1 << _MOST_SUMS) - 1
        for bin in problem.bins:
            left = most // bin.cost if bin.cost else 0
            left = left if bin.limit is None else min(left, bin.limit)
            size = 1
            while left > 0 and most <= _MOST_SUMS:
                self._sums |= self._sums << min(size, left) * bin.cost
                left -= size
                size *= 2

    def first_from(self, cost: int) -> int:
        """The least sum that is not below `cost`."""
        above = self._sums >> cost
        return cost + (above & -above).bit_length() - 1 if above else cost

    def last_below(self, cost: int) -> int:
        """The largest sum below `cost`, which is above zero."""
        if self._most > _MOST_SUMS:
            return cost - 1
        return (self._sums & ((1 << cost) - 1)).bit_length() - 1


_MOST_SUMS = 2_000_000


def _trimmed(problem: PackingProblem, patterns: Counter[Pattern]) -> Counter[Pattern]:
    """Without the pieces that are there more often than asked for."""
    surplus = [-count for count in problem.demands]
    for (_, counts), times in patterns.items():
        surplus = [over + count * times for over, count in zip(surplus, counts, strict=True)]
    trimmed: Counter[Pattern] = Counter()
    for (bin, counts), times in sorted(patterns.items()):
        if not any(over > 0 for over in surplus):
            trimmed[bin, counts] += times
            continue
        for done in range(times):
            dropped = [
                min(count, max(0, over)) for count, over in zip(counts, surplus, strict=True)
            ]
            if not any(dropped):
                trimmed[bin, counts] += times - done
                break
            surplus = [over - drop for over, drop in zip(surplus, dropped, strict=True)]
            kept = tuple(count - drop for count, drop in zip(counts, dropped, strict=True))
            if any(kept):
                trimmed[bin, kept] += 1
    return trimmed
