"""Ways to part runs and patterns of sticks in one program, with a bound that no choice is below.

Each run takes one of its ways, and all pieces together are cut from sticks. Both are columns: ways,
which a shortest path finds, and patterns, which a knapsack finds; the dual values of the pieces'
lengths show which are missing (column generation, as in `columns.py`).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate
from math import ceil, lcm

import numpy as np

from joblog.cutting.columns import Bin
from joblog.cutting.effort import NEVER, Effort
from joblog.cutting.grid import Kind, costs_of, kinds_of
from joblog.cutting.highs import Column, Relaxation, Row, solve
from joblog.cutting.knapsack import Knapsack, OutOfTimeError, Room
from joblog.cutting.ways import Way, Ways
from joblog.model import Piece, StockLength


@dataclass(frozen=True)
class RunKind:
    """Runs that are alike, which may still be parted each in its way."""

    ways: Ways
    runs: tuple[int, ...]
    """Their numbers in the list."""
    count: int
    beside: str = ""
    """The label of a run of the same item that its joints are kept away from."""


Chosen = list[dict[Way, int]]
"""For each kind how many of its runs take which way."""


def chosen_ways(parting: Parting) -> tuple[Chosen | None, bool]:
    """The best whole-number answer that is found, None where there was none; and whether nothing
    can be better."""
    found: Chosen | None = None
    cost = NEVER
    # First what may do; then all that the relaxation asks for, and all that could be better.
    for stage in range(3):
        enough = parting.enough()
        if stage < 2:
            parting.generate(enough if stage == 0 else -NEVER)
        elif cost == NEVER or not parting.widen(cost):
            break
        columns, rows = parting.program()
        # Half a joint: what is nearer to the best than that has as few of them.
        answer = solve(
            columns,
            rows,
            effort=parting.work,
            nodes=_NODES[stage],
            gap=float(parting.joint) / 2,
            good_enough=enough,
        )
        if answer.values is None:
            continue
        whole = zip(columns, answer.values, strict=True)
        now = sum(column.cost * round(value) for column, value in whole if column.cost)
        if now < cost:
            found, cost = parting.chosen(answer.values), now
        if cost <= parting.enough():
            return found, True
    return found, False


_ROUNDS, _NODES = 120, (20, 400, 2000)

_Pattern = tuple[int, tuple[tuple[int, int], ...]]
"""Which bin, and of which lengths how many pieces."""


class Parting:
    """The program, with the ways and patterns that it holds so far."""

    def __init__(
        self,
        kinds: Sequence[RunKind],
        fixed: Sequence[Piece],
        stock: Sequence[StockLength],
        kerf: Fraction,
        work: Effort,
    ) -> None:
        self.kinds, self.work = tuple(kinds), work
        whole: Counter[Fraction] = Counter()
        for piece in fixed:
            if piece.length > 0:
                whole[piece.length] += max(0, piece.pieces)
        self._lengths = sorted({*whole, *(one for kind in kinds for one in kind.ways.lengths)})
        self._number = {length: at for at, length in enumerate(self._lengths)}
        self._fixed = [whole[length] for length in self._lengths]
        sticks = kinds_of(stock)
        costs, self._cost_unit = costs_of(sticks)
        exact = [length + kerf for length in self._lengths]
        room = [kind.length + kerf for kind in sticks]
        parts = min(_FINEST, lcm(*(one.denominator for one in (*exact, *room))))
        self._rounded = any((one * parts).denominator > 1 for one in (*exact, *room))
        most = sum(self._fixed) + sum(kind.count * len(kind.ways.places) for kind in kinds)
        self._bins = [
            Bin(int(one * parts), cost, None if kind.pieces is None else min(kind.pieces, most))
            for one, cost, kind in zip(room, costs, sticks, strict=True)
        ]
        self._capacity = max(bin.capacity for bin in self._bins)
        # What is as long as the longest stick is alone in it.
        self._weights = [min(ceil(one * parts), self._capacity) for one in exact]
        self.joint = Fraction(1, 1 + most)
        """What a joint counts beside the least part of the cost."""
        self._sticks = sorted({kind.length for kind in sticks})
        self._longest = self._sticks[-1]
        self._costs = _Costs(sticks, costs, kerf, self._needed(kerf))
        self._at_least = self._costs.first_from(0)
        if not any(bin.limit is None and bin.capacity == self._capacity for bin in self._bins):
            # No choice takes a missing stick while any other way is open.
            dear = 1 + sum(bin.cost * (bin.limit or most) for bin in self._bins)
            self._bins.append(Bin(self._capacity, dear))
        scarce = [at for at, bin in enumerate(self._bins) if bin.limit is not None]
        rows = len(self._lengths) + len(kinds)
        self._limits = {at: rows + number for number, at in enumerate(scarce)}
        self._patterns: dict[_Pattern, None] = {}
        self.ways: list[dict[Way, None]] = [{} for _ in kinds]
        self._own = [np.array([self._number[one] for one in kind.ways.lengths]) for kind in kinds]
        """Of each kind, the numbers of the lengths that its pieces may have."""
        self._relaxation: Relaxation | None = None
        self._objective: list[float] = []
        self._duals: Sequence[float] = ()

    @property
    def at_least(self) -> Fraction:
        """What any choice costs at least; inches of new sticks where they have no cost."""
        return self._at_least * self._cost_unit

    def enough(self) -> float:
        """What an answer comes to that nothing can be better than, by what is proved so far."""
        fewest = sum(fewest_joints(kind.ways, self._longest) * kind.count for kind in self.kinds)
        return float(self._at_least + self.joint * fewest) + float(self.joint) / 4

    def generate(self, enough: float) -> None:
        """Fills in the ways and patterns that the relaxation asks for, until it comes to `enough`
        or less."""
        if self._relaxation is None:
            self._begin()
        assert self._relaxation is not None
        for _ in range(_ROUNDS):
            values, duals = self._relaxation.solve()
            self._duals = duals
            relaxed = sum(map(float.__mul__, values, self._objective))
            if relaxed <= enough or self.work.spent or not self._priced(self._relaxation, duals):
                break

    def widen(self, cost: float) -> bool:
        """Adds every pattern and way that an answer below a cost can have, by the last dual values;
        False where they are too many, or none is missing."""
        many, relaxation = len(self._lengths), self._relaxation
        values = list(accumulate((max(0, int(dual * _SCALE)) for dual in self._duals[:many]), max))
        joint = int(self.joint * _SCALE)
        by_length = np.array(values, dtype=np.int64)
        cheapest = [
            kind.ways.cheapest(by_length[own], joint)[0]
            for own, kind in zip(self._own, self.kinds, strict=True)
        ]
        scarce = [
            int(max(0.0, -self._duals[row]) * _SCALE) * (self._bins[at].limit or 0)
            for at, row in self._limits.items()
        ]
        proved = sum(map(int.__mul__, values, self._fixed)) - sum(scarce)
        proved += sum(map(int.__mul__, cheapest, (kind.count for kind in self.kinds)))
        slack = int((cost - float(self.joint) / 2) * _SCALE) - proved
        if relaxation is None or slack < 0 or many > _MOST_WIDE or self.work.spent:
            return False
        try:
            room = self._room(self._weights[::-1])
            knapsack = Knapsack(room, values[::-1], self.work)
        except OutOfTimeError:
            return False
        added = False
        for number, bin in enumerate(self._bins):
            dual = -self._duals[self._limits[number]] if number in self._limits else 0.0
            least = max(0, int((bin.cost + dual) * _SCALE) - slack - _LITTLE)
            if bin.limit == 0 or knapsack.best(bin.capacity) < least:
                continue
            near, _ = knapsack.near(bin.capacity, least, _MOST_NEAR, maximal=True)
            for counts in near:
                pattern = tuple((many - 1 - at, count) for at, count in enumerate(counts) if count)
                added |= self._add_pattern(relaxation, (number, pattern))
        for number, (own, kind) in enumerate(zip(self._own, self.kinds, strict=True)):
            ways, _ = kind.ways.near(
                by_length[own], joint, cheapest[number] + slack + _LITTLE, _MOST_NEAR
            )
            for way in ways:
                added |= self._add_way(relaxation, number, way)
        return added

    def _begin(self) -> None:
        relaxation = self._relaxation = Relaxation(self._rows(), self.work)
        for column in self._shorter():
            self._add(relaxation, column)
        for pattern in self._first_patterns():
            self._add_pattern(relaxation, pattern)
        for number, kind in enumerate(self.kinds):
            whole = map(kind.ways.whole_sticks, self._sticks)
            for way in (*filter(None, whole), *kind.ways.few_pieces(_FEW)):
                self._add_way(relaxation, number, way)

    def chosen(self, values: Sequence[float]) -> Chosen:
        """What the values of the program's columns say of the ways."""
        at = len(values) - sum(map(len, self.ways))
        chosen: Chosen = []
        for ways in self.ways:
            counts = [round(value) for value in values[at : at + len(ways)]]
            chosen.append({way: count for way, count in zip(ways, counts, strict=True) if count})
            at += len(ways)
        return chosen

    def _add(self, relaxation: Relaxation, column: Column) -> None:
        relaxation.add(column)
        self._objective.append(column.cost)

    def program(self) -> tuple[list[Column], list[Row]]:
        """The columns, ways last, and the rows of the program in whole numbers."""
        rows = self._rows()
        clashes = list(self._clashes())
        held: dict[tuple[int, Way], list[int]] = {}
        for row, clash in enumerate(clashes, len(rows)):
            for one in clash:
                held.setdefault(one, []).append(row)
        ways = [
            self._way_column(number, way, held.get((number, way), ()), whole=True)
            for number, known in enumerate(self.ways)
            for way in known
        ]
        patterns = [self._pattern_column(pattern, whole=True) for pattern in self._patterns]
        return [*self._shorter(), *patterns, *ways], [*rows, *(Row(most=1) for _ in clashes)]

    # --- rows and columns -----------------------------------------------------------------------

    def _rows(self) -> list[Row]:
        """Of each length at least as many places as pieces, of each kind all of its runs, and of
        what is scarce no more than there is."""
        return [
            *(Row(least=count) for count in self._fixed),
            *(Row(least=kind.count, most=kind.count) for kind in self.kinds),
            *(Row(most=self._bins[at].limit or 0) for at in self._limits),
        ]

    def _shorter(self) -> Iterator[Column]:
        """A place for a longer piece may be taken by the next shorter one."""
        for at in range(1, len(self._lengths)):
            yield Column(0.0, ((at - 1, 1.0), (at, -1.0)), whole=False)

    def _pattern_column(self, pattern: _Pattern, whole: bool = False) -> Column:
        bin, counts = pattern
        entries = [(at, float(count)) for at, count in counts]
        if bin in self._limits:
            entries.append((self._limits[bin], 1.0))
        return Column(float(self._bins[bin].cost), tuple(entries), whole=whole)

    def _way_column(
        self, number: int, way: Way, clashes: Sequence[int] = (), whole: bool = False
    ) -> Column:
        counts = Counter(self._number[one] for one in self.kinds[number].ways.pieces(way))
        entries = [(at, -float(count)) for at, count in sorted(counts.items())]
        entries.append((len(self._lengths) + number, 1.0))
        entries += [(row, 1.0) for row in clashes]
        return Column(float(self.joint * (len(way) - 2)), tuple(entries), whole=whole)

    def _first_patterns(self) -> Iterator[_Pattern]:
        for at, weight in enumerate(self._weights):
            for number, bin in enumerate(self._bins):
                if bin.limit is None and bin.capacity >= weight:
                    yield number, ((at, bin.capacity // weight),)

    def _add_pattern(self, relaxation: Relaxation, pattern: _Pattern) -> bool:
        if pattern in self._patterns:
            return False
        self._patterns[pattern] = None
        self._add(relaxation, self._pattern_column(pattern))
        return True

    def _add_way(self, relaxation: Relaxation, number: int, way: Way) -> bool:
        if way in self.ways[number]:
            return False
        self.ways[number][way] = None
        self._add(relaxation, self._way_column(number, way))
        return True

    def _clashes(self) -> Iterator[list[tuple[int, Way]]]:
        """Ways of two runs side by side of which only one can be taken."""
        labels = {kind.ways.run.label: number for number, kind in enumerate(self.kinds)}
        for number, kind in enumerate(self.kinds):
            other = labels.get(kind.beside)
            if other is None:
                continue
            stagger = kind.ways.run.joints.stagger if kind.ways.run.joints else Fraction(0)
            beside = [(way, self.kinds[other].ways.joints(way)) for way in self.ways[other]]
            for way in self.ways[number]:
                joints = kind.ways.joints(way)
                near = [
                    (other, one)
                    for one, theirs in beside
                    if any(abs(joint - their) < stagger for joint in joints for their in theirs)
                ]
                if near:
                    yield [(number, way), *near]

    # --- pricing --------------------------------------------------------------------------------

    def _priced(self, relaxation: Relaxation, duals: Sequence[float]) -> bool:
        """Adds what the dual values show to be missing; False where that is nothing."""
        many = len(self._lengths)
        # A place for a piece is never worth less than one for a shorter piece.
        values = list(accumulate((max(0, int(dual * _SCALE)) for dual in duals[:many]), max))
        steps = [at for at in range(many) if values[at] > (values[at - 1] if at else 0)][::-1]
        if not steps:
            return False
        # Of pieces that are worth the same, only the shortest can be missing.
        weights = [self._weights[at] for at in steps]
        try:
            room = self._room(weights)
            knapsack = Knapsack(room, [values[at] for at in steps], self.work)
        except OutOfTimeError:
            return False
        self._bounded(values, knapsack)
        added = False
        starts = sorted({len(steps) * part // _AT_ONCE for part in range(_AT_ONCE)})
        for number, bin in enumerate(self._bins):
            limit_dual = -duals[self._limits[number]] if number in self._limits else 0.0
            enough = int((bin.cost + limit_dual) * _SCALE) + _LITTLE
            for start in starts:
                if bin.limit != 0 and knapsack.best(bin.capacity, start) > enough:
                    counts = zip(steps, knapsack.pattern(bin.capacity, start), strict=True)
                    pattern = tuple((at, count) for at, count in counts if count)
                    added |= self._add_pattern(relaxation, (number, pattern))
        by_length, joint = np.array(values, dtype=np.int64), int(self.joint * _SCALE)
        for number, kind in enumerate(self.kinds):
            worth, way = kind.ways.cheapest(by_length[self._own[number]], joint)
            if worth < int(duals[many + number] * _SCALE) - _LITTLE:
                added |= self._add_way(relaxation, number, way)
        return added

    def _room(self, weights: Sequence[int]) -> Room:
        most = [self._capacity // weight for weight in weights]
        return Room(weights, most, self._capacity, self.work, every=self._capacity < _NARROW)

    def _bounded(self, values: Sequence[int], knapsack: Knapsack) -> None:
        """Raises the bound to what these dual values prove, exactly: no stick is worth more than it
        costs, and each run takes pieces that are worth as much as its cheapest way at least."""
        if self._rounded or not all(kind.ways.every for kind in self.kinds):
            return
        filled = [knapsack.best(bin.capacity) for bin in self._bins]
        per_cost = max(
            (
                Fraction(value, bin.cost)
                for value, bin in zip(filled, self._bins, strict=True)
                if bin.limit is None and bin.cost
            ),
            default=Fraction(0),
        )
        if not per_cost:
            return
        by_length = np.array(values, dtype=np.int64)
        total = Fraction(sum(map(int.__mul__, values, self._fixed)))
        for own, kind in zip(self._own, self.kinds, strict=True):
            total += kind.ways.cheapest(by_length[own], 0)[0] * kind.count
        for value, bin in zip(filled, self._bins, strict=True):
            total -= max(Fraction(0), value - bin.cost * per_cost) * (bin.limit or 0)
        proved = ceil(total / per_cost)
        if proved > self._at_least:
            self._at_least = self._costs.first_from(proved)

    def _needed(self, kerf: Fraction) -> Fraction:
        """Inches that all pieces and their cuts measure at least, however runs are parted."""
        total = sum(
            ((one + kerf) * count for one, count in zip(self._lengths, self._fixed, strict=True)),
            Fraction(0),
        )
        for kind in self.kinds:
            total += kind.count * _measured(kind, self._longest, kerf)
        return total


_FINEST = 64
"""Parts of an inch in which is searched; what is finer is rounded, and then proves nothing."""
_NARROW = 20_000
_SCALE = 10**7
_LITTLE = 10**2
_AT_ONCE = 6
_MOST_WIDE, _MOST_NEAR = 150, 1500
"""Lengths up to which all near patterns are listed; and of each bin and kind how many."""
_FEW = 40
"""Ways of few pieces, of each kind of run, that are there from the first."""


def _measured(kind: RunKind, longest: Fraction, kerf: Fraction) -> Fraction:
    """What the pieces of one run and their cuts measure at least."""
    run = kind.ways.run
    lap = run.joints.lap if run.joints else Fraction(0)
    joints = fewest_joints(kind.ways, longest)
    return run.length + joints * lap + (joints + 1) * kerf


def fewest_joints(ways: Ways, longest: Fraction) -> int:
    """That no choice of places can do without."""
    if ways.every:
        return ways.fewest
    lap = ways.run.joints.lap if ways.run.joints else Fraction(0)
    return max(0, ceil((ways.run.length - lap) / (longest - lap)) - 1)


class _Costs:
    """What sticks cost that measure as much together as is needed, each with one cut more."""

    def __init__(
        self, sticks: Sequence[Kind], costs: Sequence[int], kerf: Fraction, needed: Fraction
    ) -> None:
        rooms = [kind.length + kerf for kind in sticks]
        parts = lcm(needed.denominator, *(room.denominator for room in rooms))
        whole = [int(room * parts) for room in rooms]
        self._sticks = [(cost, room) for cost, room in zip(costs, whole, strict=True) if cost]
        self._needed = int(needed * parts) - sum(
            room * (kind.pieces or 0)
            for room, kind, cost in zip(whole, sticks, costs, strict=True)
            if not cost
        )
        self._hold: list[int | None] = [0]
        """By what they cost, what sticks of just that cost hold at most; None where there are
        none."""

    def first_from(self, cost: int) -> int:
        """The least that enough sticks can cost, from a cost on."""
        if self._needed <= 0 or not self._sticks:
            return cost
        least = max(cost, min(-(-self._needed * each // room) for each, room in self._sticks))
        for at in range(least, _MOST_COSTS):
            while len(self._hold) <= at:
                self._hold.append(self._most(len(self._hold)))
            held = self._hold[at]
            if held is not None and held >= self._needed:
                return at
        return least

    def _most(self, cost: int) -> int | None:
        held = [
            before + room
            for each, room in self._sticks
            if each <= cost and (before := self._hold[cost - each]) is not None
        ]
        return max(held, default=None)


_MOST_COSTS = 200_000
