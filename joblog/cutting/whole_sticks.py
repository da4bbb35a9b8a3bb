"""Answers in whole sticks: filled greedily, by diving, by whole-number programs over patterns."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import floor

from joblog.cutting.by_cuts import by_cuts
from joblog.cutting.columns import (
    Bin,
    PackingProblem,
    Pattern,
    Relaxed,
    column_of,
    generate_columns,
    most_of_each,
)
from joblog.cutting.highs import Row, solve
from joblog.cutting.knapsack import Counts


def filled_greedily(
    weights: Sequence[int], demands: Sequence[int], bins: Sequence[Bin]
) -> Counter[Pattern]:
    """First fit decreasing, into the scarce bins first, then into the cheapest for its size."""
    free = sorted(
        (at for at, bin in enumerate(bins) if bin.limit is not None),
        key=lambda at: (bins[at].cost, bins[at].capacity),
    )
    opened = [
        at
        for at in free
        if bins[at].cost == 0
        for _ in range(min(bins[at].limit or 0, sum(demands)))
    ]
    rooms = _FirstFit([bins[at].capacity for at in opened], len(opened) + sum(demands))
    filled: list[dict[int, int]] = [{} for _ in opened]
    for at in sorted(range(len(weights)), key=lambda at: -weights[at]):
        new = min(
            (i for i, bin in enumerate(bins) if bin.limit is None and bin.capacity >= weights[at]),
            key=lambda index: (Fraction(bins[index].cost, bins[index].capacity), index),
        )
        for _ in range(demands[at]):
            stick = rooms.first(weights[at])
            if stick is None:
                stick = len(opened)
                opened.append(new)
                filled.append({})
                rooms.set(stick, bins[new].capacity)
            rooms.set(stick, rooms.left(stick) - weights[at])
            filled[stick][at] = filled[stick].get(at, 0) + 1
    alike = Counter(
        (bin, tuple(cut.items())) for bin, cut in zip(opened, filled, strict=True) if cut
    )
    found: Counter[Pattern] = Counter()
    for (bin, cut), times in alike.items():
        counts = [0] * len(weights)
        for at, count in cut:
            counts[at] = count
        found[bin, tuple(counts)] = times
    return found


class _FirstFit:
    """The room that is left in each stick, and the first that has enough: a tree of the most."""

    def __init__(self, rooms: Sequence[int], most: int) -> None:
        self._base = 1 << most.bit_length()
        self._tree = [0] * (2 * self._base)
        for at, room in enumerate(rooms):
            self.set(at, room)

    def left(self, stick: int) -> int:
        return self._tree[self._base + stick]

    def set(self, stick: int, room: int) -> None:
        tree, at = self._tree, self._base + stick
        tree[at] = room
        while at := at // 2:
            tree[at] = max(tree[2 * at], tree[2 * at + 1])

    def first(self, room: int) -> int | None:
        tree, at = self._tree, 1
        if tree[at] < room:
            return None
        while at < self._base:
            at *= 2
            at += tree[at] < room
        return at - self._base


def primal_heuristics(
    problem: PackingProblem, relaxed: Relaxed, bound: int
) -> Iterable[Counter[Pattern]]:
    pool = dict.fromkeys(relaxed.patterns)

    def dives(leans: Sequence[float]) -> Iterable[Counter[Pattern]]:
        for lean in leans:
            found = _dive(problem, relaxed, lean, pool)
            if found is not None:
                yield found

    # Diving takes a fraction of what a branch and bound takes, and finds the best of most lists.
    yield from dives((0.6, 0.5))
    found, _ = integer_program(problem, relaxed.patterns, bound, nodes=200)
    if found is not None:
        yield found
    yield from dives((0.7, 0.4, 0.8, 0.9))
    found, _ = integer_program(problem, tuple(pool), bound, nodes=500)
    if found is not None:
        yield found


def _dive(
    problem: PackingProblem, relaxed: Relaxed, lean: float, pool: dict[Pattern, None]
) -> Counter[Pattern] | None:
    """Takes the whole part of the relaxation, then its largest rest, and relaxes what is left."""
    taken: Counter[Pattern] = Counter()
    demands, bins = list(problem.demands), list(problem.bins)
    patterns, values = relaxed.patterns, relaxed.values
    while any(demands):
        if problem.effort.spent:
            return None
        ranked = sorted(
            zip(patterns, values, strict=True), key=lambda pair: (-(pair[1] % 1), pair[0])
        )
        chosen = {
            pattern: int(value + 1 - lean) for pattern, value in ranked if value + 1 - lean >= 1
        }
        if not chosen:
            chosen = {ranked[0][0]: 1}
        before = sum(demands)
        for (bin, counts), times in chosen.items():
            used = tuple(map(min, counts, demands))
            limit = bins[bin].limit
            if not any(used) or limit == 0 or (used != counts and sum(demands) < before):
                continue
            # As often as all of it is wanted; once, where that is not even once.
            often = min(
                times if limit is None else min(times, limit),
                *(left // count for left, count in zip(demands, used, strict=True) if count),
            )
            often = often if used == counts else 1
            taken[bin, used] += often
            demands = [left - often * count for left, count in zip(demands, used, strict=True)]
            if limit is not None:
                bins[bin] = Bin(bins[bin].capacity, bins[bin].cost, limit - often)
        if sum(demands) == before:
            return None
        if any(demands):
            kept = [at for at, count in enumerate(demands) if count]
            rest = PackingProblem(
                tuple(problem.weights[at] for at in kept),
                tuple(demands[at] for at in kept),
                tuple(bins),
                problem.effort,
            )
            fitting = (
                (bin, tuple(min(counts[at], demands[at]) for at in kept))
                for bin, counts in patterns
                if bins[bin].limit != 0
            )
            again = generate_columns(rest, [most_of_each(rest), fitting])
            patterns = tuple(
                (bin, _widened(counts, kept, demands)) for bin, counts in again.patterns
            )
            values = again.values
            pool.update(dict.fromkeys(patterns))
    return taken


def _widened(counts: Counts, kept: Sequence[int], demands: Sequence[int]) -> Counts:
    wide = [0] * len(demands)
    for at, count in zip(kept, counts, strict=True):
        wide[at] = count
    return tuple(wide)


def integer_program(
    problem: PackingProblem, patterns: Sequence[Pattern], bound: int, nodes: int
) -> tuple[Counter[Pattern] | None, bool]:
    scarce = [at for at, bin in enumerate(problem.bins) if bin.limit is not None]
    columns = [column_of(pattern, problem, scarce, whole=True) for pattern in patterns]
    rows = [Row(least=count) for count in problem.demands] + [
        Row(most=limit) for bin in problem.bins if (limit := bin.limit) is not None
    ]
    answer = solve(columns, rows, effort=problem.effort, nodes=nodes, good_enough=bound + 0.5)
    if answer.values is None:
        return None, answer.final
    found: Counter[Pattern] = Counter()
    for pattern, value in zip(patterns, answer.values, strict=True):
        if round(value):
            found[pattern] = round(value)
    return found, answer.final


def by_reduced_cost(
    problem: PackingProblem, relaxed: Relaxed, bound: int, target: int
) -> tuple[Counter[Pattern] | None, bool]:
    """An answer from every pattern that one of no more than `target` could hold, if there is one.

    And whether nothing of no more than `target` is cheaper than it, or is there at all. A pattern
    whose reduced cost is more than the target leaves above the relaxation is in none.
    """
    slack = target - relaxed.bound
    patterns: list[Pattern] = []
    complete = True
    for at, bin in enumerate(problem.bins):
        least = max(0, floor(relaxed.worth[at] - slack * relaxed.per_cost))
        if relaxed.knapsack is None or relaxed.knapsack.best(bin.capacity) < least:
            continue
        found, all_of_them = relaxed.knapsack.near(bin.capacity, least, _PATTERNS, maximal=True)
        patterns += [(at, counts) for counts in found]
        complete = complete and all_of_them
    if not complete and target > bound:
        return None, False
    pool = tuple(dict.fromkeys((*relaxed.patterns, *patterns)))
    answer, final = integer_program(problem, pool, bound, nodes=_NODES)
    if complete and answer is None and not final:
        with problem.effort.only(_FOR_CUTS):
            answer, final = by_cuts(problem, tuple(dict.fromkeys(patterns)), target)
        if answer is not None:
            return answer, problem.cost(answer) <= bound
    if answer is None and not final:
        answer, final = integer_program(problem, pool, bound, nodes=_MORE_NODES)
    return answer, final and complete


_PATTERNS = 5000
_NODES, _MORE_NODES = 100, 20_000
_FOR_CUTS = 0.6
"""Of the effort that is left."""
