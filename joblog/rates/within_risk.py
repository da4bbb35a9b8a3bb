"""The least money for several items that leaves a chance of at most so much that any is missing.

That is a knapsack with several choices for each item, but for the items sharing the luck of the
job. Given it, something is missing with chance 1 - exp(-s), where s is a sum over items, each
minus the logarithm of its own chance to be enough. That is concave in s, so over a box of levels it
is no less than its chord, which is a sum over items again: a knapsack with its linear bound
(Dantzig 1957), and with a price of a little more certainty, by which those levels are told that no
better order has.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import inf

import numpy as np

from joblog.rates.boxes import BOXES, HAIR, Box, Chosen, Places, hair, searched, widest
from joblog.rates.coverage import Coverage
from joblog.rates.spread import Floats

_NO_CHANCE = 1e-20
"""Taken for none at all, where its logarithm is wanted."""
_ROUNDS = 12
"""Of shrinking a box, before it is parted."""


def least_within(
    coverage: Coverage, costs: Sequence[Floats], risk: float, step: float, boxes: int = BOXES
) -> Chosen:
    """The levels with the least sum of `costs` (ascending) that leave a chance of at most `risk`
    that anything is missing. All sums of costs are multiples of `step`; 0 where nobody knows."""
    return searched(_Within(coverage, costs, risk, step), boxes)


@dataclass(frozen=True, slots=True)
class _Filled:
    """The linear bound of a knapsack: what the gain that is needed costs beyond the bottom."""

    cost: float
    rate: float
    """What a little more gain would cost."""
    at: int = -1
    place: int = -1
    """The item that a part was taken of, and up to which place to part the box; -1 where none."""


@dataclass(frozen=True, slots=True)
class _Within:
    coverage: Coverage
    costs: Sequence[Floats]
    risk: float
    step: float

    def spends(self, places: Places) -> float:
        return self._costs(places) if self._is_enough(places) else inf

    def _costs(self, places: Sequence[int]) -> float:
        return sum(float(cost[at]) for cost, at in zip(self.costs, places, strict=True))

    def _is_enough(self, places: Sequence[int]) -> bool:
        return 1 - self.coverage.chance(places) <= self.risk + HAIR

    def tightened(self, box: Box, best: float) -> Box | None:
        for _ in range(_ROUNDS):
            smaller = self._without_too_little(box, best)
            if smaller is None:
                return None
            smaller = self._without_too_dear(smaller, best)
            if smaller is None or smaller == box:
                return smaller
            box = smaller
        return box

    def _without_too_little(self, box: Box, best: float) -> Box | None:
        """Without levels that are too little however much there is of the others, and such as cost
        more than is left beside the least of those."""
        enough = [
            1 - chance <= self.risk + HAIR
            for chance in self.coverage.along_each(box.high, box.low, box.high)
        ]
        if not all(one[-1] for one in enough):
            return None
        low = tuple(a + int(np.argmax(one)) for a, one in zip(box.low, enough, strict=True))
        room = best - hair(best) - self._costs(low)
        if room < 0:
            return None
        high = tuple(
            a + int(np.searchsorted(cost[a : b + 1], cost[a] + room, side="right")) - 1
            for cost, a, b in zip(self.costs, low, box.high, strict=True)
        )
        return Box(low, high)

    def _without_too_dear(self, box: Box, best: float) -> Box | None:
        """Without levels with which the linear bound is no better than the best so far."""
        gains, needed = self._knapsack(box)
        filled = self._filled(box, gains, needed)
        bound = self._costs(box.low) + filled.cost
        if self._rounded(bound) >= best - hair(best):
            return None
        low, high = [], []
        for at, gain in enumerate(gains):
            cost = self.costs[at][box.low[at] : box.high[at] + 1]
            off = cost - cost[0] - filled.rate * gain
            worth = np.flatnonzero(self._rounded(bound + off - off.min()) < best - hair(best))
            low.append(box.low[at] + int(worth[0]))
            high.append(box.low[at] + int(worth[-1]))
        return Box(tuple(low), tuple(high))

    def bound(self, box: Box) -> tuple[float, int, int]:
        gains, needed = self._knapsack(box)
        filled = self._filled(box, gains, needed)
        at, place = filled.at, filled.place
        if at < 0:
            at, place = widest(box, gains)
        return float(self._rounded(self._costs(box.low) + filled.cost)), at, place

    def _rounded(self, spent: Floats | float) -> Floats:
        """Up to the next sum that there is."""
        if not self.step:
            return np.asarray(spent)
        return np.asarray(np.ceil(np.asarray(spent) / self.step - 1e-6) * self.step)

    def _knapsack(self, box: Box) -> tuple[list[Floats], float]:
        """What each item gains at each of its levels over its least, and how much gain is needed
        together: whatever is allowed in the box gains that much."""
        each = [
            -np.log(np.maximum(given[a : b + 1], _NO_CHANCE))
            for given, a, b in zip(self.coverage.given, box.low, box.high, strict=True)
        ]
        most, least = (sum(one[end] for one in each) for end in (0, -1))
        most = np.maximum(np.minimum(most, self._limits()), least)
        apart = np.maximum(most - least, 1e-12)
        slope = (np.exp(-least) - np.exp(-most)) / apart
        slope = np.where(most - least > 1e-9, slope, np.exp(-least))
        weights = self.coverage.weights
        weighed = [one @ (weights * slope) for one in each]
        short = float(weights @ (1 - np.exp(-least) - slope * least))
        needed = short + sum(float(one[0]) for one in weighed) - self.risk - HAIR
        return [one[0] - one for one in weighed], needed

    def _limits(self) -> Floats:
        """What the sum may be at most at each luck, in any order that is allowed: a worse luck is
        never better, so from each on, as likely as they are together, so much is missing."""
        worse = np.cumsum(self.coverage.weights[::-1])[::-1]
        share = np.minimum((self.risk + HAIR) / worse, 1.0)
        return np.asarray(-np.log(np.maximum(1 - share, _NO_CHANCE)))

    def _filled(self, box: Box, gains: Sequence[Floats], needed: float) -> _Filled:
        if needed <= 0:
            return _Filled(0.0, 0.0)
        rises = sorted(
            (rise for at, gain in enumerate(gains) for rise in self._rises(box, at, gain)),
            key=lambda rise: (-rise[0] / rise[1], rise[2:]),
        )
        cost = 0.0
        for gain, price, at, place, beyond in rises:
            if gain >= needed:
                part = place + (beyond - place - 1) // 2
                return _Filled(cost + price * needed / gain, price / gain, at, part)
            cost, needed = cost + price, needed - gain
        return _Filled(cost if needed <= HAIR else inf, 0.0)

    def _rises(self, box: Box, at: int, gain: Floats) -> Iterator[_Rise]:
        """The steps of the least cost of so much gain, each dearer for its gain than the last."""
        cost = self.costs[at][box.low[at] : box.high[at] + 1]
        here = 0
        while here + 1 < len(gain):
            rates = (gain[here + 1 :] - gain[here]) / (cost[here + 1 :] - cost[here])
            there = here + 1 + int(rates.argmax())
            if gain[there] <= gain[here]:
                return
            yield (
                float(gain[there] - gain[here]), float(cost[there] - cost[here]),
                at, box.low[at] + here, box.low[at] + there,
            )  # fmt: skip
            here = there

    def tries(self, box: Box) -> Iterator[Places]:
        """Level by level, the most chance for the money first; then with less of one item and more
        of others, as long as that saves money."""
        yield box.low
        best = self._lightened(box, self._filled_up(box, box.low))
        better = True
        while better:
            better = False
            for at in range(len(best)):
                if best[at] == box.low[at]:
                    continue
                less = Box(box.low, (*box.high[:at], best[at] - 1, *box.high[at + 1 :]))
                start = (*best[:at], best[at] - 1, *best[at + 1 :])
                if not self._is_enough(less.high):
                    continue
                other = self._lightened(less, self._filled_up(less, start))
                if self._costs(other) < self._costs(best) - hair(self._costs(best)):
                    best, better = other, True
        yield best

    def _filled_up(self, box: Box, start: Places) -> Places:
        """With more, till it is enough, each time of what adds most chance for its money."""
        places = list(start)
        while not self._is_enough(places):
            chances = self.coverage.along_each(places, places, box.high)
            _, at, more = max(
                (float(rate.max()), -at, int(np.argmax(rate)) + 1)
                for at, rate in self._rates(places, chances)
            )
            places[-at] += more
        return tuple(places)

    def _rates(
        self, places: Sequence[int], chances: Sequence[Floats]
    ) -> Iterator[tuple[int, Floats]]:
        for at, chance in enumerate(chances):
            if len(chance) > 1:
                cost = self.costs[at][places[at] : places[at] + len(chance)]
                yield at, (chance[1:] - chance[0]) / (cost[1:] - cost[0])

    def _lightened(self, box: Box, start: Places) -> Places:
        """The dearest item first, each at the least that is still enough."""
        places = list(start)
        for at in sorted(range(len(places)), key=lambda at: -float(self.costs[at][-1])):
            chances = self.coverage.along_each(places, box.low, places)[at]
            places[at] = box.low[at] + int(np.argmax(1 - chances <= self.risk + HAIR))
        return tuple(places)


_Rise = tuple[float, float, int, int, int]
"""Gain, cost, item, the place it starts from and the one it leads to."""
