"""What is best put into one stick: exact, in whole numbers, by dynamic programming."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
import numpy.typing as npt

from joblog.cutting.effort import Effort

Counts = tuple[int, ...]
"""How many of each length, in the order of the lengths."""
_Array = npt.NDArray[np.int64]


class OutOfTimeError(Exception):
    """The time was up before a table was full."""


def is_within(
    weights: Sequence[int], most: Sequence[int], capacity: int, limit: int, effort: Effort
) -> bool:
    """Whether a stick of `capacity` can be filled to no more than `limit` different amounts.

    Also False where there was no time to count them.
    """
    if capacity <= limit:
        return True
    try:
        return capacity < _WIDEST and len(_sums(weights, most, capacity, limit, effort)) <= limit
    except OutOfTimeError:
        return False


_WIDEST = 2**50


class Room:
    """The fillings of a stick that pieces can add up to: the steps that a knapsack goes by.

    `weights` and `most` belong to the lengths, all whole numbers, weights above zero. There may be
    far fewer fillings than whole numbers up to `capacity`, when lengths lie on no common grid.
    Raises OutOfTimeError.
    """

    def __init__(
        self, weights: Sequence[int], most: Sequence[int], capacity: int, effort: Effort
    ) -> None:
        self.weights = tuple(weights)
        self.most = tuple(
            min(count, capacity // weight) for count, weight in zip(most, weights, strict=True)
        )
        # Any number of pieces up to the most is a sum of some of 1, 2, 4, ..., and the rest.
        self.bundles = [_bundles(count) for count in self.most]
        self.steps = _sums(weights, self.most, capacity, capacity // 2, effort)
        self._dense = len(self.steps) > capacity // 2
        if self._dense:
            self.steps = np.arange(capacity + 1, dtype=np.int64)
        self._before: dict[int, tuple[int, _Array | slice]] = {}
        bundles = sum(map(len, self.bundles))
        cells = bundles * len(self.steps)
        self.work = bundles * _BUNDLE + cells // (_DENSE_CELLS if self._dense else _CELLS)
        """To fill in a knapsack's tables once."""

    def at(self, room: int) -> int:
        """The step that fills `room` best: the last one not above it."""
        if self._dense:
            return room
        return int(np.searchsorted(self.steps, room, side="right")) - 1

    def before(self, size: int) -> tuple[int, _Array | slice]:
        """The first step that has room for `size`, and for each step from there the one below."""
        if self._dense:
            return size, slice(0, len(self.steps) - size)
        if size not in self._before:
            first = int(np.searchsorted(self.steps, size))
            lower = np.searchsorted(self.steps, self.steps[first:] - size, side="right") - 1
            self._before[size] = (first, lower)
        return self._before[size]


class Knapsack:
    """The best value of every capacity, for lengths that may repeat and are worth `values`.

    `best(c)` fills a capacity c; `pattern(c)` says with what; `near(c, least)` lists every way
    that is worth at least `least`. Raises OutOfTimeError.
    """

    def __init__(self, room: Room, values: Sequence[int], effort: Effort) -> None:
        self._room, self._values, self._effort = room, tuple(values), effort
        effort.spend(room.work)
        # The table at position i knows the lengths from i on; the last one knows none.
        table: _Array = np.zeros(len(room.steps), dtype=np.int64)
        tables = [table]
        for at in reversed(range(len(room.weights))):
            if effort.late:
                raise OutOfTimeError
            for bundle in room.bundles[at]:
                first, lower = room.before(bundle * room.weights[at])
                wider = table.copy()
                np.maximum(table[first:], table[lower] + bundle * values[at], out=wider[first:])
                table = wider
            tables.append(table)
        self._tables: list[Any] = tables[::-1]

    def best(self, capacity: int, start: int = 0) -> int:
        """By the lengths from the one numbered `start` on."""
        return int(self._tables[start][self._room.at(capacity)])

    def pattern(self, capacity: int, start: int = 0) -> Counts:
        """One way to reach `best(capacity, start)`."""
        wanted = self.best(capacity, start)
        counts = [0] * start
        for at in range(start, len(self._values)):
            weight, value = self._room.weights[at], self._values[at]
            count = min(self._room.most[at], capacity // weight)
            following = self._tables[at + 1]
            while following[self._room.at(capacity - count * weight)] < wanted - count * value:
                count -= 1
            counts.append(count)
            capacity -= count * weight
            wanted -= count * value
        return tuple(counts)

    def near(
        self, capacity: int, least: int, limit: int, *, maximal: bool
    ) -> tuple[list[Counts], bool]:
        """Patterns worth at least `least`, and whether these are all of them.

        No more than `limit`; with `maximal` only those that leave no room for another piece.
        """
        weights, most, values = self._room.weights, self._room.most, self._values
        tables, step_at = self._tables, self._room.at
        found: list[Counts] = []
        last = len(weights)
        counts = [0] * last
        visits = 0
        # Every branch taken leads to a pattern, because the tables know the best that can follow.
        stack = [(0, capacity, least, most[0] if most else 0)]
        while stack:
            at, room, wanted, count = stack.pop()
            if at == last:
                if not maximal or self._is_full(counts, room):
                    if len(found) == limit:
                        return found, False
                    found.append(tuple(counts))
                continue
            visits += 1
            self._effort.spend(_VISIT)
            if visits > _VISITS * (limit + last) or (visits % 64 == 0 and self._effort.late):
                return found, False
            weight, value, following = weights[at], values[at], tables[at + 1]
            count = min(count, room // weight)
            while count >= 0 and following[step_at(room - count * weight)] < wanted - count * value:
                count -= 1
            if count < 0:
                continue
            counts[at] = count
            if count:
                stack.append((at, room, wanted, count - 1))
            next_most = most[at + 1] if at + 1 < last else 0
            stack.append((at + 1, room - count * weight, wanted - count * value, next_most))
        return found, True

    def _is_full(self, counts: Sequence[int], room: int) -> bool:
        return not any(
            weight <= room and count < most
            for weight, count, most in zip(self._room.weights, counts, self._room.most, strict=True)
        )


_BUNDLE = 3
"""Work for one bundle, whatever the room."""
_DENSE_CELLS, _CELLS = 500, 150
"""Cells of a table to a unit of work; fewer where steps must be looked up."""
_VISIT = 4
"""Work for one step of the listing of patterns."""
_VISITS = 30
"""Steps per pattern asked for, after which the search is broken off."""


def _sums(
    weights: Sequence[int], most: Sequence[int], capacity: int, limit: int, effort: Effort
) -> _Array:
    """All that pieces can add up to, or the first of them once there are more than `limit`."""
    sums = np.zeros(1, dtype=np.int64)
    for weight, count in zip(weights, most, strict=True):
        if effort.late:
            raise OutOfTimeError
        for bundle in _bundles(min(count, capacity // weight)):
            further = sums + bundle * weight
            sums = np.union1d(sums, further[further <= capacity])
            if len(sums) > limit:
                return sums
    return sums


def _bundles(count: int) -> tuple[int, ...]:
    bundles = []
    size = 1
    while count > 0:
        bundles.append(min(size, count))
        count -= size
        size *= 2
    return tuple(bundles)
