"""Whether the pieces fit at a certain cost at all: by cuts and branching over every pattern.

Where the relaxation leaves little room below a cost, all patterns that an answer of that cost may
hold can be listed. Over these, cuts bring the relaxation nearer to whole sticks: half of the
demands of three lengths together, rounded up (Chvatal-Gomory cuts, as Jepsen et al. 2008 use
them). Where that is not enough, it is branched on how many sticks hold two certain lengths together
(Ryan and Foster 1981; for lengths that are wanted more than once Vanderbeck 2000).

A branch is given up by dual values in whole numbers over all patterns: exactly.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from itertools import combinations

import numpy as np
import numpy.typing as npt

from joblog.cutting.columns import PackingProblem, Pattern, column_of
from joblog.cutting.highs import NEVER, Column, Relaxation, Row

_Integers = npt.NDArray[np.int64]
_Floats = npt.NDArray[np.float64]
_Pair = tuple[int, int]
_Branch = dict[_Pair, tuple[int, int]]
"""How many sticks hold two lengths together, at least and at most."""


def by_cuts(
    problem: PackingProblem, patterns: Sequence[Pattern], target: int
) -> tuple[Counter[Pattern] | None, bool]:
    """An answer of a cost up to `target`, or None; and whether it is certain that there is none.

    `patterns` are all that are full and that such an answer may hold.
    """
    if not patterns:
        return None, True
    pool = _Pool(problem, patterns, target)
    open_ones: list[_Branch] = [{}]
    certain = True
    while open_ones and not problem.effort.spent:
        branch = open_ones.pop()
        values = pool.relaxed(branch)
        if values is None:
            continue
        found = pool.in_whole_sticks(values)
        if found is not None:
            return found, False
        pair, together = pool.most_in_doubt(values)
        if pair is None:
            certain = False
            continue
        least, most = branch.get(pair, (0, pool.most_sticks))
        open_ones.append({**branch, pair: (least, int(together))})
        open_ones.append({**branch, pair: (int(together) + 1, most)})
    return None, certain and not problem.effort.spent


_ROUNDS, _FURTHER_ROUNDS = 25, 4
"""Of cuts: at the root, and in every branch."""
_AT_ONCE, _CUTS = 30, 400
"""Cuts in a round, and at the most."""
_ENOUGH = 0.02
"""By how much a cut has to be broken."""
_NOTHING = 1e-6


class _Pool:
    """All patterns, their relaxation and the rows that were added to it: cuts and pairs."""

    def __init__(self, problem: PackingProblem, patterns: Sequence[Pattern], target: int) -> None:
        self._problem, self._patterns, self._target = problem, patterns, target
        costs = [bin.cost for bin in problem.bins]
        free = sum(bin.limit or 0 for bin in problem.bins if not bin.cost)
        self.most_sticks = free + target // min(cost for cost in costs if cost)
        scarce = [at for at, bin in enumerate(problem.bins) if bin.limit is not None]
        self._between = [Row(least=count) for count in problem.demands] + [
            Row(most=limit) for bin in problem.bins if (limit := bin.limit) is not None
        ]
        self._relaxation = Relaxation(self._between, problem.effort)
        # So that no branch is without an answer: what serves everything, at too high a cost.
        served = tuple((row, float(count)) for row, count in enumerate(problem.demands))
        dear = 10.0 * max(costs) * (1 + problem.pieces())
        self._relaxation.add(Column(dear, served))
        for pattern in patterns:
            self._relaxation.add(column_of(pattern, problem, scarce))
        self._costs = np.array([costs[bin] for bin, _ in patterns], dtype=np.int64)
        self._counts: _Integers = np.array([counts for _, counts in patterns], dtype=np.int64).T
        bins = np.array([bin for bin, _ in patterns])
        self._rows: list[_Integers] = [
            *self._counts,
            *((bins == at).astype(np.int64) for at in scarce),
        ]
        self._pairs: dict[_Pair, int] = {}
        self._cuts: set[tuple[int, int, int]] = set()

    def relaxed(self, branch: _Branch) -> _Floats | None:
        """How often each pattern is cut, in parts; None when no answer is in the branch."""
        for pair, row in self._pairs.items():
            least, most = branch.get(pair, (0, self.most_sticks))
            self._set(row, Row(least=least))
            self._set(row + 1, Row(most=most))
        for pair in branch.keys() - self._pairs.keys():
            self._pairs[pair] = len(self._rows)
            together = self._together(pair)
            self._add(together, Row(least=branch[pair][0]), eased=True)
            self._add(together, Row(most=branch[pair][1]))
        rounds = _FURTHER_ROUNDS if branch else _ROUNDS
        values: _Floats = np.zeros(len(self._patterns))
        for _ in range(rounds):
            found, duals = self._relaxation.solve()
            values = np.array(found[1:])
            if self._problem.effort.spent:
                return values
            if self._bound_is_above(duals):
                return None
            if found[0] < _NOTHING and np.all(np.abs(values - np.round(values)) < _NOTHING):
                return values
            if not self._cut_off(values):
                return values
        return values

    def in_whole_sticks(self, values: _Floats) -> Counter[Pattern] | None:
        """The answer, if it is one: exactly, not by the solver's word."""
        times = np.round(values).astype(np.int64)
        if self._costs @ times > self._target:
            return None
        for row, between in zip(self._rows[: self._own_rows()], self._between, strict=False):
            if not between.least <= int(row @ times) <= between.most:
                return None
        return Counter(
            {self._patterns[at]: int(times[at]) for at in np.flatnonzero(times).tolist()}
        )

    def most_in_doubt(self, values: _Floats) -> tuple[_Pair | None, float]:
        """The pair of lengths that is furthest from being together in a whole number of sticks."""
        taken = np.flatnonzero(values > _NOTHING)
        held: dict[_Pair, float] = {}
        for at in taken.tolist():
            lengths = np.flatnonzero(self._counts[:, at]).tolist()
            twice = [length for length in lengths if self._counts[length, at] > 1]
            for pair in (*combinations(lengths, 2), *zip(twice, twice, strict=True)):
                held[pair] = held.get(pair, 0.0) + float(values[at])
        doubts = {pair: abs(value % 1 - 0.5) for pair, value in held.items()}
        doubtful = [pair for pair, doubt in doubts.items() if doubt < 0.5 - _NOTHING]
        if not doubtful:
            return None, 0.0
        best = min(doubtful, key=lambda pair: (doubts[pair], pair))
        return best, held[best]

    def _bound_is_above(self, duals: Sequence[float]) -> bool:
        """Whether the dual values prove that nothing costs as little as the target."""
        scale = self._problem.scale()
        whole = [round(dual * scale) for dual in duals]
        worth: _Integers = self._costs * scale
        total = 0
        for dual, row, between in zip(whole, self._rows, self._between, strict=True):
            limit = between.least if dual > 0 else between.most
            if dual and abs(limit) < NEVER:
                worth = worth - dual * row
                total += dual * int(limit)
        # No stick may be worth more than it costs: each of those there can be may take so much off.
        over = max(0, -int(worth.min()))
        return total - over * self.most_sticks > self._target * scale

    def _cut_off(self, values: _Floats) -> bool:
        """Adds the cuts that the values break most; False when there are none worth it."""
        if len(self._cuts) >= _CUTS:
            return False
        taken = np.flatnonzero(values > _NOTHING)
        counts, parts = self._counts[:, taken], values[taken]
        demands = np.array(self._problem.demands)
        pairs = {
            pair
            for at in range(len(taken))
            for pair in combinations(np.flatnonzero(counts[:, at]).tolist(), 2)
        }
        self._problem.effort.spend(len(pairs) * (_A_PAIR + counts.size // _CELLS))
        broken: dict[tuple[int, int, int], float] = {}
        for one, other in sorted(pairs):
            if self._problem.effort.late:
                return False
            sums = demands + demands[one] + demands[other]
            halves = (counts + (counts[one] + counts[other] + 1)) // 2
            by = np.where(sums % 2 == 1, (sums + 1) // 2 - halves @ parts, 0.0)
            for third in np.flatnonzero(by > _ENOUGH).tolist():
                if third not in (one, other):
                    first, second, last = sorted((one, other, third))
                    broken[first, second, last] = float(by[third])
        worst = sorted(broken.keys() - self._cuts, key=lambda cut: (-broken[cut], cut))[:_AT_ONCE]
        for cut in worst:
            self._cuts.add(cut)
            lengths = list(cut)
            halves = (self._counts[lengths].sum(axis=0) + 1) // 2
            self._add(halves, Row(least=(int(demands[lengths].sum()) + 1) // 2), eased=True)
        return bool(worst)

    def _together(self, pair: _Pair) -> _Integers:
        one, other = pair
        held = self._counts[other] > (1 if one == other else 0)
        together: _Integers = ((self._counts[one] > 0) & held).astype(np.int64)
        return together

    def _add(self, row: _Integers, between: Row, eased: bool = False) -> None:
        eases = np.array([max(self.most_sticks, between.least) if eased else 0.0])
        self._relaxation.add_row(between, np.concatenate((eases, row)).astype(np.float64))
        self._rows.append(row)
        self._between.append(between)

    def _set(self, row: int, between: Row) -> None:
        self._relaxation.set_row(row, between)
        self._between[row] = between

    def _own_rows(self) -> int:
        return len(self._problem.demands) + sum(bin.limit is not None for bin in self._problem.bins)


_A_PAIR, _CELLS = 20, 300
"""Work for a pair of lengths, and cells of a table to a unit of it."""
