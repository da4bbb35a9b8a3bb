"""What to have of several items when one trip brings all that is missing, and leftovers cost too.

The chance that all is enough grows the faster in one item the more there is of the others: it is
supermodular. So the best of one item while the others are at their least is a lower limit of it in
the best order, and at their most an upper one (Topkis, "Minimizing a submodular function on a
lattice", 1978, from memory), and boxes shrink by themselves, usually to one point. What is left is
bounded by a sum over items: what each adds at most while the others are at their most, or takes
away at least while they are at their least.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from joblog.rates.boxes import BOXES, Box, Chosen, Places, hair, searched, widest
from joblog.rates.coverage import Coverage
from joblog.rates.spread import Floats


def least_expected(
    coverage: Coverage, costs: Sequence[Floats], trip: float, boxes: int = BOXES
) -> Chosen:
    """The levels with the least sum of `costs` (of each item, by level) and of `trip` times the
    chance that anything is missing."""
    return searched(_Expected(coverage, costs, trip), boxes)


@dataclass(frozen=True, slots=True)
class _Expected:
    coverage: Coverage
    costs: Sequence[Floats]
    trip: float

    def spends(self, places: Places) -> float:
        costs = sum(float(cost[at]) for cost, at in zip(self.costs, places, strict=True))
        return costs + self.trip * (1 - self.coverage.chance(places))

    def tightened(self, box: Box, best: float) -> Box | None:
        low, high = box.low, box.high
        while True:
            below = self._answers(low, low, high, last=False)
            above = self._answers(high, low, high, last=True)
            # The best lies between both, so where rounding crosses them it is at the one.
            above = tuple(map(max, above, below))
            if (below, above) == (low, high):
                return Box(low, high)
            low, high = below, above

    def _answers(self, others: Places, low: Places, high: Places, *, last: bool) -> Places:
        """The cheapest level of each item while the others stand there; of equal ones the last."""
        answers = []
        for chances, cost, a, b in zip(
            self.coverage.along_each(others, low, high), self.costs, low, high, strict=True
        ):
            spent = cost[a : b + 1] - self.trip * chances
            least = spent <= spent.min() + hair(self.trip)
            answers.append(a + (int(np.flatnonzero(least)[-1]) if last else int(np.argmax(least))))
        return tuple(answers)

    def bound(self, box: Box) -> tuple[float, int, int]:
        at_most = self.coverage.along_each(box.high, box.low, box.high)
        at_least = self.coverage.along_each(box.low, box.low, box.high)
        costs = [cost[a : b + 1] for cost, a, b in zip(self.costs, box.low, box.high, strict=True)]
        up = self.trip * (1 - self.coverage.chance(box.low)) + sum(
            float((cost - self.trip * (gain - gain[0])).min())
            for cost, gain in zip(costs, at_most, strict=True)
        )
        down = self.trip * (1 - self.coverage.chance(box.high)) + sum(
            float((cost + self.trip * (gain[-1] - gain)).min())
            for cost, gain in zip(costs, at_least, strict=True)
        )
        return max(up, down), *widest(box, at_most)

    def tries(self, box: Box) -> Iterator[Places]:
        yield box.low
        yield box.high
