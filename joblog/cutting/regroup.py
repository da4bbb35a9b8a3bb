"""The same sticks, cut in fewer different patterns and leaving longer offcuts.

What is bought stays as it is. In this order: as much as possible comes out of the sticks that are
there already (offcuts on hand), the number of different patterns is least, with two-up cutting the
number of times the saw is loaded is least, and the offcuts left are longest (the sum of their
squares, so that one long one counts for more than two short ones).

A small job is solved whole, from every pattern there is; of a larger one some patterns at a time
are taken apart and put together again, in a fixed order, for as long as that helps.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from joblog.cutting.columns import Pattern
from joblog.cutting.effort import Effort
from joblog.cutting.highs import Column, Row, solve
from joblog.cutting.knapsack import Knapsack, OutOfTimeError, Room


@dataclass(frozen=True, slots=True)
class Stock:
    """A kind of stick: what it holds, what it costs, how many there are (None: any number)."""

    capacity: int
    cost: int
    limit: int | None
    on_hand: bool


@dataclass(frozen=True, slots=True)
class Wish:
    """What counts as a kept offcut, how many sticks are cut at once, and the kerf."""

    useful: int
    kerf: int
    at_once: int = 1


def regroup(
    weights: Sequence[int],
    stock: Sequence[Stock],
    patterns: Counter[Pattern],
    wish: Wish,
    effort: Effort,
) -> tuple[Counter[Pattern], bool]:
    """The patterns, and whether no better ones exist at the same cost.

    What comes back holds exactly the pieces of `patterns`, at no more cost.
    """
    if not patterns:
        return patterns, True
    if effort.late:
        return patterns, False
    job = _Job(tuple(weights), tuple(stock), wish, effort)
    everything = _again(job, patterns, Counter(), _WHOLE)
    if everything is not None:
        better, proved = everything
        if proved:
            return better, True
        patterns = better
    return _bit_by_bit(job, patterns), False


@dataclass(frozen=True, slots=True)
class _Limits:
    """How many patterns and nodes are worth it, and how near to the best is near enough."""

    patterns: int
    nodes: int
    gap: float


_WHOLE = _Limits(300, 100, 1e-7)
_PART = _Limits(250, 20, 1e-2)
_TRIES = 40


@dataclass(frozen=True, slots=True)
class _Job:
    weights: tuple[int, ...]
    stock: tuple[Stock, ...]
    wish: Wish
    effort: Effort

    def filled(self, pattern: Pattern) -> int:
        return sum(
            (weight - self.wish.kerf) * count
            for weight, count in zip(self.weights, pattern[1], strict=True)
        )

    def remainder(self, pattern: Pattern) -> int:
        room = self.stock[pattern[0]].capacity
        used = sum(map(int.__mul__, self.weights, pattern[1]))
        return max(0, room - used - self.wish.kerf)

    def kept(self, pattern: Pattern) -> int:
        left = self.remainder(pattern)
        return left * left if left >= self.wish.useful else 0


def _rank(job: _Job, patterns: Counter[Pattern]) -> tuple[int, int, int, int]:
    """Less is better. Exact, so that no answer of the solver is taken on its word."""
    on_hand = sum(
        job.filled(pattern) * times
        for pattern, times in patterns.items()
        if job.stock[pattern[0]].on_hand
    )
    loads = sum(-(-times // job.wish.at_once) for times in patterns.values())
    kept = sum(
        (job.kept(pattern) - _whole_stick(job, pattern[0])) * times
        for pattern, times in patterns.items()
    )
    return -on_hand, len(patterns), loads if job.wish.at_once > 1 else 0, -kept


def _whole_stick(job: _Job, bin: int) -> int:
    """What a stick on hand counts for while it is not cut: it is an offcut itself."""
    stock = job.stock[bin]
    length = stock.capacity - job.wish.kerf
    return length * length if stock.on_hand and length >= job.wish.useful else 0


def _bit_by_bit(job: _Job, patterns: Counter[Pattern]) -> Counter[Pattern]:
    chance = random.Random(0)
    tried: set[frozenset[tuple[Pattern, int]]] = set()
    for turn in range(_TRIES):
        if job.effort.spent or len(patterns) < 2:
            break
        part = _next_part(patterns, (4, 3)[turn % 2], tried, chance)
        if part is None:
            break
        tried.add(frozenset(part.items()))
        outside = patterns - part
        found = _again(job, part, outside, _PART)
        while found is None and len(part) > 2:
            part = Counter(dict(list(part.items())[:-1]))
            outside = patterns - part
            found = _again(job, part, outside, _PART)
        if found is not None:
            together = outside + found[0]
            if _rank(job, together) < _rank(job, patterns):
                patterns = together
    return patterns


def _next_part(
    patterns: Counter[Pattern],
    size: int,
    tried: set[frozenset[tuple[Pattern, int]]],
    chance: random.Random,
) -> Counter[Pattern] | None:
    """Some patterns that were not yet taken apart together, those cut least often first."""
    ranked = sorted(patterns.items(), key=lambda pair: (pair[1], pair[0]))
    size = min(size, len(ranked))
    rare = ranked[: size + 4]
    for group in combinations(rare, size):
        if frozenset(group) not in tried and chance.random() < 0.5:
            return Counter(dict(group))
    for _ in range(10):
        group = tuple(chance.sample(ranked, size))
        if frozenset(group) not in tried:
            return Counter(dict(group))
    return None


def _again(
    job: _Job, part: Counter[Pattern], outside: Counter[Pattern], limits: _Limits
) -> tuple[Counter[Pattern], bool] | None:
    """The pieces of `part` from the sticks of `part` and free ones on hand; None if too many ways.

    A pattern that is cut `outside` too costs no further set-up.
    """
    demands = [
        sum(counts[at] * times for (_, counts), times in part.items())
        for at in range(len(job.weights))
    ]
    pool = _every_pattern(job, part, outside, demands, limits.patterns)
    if pool is None:
        return None
    answer = _solved(job, part, outside, demands, pool, limits)
    if answer is None:
        return part, False
    found, proved = answer
    better = _rank(job, outside + found) <= _rank(job, outside + part)
    return (found if better else part), proved


def _every_pattern(
    job: _Job,
    part: Counter[Pattern],
    outside: Counter[Pattern],
    demands: Sequence[int],
    limit: int,
) -> list[Pattern] | None:
    wanted = [at for at, count in enumerate(demands) if count]
    weights = [job.weights[at] for at in wanted]
    most = [demands[at] for at in wanted]
    free = _free(job, outside)
    capacity = max(job.stock[bin].capacity for bin in free)
    try:
        filling = Knapsack(Room(weights, most, capacity, job.effort), weights, job.effort)
    except OutOfTimeError:
        return None
    spare = _spare(job, part, free, sum(map(int.__mul__, weights, most)))
    pool: dict[Pattern, None] = dict.fromkeys(sorted(part))
    for bin in sorted(free):
        room = job.stock[bin].capacity
        least = 1 if job.stock[bin].on_hand or spare is None else max(1, room - spare)
        if filling.best(room) < least:
            continue
        found, all_of_them = filling.near(room, least, limit, maximal=False)
        if not all_of_them or len(pool) + len(found) > limit:
            return None
        for counts in found:
            wide = [0] * len(demands)
            for at, count in zip(wanted, counts, strict=True):
                wide[at] = count
            pool[bin, tuple(wide)] = None
    return list(pool)


def _free(job: _Job, outside: Counter[Pattern]) -> dict[int, int | None]:
    """The bins that still have sticks, and how many."""
    used: Counter[int] = Counter()
    for (bin, _), times in outside.items():
        used[bin] += times
    return {
        bin: None if stock.limit is None else stock.limit - used[bin]
        for bin, stock in enumerate(job.stock)
        if stock.limit is None or stock.limit > used[bin]
    }


def _spare(
    job: _Job, part: Counter[Pattern], free: dict[int, int | None], weight: int
) -> int | None:
    """Room that may stay empty in all new sticks together; None when it cannot be said.

    It can while there is only one kind of new stick, or their cost is what they measure.
    """
    new = [job.stock[bin] for bin in free if not job.stock[bin].on_hand]
    if len(new) > 1:
        return None
    bought = sum(times for (bin, _), times in part.items() if not job.stock[bin].on_hand)
    on_hand = sum(
        stock.capacity * (limit or 0)
        for bin, limit in free.items()
        if (stock := job.stock[bin]).on_hand
    )
    return bought * sum(stock.capacity for stock in new) + on_hand - weight


def _solved(
    job: _Job,
    part: Counter[Pattern],
    outside: Counter[Pattern],
    demands: Sequence[int],
    pool: Sequence[Pattern],
    limits: _Limits,
) -> tuple[Counter[Pattern], bool] | None:
    program = _Program(job, part, outside, demands, pool)
    on_hand = None
    proved = True
    if any(job.stock[bin].on_hand for bin, _ in pool):
        answer = solve(
            program.columns(only_on_hand=True),
            program.rows(None),
            effort=job.effort,
            nodes=limits.nodes,
            gap=limits.gap,
            start=program.start(),
        )
        if answer.values is None:
            return None
        proved = answer.final
        on_hand = program.on_hand(program.read(answer.values))
    answer = solve(
        program.columns(only_on_hand=False),
        program.rows(on_hand),
        effort=job.effort,
        nodes=limits.nodes,
        gap=limits.gap,
        start=program.start() if on_hand is None else None,
    )
    if answer.values is None:
        return None
    return program.read(answer.values), proved and answer.final


@dataclass(frozen=True)
class _Program:
    """For each pattern: how often it is cut, whether at all, and how often the saw is loaded."""

    job: _Job
    part: Counter[Pattern]
    outside: Counter[Pattern]
    demands: Sequence[int]
    pool: Sequence[Pattern]

    def columns(self, only_on_hand: bool) -> list[Column]:
        wish, stock = self.job.wish, self.job.stock
        sticks = sum(self.part.values()) + sum(kind.limit or 0 for kind in stock if kind.on_hand)
        longest = max(kind.capacity for kind in stock) ** 2
        two_up = wish.at_once > 1 and not only_on_hand
        load = float(sticks + 1) if two_up else 0.0
        setting = (sticks + 1) * (load + 1)
        times, cut_at_all, loads = [], [], []
        count, lengths = len(self.pool), len(self.demands)
        for at, (bin, counts) in enumerate(self.pool):
            entries = [(row, float(number)) for row, number in enumerate(counts) if number]
            entries.append((lengths + bin, 1.0))
            cost_row, fill_row = lengths + len(stock), lengths + len(stock) + 1
            entries.append((cost_row, float(stock[bin].cost)))
            filled = float(self.job.filled((bin, counts))) if stock[bin].on_hand else 0.0
            if filled:
                entries.append((fill_row, filled / self._unit()))
            switch = fill_row + 1 + at
            entries.append((switch, 1.0))
            if two_up:
                entries.append((switch + count, 1.0))
            most = min(
                number // each for number, each in zip(self.demands, counts, strict=True) if each
            )
            kept = self.job.kept((bin, counts)) - _whole_stick(self.job, bin)
            cost = -filled / self._unit() if only_on_hand else -kept / longest
            times.append(Column(cost, tuple(entries), float(most)))
            already = (bin, counts) in self.outside
            price = 0.0 if only_on_hand or already else setting
            cut_at_all.append(Column(price, ((switch, -float(most)),), 1.0))
            if two_up:
                entry = ((switch + count, -float(wish.at_once)),)
                loads.append(Column(load, entry, float(most)))
        return times + cut_at_all + loads

    def rows(self, on_hand: int | None) -> list[Row]:
        job, count = self.job, len(self.pool)
        free = _free(job, self.outside)
        cost = sum(job.stock[bin].cost * times for (bin, _), times in self.part.items())
        rows = [Row(float(number), float(number)) for number in self.demands]
        for bin in range(len(job.stock)):
            left = free.get(bin, 0)
            rows.append(Row() if left is None else Row(most=float(left)))
        rows.append(Row(most=float(cost)))
        rows.append(Row() if on_hand is None else Row(least=on_hand / self._unit() - 1e-7))
        rows += [Row(most=0.0)] * count * (2 if job.wish.at_once > 1 else 1)
        return rows

    def start(self) -> list[float]:
        times = [float(self.part.get(pattern, 0)) for pattern in self.pool]
        at_once = self.job.wish.at_once
        loads = [float(-(-time // at_once)) for time in times] if at_once > 1 else []
        return times + [float(time > 0) for time in times] + loads

    def read(self, values: Sequence[float]) -> Counter[Pattern]:
        found: Counter[Pattern] = Counter()
        for pattern, value in zip(self.pool, values, strict=False):
            if round(value):
                found[pattern] = round(value)
        return found

    def on_hand(self, patterns: Counter[Pattern]) -> int:
        return sum(
            self.job.filled(pattern) * times
            for pattern, times in patterns.items()
            if self.job.stock[pattern[0]].on_hand
        )

    def _unit(self) -> int:
        return max(stock.capacity for stock in self.job.stock)
