"""The best levels of several items that are paid for one by one and are enough only together.

Both questions are answered by branch and bound over boxes of levels. The chance that all is enough
grows the faster in one item the more there is of the others: it is supermodular, and its logarithm
is too (Karlin and Rinott, "Classes of orderings of measures", 1980, from memory). From that come
- the best of one item while the others are at their least is a lower limit of it in the best order,
  and at their most an upper one (Topkis, "Minimizing a submodular function on a lattice", 1978,
  from memory), so that boxes shrink by themselves, usually to one point;
- a bound that is a sum over items, and so soon worked out: what each adds at most while the others
  are at their most, or takes away at least while they are at their least.
The search ends with its proof, or after so many boxes; then `at_least` says how good any order can
be. It never looks at a clock, so the same question gives the same answer.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import count
from math import ceil, inf
from typing import Protocol

import numpy as np

from joblog.rates.coverage import Coverage
from joblog.rates.spread import Floats

BOXES = 400
"""Looked into before the best found so far has to do."""
_TRY = 20
"""Of so many boxes one is looked into for a good order, beside its bound."""
_HAIR = 1e-9
_NO_CHANCE = 1e-300
"""Taken for none at all, where its logarithm is wanted."""

Places = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Chosen:
    """The level of each item, as its place among the levels; what it spends and what none beats."""

    places: Places
    spent: float
    at_least: float


def least_expected(
    coverage: Coverage, costs: Sequence[Floats], trip: float, boxes: int = BOXES
) -> Chosen:
    """The levels with the least sum of `costs` (of each item, by level) and of `trip` times the
    chance that anything is missing."""
    return _searched(_Expected(coverage, costs, trip), boxes)


def least_within(
    coverage: Coverage, costs: Sequence[Floats], risk: float, step: float, boxes: int = BOXES
) -> Chosen:
    """The levels with the least sum of `costs` (ascending) that leave a chance of at most `risk`
    that anything is missing. All sums of costs are multiples of `step`; 0 where nobody knows."""
    return _searched(_Within(coverage, costs, risk, step), boxes)


# --- branch and bound ---------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Box:
    low: Places
    high: Places

    @property
    def is_point(self) -> bool:
        return self.low == self.high

    def halves(self, at: int, place: int) -> tuple[_Box, _Box]:
        """Up to `place` of that item, and above it."""
        high = (*self.high[:at], place, *self.high[at + 1 :])
        low = (*self.low[:at], place + 1, *self.low[at + 1 :])
        return _Box(self.low, high), _Box(low, self.high)


class _Question(Protocol):
    @property
    def coverage(self) -> Coverage: ...

    def spends(self, places: Places) -> float:
        """Infinite where it is not allowed."""

    def tightened(self, box: _Box, best: float) -> _Box | None:
        """The part of the box that may hold something better than `best`."""

    def bound(self, box: _Box) -> tuple[float, int, int]:
        """What no point of the box beats; the item to part it by, and up to which place."""

    def tries(self, box: _Box) -> Iterable[Places]:
        """Points that may be good."""


def _searched(question: _Question, boxes: int) -> Chosen:
    everything = _Box(
        tuple(0 for _ in question.coverage.levels),
        tuple(len(levels) - 1 for levels in question.coverage.levels),
    )
    best, spent = everything.high, question.spends(everything.high)
    order = count()
    waiting: list[tuple[float, int, _Box]] = [(-inf, next(order), everything)]
    looked = 0
    while waiting and looked < boxes:
        bound, _, box = heapq.heappop(waiting)
        if _no_better(bound, spent):
            waiting = []
            break
        looked += 1
        tight = question.tightened(box, spent)
        if tight is None:
            continue
        for places in question.tries(tight) if looked % _TRY == 1 else (tight.low,):
            if question.spends(places) < spent - _hair(spent):
                best, spent = places, question.spends(places)
        if tight.is_point:
            continue
        lower, at, place = question.bound(tight)
        if _no_better(lower, spent):
            continue
        for half in tight.halves(at, place):
            heapq.heappush(waiting, (max(bound, lower), next(order), half))
    left = min((bound for bound, _, _ in waiting), default=spent)
    return Chosen(best, spent, min(left, spent))


def _no_better(bound: float, spent: float) -> bool:
    return bound >= spent - _hair(spent)


def _hair(spent: float) -> float:
    return _HAIR * max(1.0, abs(spent)) if spent < inf else 0.0


def _widest(box: _Box, gains: Sequence[Floats]) -> tuple[int, int]:
    """The item whose levels in the box matter most, and the middle of them."""
    at = max(
        range(len(box.low)),
        key=lambda at: gains[at][-1] - gains[at][0] if box.high[at] > box.low[at] else -1.0,
    )
    return at, (box.low[at] + box.high[at]) // 2


# --- a trip, weighed against what is left over ----------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Expected:
    coverage: Coverage
    costs: Sequence[Floats]
    trip: float

    def spends(self, places: Places) -> float:
        costs = sum(float(cost[at]) for cost, at in zip(self.costs, places, strict=True))
        return costs + self.trip * (1 - self.coverage.chance(places))

    def tightened(self, box: _Box, best: float) -> _Box | None:
        low, high = box.low, box.high
        while True:
            below = self._answers(low, low, high, last=False)
            above = self._answers(high, low, high, last=True)
            # The best lies between both, so where rounding crosses them it is at the one.
            above = tuple(map(max, above, below))
            if (below, above) == (low, high):
                return _Box(low, high)
            low, high = below, above

    def _answers(self, others: Places, low: Places, high: Places, *, last: bool) -> Places:
        """The cheapest level of each item while the others stand there; of equal ones the last."""
        answers = []
        for chances, cost, a, b in zip(
            self.coverage.along_each(others, low, high), self.costs, low, high, strict=True
        ):
            spent = cost[a : b + 1] - self.trip * chances
            least = spent <= spent.min() + _hair(self.trip)
            answers.append(a + (int(np.flatnonzero(least)[-1]) if last else int(np.argmax(least))))
        return tuple(answers)

    def bound(self, box: _Box) -> tuple[float, int, int]:
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
        return max(up, down), *_widest(box, at_most)

    def tries(self, box: _Box) -> Iterator[Places]:
        yield box.low
        yield box.high


# --- the least money within a risk ----------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Within:
    coverage: Coverage
    costs: Sequence[Floats]
    risk: float
    step: float

    def spends(self, places: Places) -> float:
        if 1 - self.coverage.chance(places) > self.risk + _HAIR:
            return inf
        return self._costs(places)

    def _costs(self, places: Sequence[int]) -> float:
        return sum(float(cost[at]) for cost, at in zip(self.costs, places, strict=True))

    def tightened(self, box: _Box, best: float) -> _Box | None:
        low, high = box.low, box.high
        while True:
            chances = self.coverage.along_each(high, low, high)
            enough = [1 - chance <= self.risk + _HAIR for chance in chances]
            if not all(one[-1] for one in enough):
                return None
            below = tuple(a + int(np.argmax(one)) for a, one in zip(low, enough, strict=True))
            room = best - _hair(best) - self._costs(below)
            if room < 0:
                return None
            above = tuple(
                a + int(np.searchsorted(cost[a : b + 1], cost[a] + room, side="right")) - 1
                for cost, a, b in zip(self.costs, below, high, strict=True)
            )
            if (below, above) == (low, high):
                return _Box(low, high)
            low, high = below, above

    def bound(self, box: _Box) -> tuple[float, int, int]:
        needed = float(np.log1p(-self.risk - _HAIR))
        at_most, at_least = (
            [np.log(np.maximum(one, _NO_CHANCE)) for one in chances]
            for chances in (
                self.coverage.along_each(box.high, box.low, box.high),
                self.coverage.along_each(box.low, box.low, box.high),
            )
        )
        # The last level of any item, the others at their most, is the top; likewise the bottom.
        top, bottom = float(at_most[0][-1]), float(at_least[0][0])
        up = self._filled(box, at_most, needed - bottom)
        whole = sum(float(gain[-1] - gain[0]) for gain in at_least)
        down = self._filled(box, at_least, needed - top + whole)
        extra, at, place = max(up, down)
        spent = self._costs(box.low) + extra
        if self.step:
            spent = ceil(spent / self.step - 1e-6) * self.step
        if at < 0:
            at, place = _widest(box, at_most)
        return spent, at, place

    def _filled(self, box: _Box, gains: Sequence[Floats], needed: float) -> tuple[float, int, int]:
        """The least cost of so much gain, parts of levels allowed: the linear bound of the knapsack
        (Dantzig 1957); the item that a part is taken of, and from which place."""
        if needed <= 0:
            return 0.0, -1, -1
        rises = sorted(
            (rise for at, gain in enumerate(gains) for rise in self._rises(box, at, gain)),
            key=lambda rise: (-rise[0] / rise[1], rise[2:]),
        )
        cost = 0.0
        for gain, price, at, place in rises:
            if gain >= needed:
                middle = place + (self._next(gains, box, rises, at, place) - place - 1) // 2
                return cost + price * needed / gain, at, middle
            cost, needed = cost + price, needed - gain
        return cost, -1, -1

    def _next(
        self, gains: Sequence[Floats], box: _Box, rises: Sequence[_Rise], at: int, place: int
    ) -> int:
        later = [one[3] for one in rises if one[2] == at and one[3] > place]
        return min(later, default=box.high[at])

    def _rises(self, box: _Box, at: int, gain: Floats) -> Iterator[_Rise]:
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
                at, box.low[at] + here,
            )  # fmt: skip
            here = there

    def tries(self, box: _Box) -> Iterator[Places]:
        """Level by level, the most chance for the money first; then without what is not needed."""
        yield box.low
        places = list(box.low)
        while 1 - self.coverage.chance(places) > self.risk + _HAIR:
            chances = self.coverage.along_each(places, places, box.high)
            _, at, more = max(
                (float(rate.max()), -at, int(np.argmax(rate)) + 1)
                for at, rate in self._rates(places, chances)
            )
            places[-at] += more
        yield self._lightened(box, places)

    def _rates(
        self, places: Sequence[int], chances: Sequence[Floats]
    ) -> Iterator[tuple[int, Floats]]:
        for at, chance in enumerate(chances):
            if len(chance) > 1:
                cost = self.costs[at][places[at] : places[at] + len(chance)]
                yield at, (chance[1:] - chance[0]) / (cost[1:] - cost[0])

    def _lightened(self, box: _Box, places: list[int]) -> Places:
        for at in sorted(range(len(places)), key=lambda at: -float(self.costs[at][-1])):
            [*_, chances] = [self.coverage.along_each(places, box.low, places)[at]]
            enough = 1 - chances <= self.risk + _HAIR
            places[at] = box.low[at] + int(np.argmax(enough))
        return tuple(places)


_Rise = tuple[float, float, int, int]
"""Gain, cost, item, and the place it starts from."""
