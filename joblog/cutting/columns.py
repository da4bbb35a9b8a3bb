"""Column generation: the relaxation of the pattern model, and the exact lower bound it proves.

One column for each way to fill one stick (Gilmore and Gomory 1961). The master problem holds a few
of them; the pricing problem, a knapsack, finds those that its dual values show to be missing. The
bound is made exact in whole numbers (Farley 1990), so that no rounding of a float can make a proof
false.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import partial

from joblog.cutting.effort import Effort
from joblog.cutting.highs import Column, Relaxation, Row
from joblog.cutting.knapsack import Counts, Knapsack, OutOfTimeError, Room


@dataclass(frozen=True, slots=True)
class Bin:
    """A kind of stick: what it holds, what it costs, and how many there are (None: any number)."""

    capacity: int
    cost: int
    limit: int | None = None


Pattern = tuple[int, Counts]
"""Which bin, and how many of each length it is cut into."""


@dataclass(frozen=True, slots=True)
class PackingProblem:
    """How many pieces of each weight go into which bins, and the effort that is left for it."""

    weights: tuple[int, ...]
    demands: tuple[int, ...]
    bins: tuple[Bin, ...]
    effort: Effort

    def cost(self, patterns: Counter[Pattern]) -> int:
        return sum(self.bins[bin].cost * times for (bin, _), times in patterns.items())

    def scale(self) -> int:
        """Units of a dual value to one of cost: fine, and far from what 64 bits hold."""
        return max(1, min(10**7, 2**60 // (1 + max(bin.cost for bin in self.bins) * self.pieces())))

    def pieces(self) -> int:
        return sum(self.demands)


@dataclass(frozen=True, slots=True)
class Relaxed:
    """What column generation ends with: the relaxation of the master problem."""

    patterns: tuple[Pattern, ...]
    values: tuple[float, ...]
    dual_values: tuple[int, ...]
    """Of the lengths, in whole units; see `per_cost`."""
    bound: Fraction
    knapsack: Knapsack | None
    """None where there was no time for one."""
    per_cost: Fraction
    """How many units of the dual values are worth one unit of cost."""
    worth: tuple[Fraction, ...]
    """What a filled bin is worth at most by the dual values: its cost, more where it is scarce."""


def generate_columns(
    problem: PackingProblem,
    known: Iterable[Iterable[Pattern]],
    refuted_above: int | None = None,
    rounds: int = 1000,
) -> Relaxed:
    """The relaxation. Ends early once its bound is above `refuted_above`."""
    weights, demands, bins = problem.weights, problem.demands, problem.bins
    scarce = [at for at, bin in enumerate(bins) if bin.limit is not None]
    master = Relaxation(
        [Row(least=count) for count in demands]
        + [Row(most=limit) for bin in bins if (limit := bin.limit) is not None],
        problem.effort,
    )
    patterns: dict[Pattern, None] = {}

    def add(pattern: Pattern) -> None:
        if pattern not in patterns:
            patterns[pattern] = None
            master.add(column_of(pattern, problem, scarce))

    for group in known:
        for pattern in group:
            add(pattern)
    scale = problem.scale()
    best = _by_length(problem)
    try:
        room = Room(weights, demands, max(bin.capacity for bin in bins), problem.effort)
    except OutOfTimeError:
        return best
    values: Sequence[float] = ()
    starts = [len(weights) * part // _AT_ONCE for part in range(_AT_ONCE)]
    for _ in range(rounds):
        values, duals = master.solve()
        dual_values = [max(0, int(dual * scale)) for dual in duals[: len(weights)]]
        limit_duals = [max(0, int(-dual * scale)) for dual in duals[len(weights) :]]
        limit_dual = dict(zip(scarce, limit_duals, strict=True))
        try:
            knapsack = Knapsack(room, dual_values, problem.effort)
        except OutOfTimeError:
            break
        relaxed = _dual_bound(problem, tuple(patterns), values, dual_values, knapsack)
        # The bound may fall between rounds; any of them is valid, the highest is kept.
        if best.knapsack is None or relaxed.bound >= best.bound:
            best = relaxed
        if refuted_above is not None and best.bound > refuted_above:
            break
        count = len(patterns)
        for at, bin in enumerate(bins):
            if bin.limit == 0:
                continue
            enough = bin.cost * scale + limit_dual.get(at, 0) + scale // 10**6
            # Beside the best filling some of shorter lengths alone, so that there are fewer rounds.
            for start in starts:
                if knapsack.best(bin.capacity, start) > enough:
                    add((at, knapsack.pattern(bin.capacity, start)))
        if len(patterns) == count or problem.effort.spent:
            break
    # Patterns of a last round that was cut short have no value yet.
    return replace(best, patterns=tuple(patterns)[: len(values)], values=tuple(values))


_AT_ONCE = 8
"""Columns at most that are added for one bin in one round."""


def _dual_bound(
    problem: PackingProblem,
    patterns: tuple[Pattern, ...],
    values: Sequence[float],
    dual_values: Sequence[int],
    knapsack: Knapsack,
) -> Relaxed:
    """The exact lower bound that any dual values give.

    No stick of an unlimited bin may be worth more than it costs, so the dual values are measured
    by the one that is worth most; a limited bin may, and each of its sticks takes the difference
    off the bound.
    """
    filled = [knapsack.best(bin.capacity) for bin in problem.bins]
    return _bounded(problem, patterns, values, dual_values, filled, knapsack)


def _by_length(problem: PackingProblem) -> Relaxed:
    """The bound that every piece's weight gives as its dual value: no stick holds more."""
    filled = [bin.capacity for bin in problem.bins]
    return _bounded(problem, (), (), problem.weights, filled, None)


def bound_by_functions(problem: PackingProblem) -> Fraction:
    """The best lower bound of some dual feasible functions: at once, where columns take long.

    Each makes of a size another whole number so that pieces that fit into a stick still fit: none
    is less for a larger size, and what it makes of two is no more than of their sum (Fekete and
    Schepers 2001; the first are the bound of Martello and Toth 1990).
    """
    longest = max(bin.capacity for bin in problem.bins)
    halves = sorted({weight for weight in problem.weights if 2 * weight <= longest})
    steps = halves[:: 1 + len(halves) // _FUNCTIONS]
    best = _by_length(problem).bound
    for change in (
        *(partial(_without_short, longest, least) for least in steps),
        *(partial(_in_parts, longest, parts) for parts in range(1, _FUNCTIONS)),
    ):
        weights = list(map(change, problem.weights))
        filled = [change(bin.capacity) for bin in problem.bins]
        best = max(best, _bounded(problem, (), (), weights, filled, None).bound)
    return best


_FUNCTIONS = 30


def _without_short(longest: int, least: int, size: int) -> int:
    """Pieces below `least` count for nothing, those that leave no room for them for all of it."""
    return longest if size > longest - least else size if size >= least else 0


def _in_parts(longest: int, parts: int, size: int) -> int:
    """Sizes rounded down to a part, of which the longest stick has one more than `parts`."""
    whole, rest = divmod((parts + 1) * size, longest)
    return whole * longest if rest else parts * size


def _bounded(
    problem: PackingProblem,
    patterns: tuple[Pattern, ...],
    values: Sequence[float],
    dual_values: Sequence[int],
    filled: Sequence[int],
    knapsack: Knapsack | None,
) -> Relaxed:
    """By what a stick of each bin can be filled to at most."""
    per_cost = max(
        (
            Fraction(value, bin.cost)
            for bin, value in zip(problem.bins, filled, strict=True)
            if bin.limit is None and bin.cost
        ),
        default=Fraction(0),
    ) or Fraction(problem.scale())
    total = Fraction(sum(map(int.__mul__, dual_values, problem.demands)))
    worth = []
    for bin, value in zip(problem.bins, filled, strict=True):
        over = max(Fraction(0), value - bin.cost * per_cost)
        total -= over * (bin.limit or 0)
        worth.append(bin.cost * per_cost + over)
    return Relaxed(
        patterns,
        tuple(values),
        tuple(dual_values),
        total / per_cost,
        knapsack,
        per_cost,
        tuple(worth),
    )


def column_of(
    pattern: Pattern, problem: PackingProblem, scarce: Sequence[int], whole: bool = False
) -> Column:
    bin, counts = pattern
    entries = [(row, float(count)) for row, count in enumerate(counts) if count]
    if bin in scarce:
        entries.append((len(problem.weights) + list(scarce).index(bin), 1.0))
    return Column(float(problem.bins[bin].cost), tuple(entries), whole=whole)


def most_of_each(problem: PackingProblem) -> list[Pattern]:
    """For each length the cheapest unlimited stick that holds it, full of it: a first answer."""
    found = []
    for at, (weight, count) in enumerate(zip(problem.weights, problem.demands, strict=True)):
        bin = min(
            (
                index
                for index, bin in enumerate(problem.bins)
                if bin.limit is None and bin.capacity >= weight
            ),
            key=lambda index: problem.bins[index].cost,
        )
        counts = [0] * len(problem.weights)
        counts[at] = min(count, problem.bins[bin].capacity // weight)
        found.append((bin, tuple(counts)))
    return found
