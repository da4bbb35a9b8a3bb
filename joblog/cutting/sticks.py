"""From patterns back to sticks: every cut with its label and its mark, in the order for the saw."""

from __future__ import annotations

from collections import Counter, defaultdict, deque
from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction

from joblog.cutting.columns import Pattern
from joblog.cutting.effort import Effort
from joblog.cutting.grid import CutJob, Grid, Kind
from joblog.cutting.packing import Packing
from joblog.cutting.saw import saw_order
from joblog.model import Cut, CutPlan, Piece, Stick, StockLength


def plan_of(
    job: CutJob,
    grid: Grid,
    packing: Packing,
    patterns: Counter[Pattern],
    short: Sequence[int],
    work: Effort,
) -> CutPlan:
    lengths = job.lengths()
    labels = _labels(job.lines)
    ranked = sorted(patterns, key=lambda pattern: (pattern[0], [-count for count in pattern[1]]))
    on_hand = sum(job.kinds[bin].offcut for bin, _ in ranked)
    # A stick that is used whole needs no setting of the fence.
    turns, settings = saw_order(
        [
            [
                lengths[at]
                for at, count in enumerate(counts)
                if count and lengths[at] < job.kinds[bin].length
            ]
            for bin, counts in ranked
        ],
        on_hand,
        work,
    )
    names = [deque(kind.labels) for kind in job.kinds]
    sticks: list[Stick] = []
    load = 0
    for turn in turns:
        bin, counts = pattern = ranked[turn.pattern]
        amount = {lengths[at]: count for at, count in enumerate(counts) if count}
        order = turn.lengths or [job.kinds[bin].length]
        cut = [length for length in order for _ in range(amount[length])]
        # Each length goes through all sticks of the pattern at one setting of the fence.
        given = _given(cut, patterns[pattern], labels)
        for number in range(patterns[pattern]):
            load += number % job.at_once == 0
            name = names[bin].popleft() if names[bin] else ""
            sticks.append(_stick(job, job.kinds[bin], cut, given[number], name, load))
    missing = _short(lengths, short, labels)
    spent = sum(
        (_cost(job.kinds[bin]) * times for (bin, _), times in patterns.items()), Fraction(0)
    )
    return CutPlan(
        sticks=tuple(sticks),
        kerf=job.kerf,
        useful=job.useful,
        spent=spent,
        at_least=_least(packing, grid, spent, missing),
        priced=any(kind.cost is not None for kind in job.kinds),
        patterns=len(patterns),
        settings=settings,
        at_once=job.at_once,
        short=missing,
        spare=_spare(job.kinds, names),
        item=job.lines[0].item,
    )


def plan_of_nothing(job: CutJob) -> CutPlan:
    return CutPlan(
        (),
        job.kerf,
        job.useful,
        Fraction(0),
        Fraction(0),
        patterns_proved=True,
        at_once=job.at_once,
        spare=_spare(job.kinds, [deque(kind.labels) for kind in job.kinds]),
    )


def _spare(kinds: Sequence[Kind], names: Sequence[deque[str]]) -> tuple[StockLength, ...]:
    """Offcuts that were not taken: each has its name left over."""
    return tuple(
        StockLength(kind.length, count, offcut=True, label=label)
        for kind, left in zip(kinds, names, strict=True)
        if kind.offcut
        for label, count in Counter(left).items()
    )


def _least(packing: Packing, grid: Grid, spent: Fraction, missing: tuple[Piece, ...]) -> Fraction:
    if missing:
        # The cost of what there is says little while pieces are short; only a proof counts.
        return spent if packing.cost == packing.bound else Fraction(0)
    return min(spent, packing.bound * grid.cost_unit)


def _labels(lines: Iterable[Piece]) -> dict[Fraction, deque[Piece]]:
    """For each length its pieces one by one, in the order of the list."""
    labels: dict[Fraction, deque[Piece]] = defaultdict(deque)
    for line in lines:
        labels[line.length].extend([replace(line, pieces=1)] * line.pieces)
    return labels


def _given(
    cut: Sequence[Fraction], sticks: int, labels: dict[Fraction, deque[Piece]]
) -> list[list[str]]:
    given: list[list[str]] = [[] for _ in range(sticks)]
    for length in cut:
        for stick in given:
            stick.append(labels[length].popleft().label)
    return given


def _stick(
    job: CutJob, kind: Kind, cut: Sequence[Fraction], labels: Sequence[str], name: str, load: int
) -> Stick:
    cuts = []
    at = Fraction(0)
    for length, label in zip(cut, labels, strict=True):
        cuts.append(Cut(length, at + length, label))
        at += length + job.kerf
    remainder = max(Fraction(0), kind.length - at)
    kerf = kind.length - sum(cut, Fraction(0)) - remainder
    kept = remainder > 0 and remainder >= job.useful
    return Stick(kind.length, tuple(cuts), kerf, remainder, kept, kind.offcut, name, load)


def _short(
    lengths: Sequence[Fraction], short: Sequence[int], labels: dict[Fraction, deque[Piece]]
) -> tuple[Piece, ...]:
    missing = Counter(
        labels[length].popleft()
        for length, count in zip(lengths, short, strict=True)
        for _ in range(count)
    )
    return tuple(replace(line, pieces=pieces) for line, pieces in missing.items())


def _cost(kind: Kind) -> Fraction:
    if kind.offcut:
        return Fraction(0)
    return kind.length if kind.cost is None else Fraction(kind.cost)
