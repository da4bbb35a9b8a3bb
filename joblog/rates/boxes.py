"""Branch and bound over boxes of levels: a search that ends with its proof, or after so many boxes.

It never looks at a clock, so the same question gives the same answer.
"""

from __future__ import annotations

import heapq
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import count
from math import inf
from typing import Protocol

from joblog.rates.coverage import Coverage
from joblog.rates.spread import Floats

BOXES = 400
"""Looked into before the best found so far has to do."""
HAIR = 1e-9
"""Of what is spent, or of a chance: less is no difference."""
_TRY = 20
"""Of so many boxes one is looked into for a good order, beside its bound."""

Places = tuple[int, ...]
"""Of each item, the place of its level among its levels."""


@dataclass(frozen=True, slots=True)
class Chosen:
    """The level of each item, what it spends, and what none beats."""

    places: Places
    spent: float
    at_least: float


@dataclass(frozen=True, slots=True)
class Box:
    low: Places
    high: Places

    @property
    def is_point(self) -> bool:
        return self.low == self.high

    def halves(self, at: int, place: int) -> tuple[Box, Box]:
        """Up to `place` of that item, and above it."""
        high = (*self.high[:at], place, *self.high[at + 1 :])
        low = (*self.low[:at], place + 1, *self.low[at + 1 :])
        return Box(self.low, high), Box(low, self.high)


class Question(Protocol):
    @property
    def coverage(self) -> Coverage: ...

    def spends(self, places: Places) -> float:
        """Infinite where it is not allowed."""

    def tightened(self, box: Box, best: float) -> Box | None:
        """The part of the box that may hold something better than `best`."""

    def bound(self, box: Box) -> tuple[float, int, int]:
        """What no point of the box beats; the item to part it by, and up to which place."""

    def tries(self, box: Box) -> Iterable[Places]:
        """Points that may be good."""


def searched(question: Question, boxes: int) -> Chosen:
    """The point that spends least, or the best found in so many boxes, beginning with the most of
    every item, which is always allowed."""
    everything = Box(
        tuple(0 for _ in question.coverage.levels),
        tuple(len(levels) - 1 for levels in question.coverage.levels),
    )
    best, spent = everything.high, question.spends(everything.high)
    order = count()
    waiting: list[tuple[float, int, Box]] = [(-inf, next(order), everything)]
    looked = 0
    while waiting and looked < boxes:
        bound, _, box = heapq.heappop(waiting)
        if no_better(bound, spent):
            waiting = []
            break
        looked += 1
        tight = question.tightened(box, spent)
        if tight is None:
            continue
        for places in question.tries(tight) if looked % _TRY == 1 else (tight.low,):
            if question.spends(places) < spent - hair(spent):
                best, spent = places, question.spends(places)
        if tight.is_point:
            continue
        lower, at, place = question.bound(tight)
        if no_better(lower, spent):
            continue
        for half in tight.halves(at, place):
            heapq.heappush(waiting, (max(bound, lower), next(order), half))
    left = min((bound for bound, _, _ in waiting), default=spent)
    return Chosen(best, spent, min(left, spent))


def no_better(bound: float, spent: float) -> bool:
    """Whether nothing with that bound is worth a look."""
    return bound >= spent - hair(spent)


def hair(spent: float) -> float:
    """What is no difference beside so much."""
    return HAIR * max(1.0, abs(spent)) if spent < inf else 0.0


def widest(box: Box, gains: Sequence[Floats]) -> tuple[int, int]:
    """The item whose levels in the box matter most, and the middle of them."""
    at = max(
        range(len(box.low)),
        key=lambda at: gains[at][-1] - gains[at][0] if box.high[at] > box.low[at] else -1.0,
    )
    return at, (box.low[at] + box.high[at]) // 2
