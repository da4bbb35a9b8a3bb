"""A cutting job in whole numbers: weights, demands and bins on the coarsest exact grid."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from math import gcd, lcm

from joblog.cutting.columns import Bin
from joblog.cutting.effort import Effort
from joblog.cutting.knapsack import is_within
from joblog.cutting.regroup import Stock
from joblog.model import Piece, StockLength

MOST_PIECES = 20_000
"""Of one cut list."""


@dataclass(frozen=True, slots=True)
class Kind:
    """Sticks that are alike."""

    length: Fraction
    cost: Decimal | None
    offcut: bool
    pieces: int | None
    labels: tuple[str, ...]
    """Of each stick, where there are so many."""


@dataclass(frozen=True, slots=True)
class CutJob:
    """Pieces of one item that all fit into the stock, and how they are to be cut."""

    lines: tuple[Piece, ...]
    kinds: tuple[Kind, ...]
    kerf: Fraction
    useful: Fraction
    at_once: int

    def lengths(self) -> tuple[Fraction, ...]:
        return tuple(sorted({line.length for line in self.lines}, reverse=True))


@dataclass(frozen=True, slots=True)
class Grid:
    """The job in whole numbers. The last bin stands for stock that is missing, if it is there."""

    weights: tuple[int, ...]
    demands: tuple[int, ...]
    bins: tuple[Bin, ...]
    stock: tuple[Stock, ...]
    useful: int
    kerf: int
    cost_unit: Fraction
    coarse: bool
    weights_at_least: tuple[int, ...]
    bins_at_most: tuple[Bin, ...]


_FINEST = 100_000
"""Steps along a stick. Lengths that need more are rounded for the search, never in the plan."""


def grid_of(job: CutJob, effort: Effort) -> Grid:
    """Exact wherever a stick has no more steps than `_FINEST` or its pieces no more sums."""
    lengths = job.lengths()
    measures = [*lengths, *(kind.length for kind in job.kinds), job.kerf]
    scale = lcm(*(measure.denominator for measure in measures))
    unit = Fraction(gcd(*(int(measure * scale) for measure in measures)), scale)
    sizes = [kind.length + job.kerf for kind in job.kinds]
    steps = int(max(sizes) / unit)
    pieces: Counter[Fraction] = Counter()
    for line in job.lines:
        pieces[line.length] += line.pieces
    demands = [pieces[length] for length in lengths]
    coarse = not is_within(
        [int((length + job.kerf) / unit) for length in lengths], demands, steps, _FINEST, effort
    )
    if coarse:
        # No stick needs to be longer than all pieces together, with room for their rounding.
        total = sum(((length + job.kerf) * pieces[length] for length in lengths), Fraction(0))
        sizes = [min(size, 2 * total) for size in sizes]
        unit *= -(-int(max(sizes) / unit) // _FINEST)
    exact = [(length + job.kerf) / unit for length in lengths]
    capacities = [int(size / unit) for size in sizes]
    # Rounded up, a piece as long as the stock would not fit; it is alone in its stick anyway.
    weights = [min(-int(-weight // 1), max(capacities)) for weight in exact]
    costs, cost_unit = _costs(job.kinds)
    limits = [None if kind.pieces is None else min(kind.pieces, sum(demands)) for kind in job.kinds]
    bins = [Bin(*each) for each in zip(capacities, costs, limits, strict=True)]
    stock = [
        Stock(bin.capacity, bin.cost, bin.limit, kind.offcut)
        for bin, kind in zip(bins, job.kinds, strict=True)
    ]
    above = [
        Bin(-int(-size / unit // 1), bin.cost, bin.limit)
        for bin, size in zip(bins, sizes, strict=True)
    ]
    if not any(bin.limit is None and bin.capacity == max(capacities) for bin in bins):
        # No plan takes a missing stick while any other way is open.
        missing = 1 + sum(bin.cost * (sum(demands) if bin.limit is None else bin.limit)
                          for bin in bins)  # fmt: skip
        bins.append(Bin(max(capacities), missing))
        above.append(Bin(max(bin.capacity for bin in above), missing))
    return Grid(
        tuple(weights),
        tuple(demands),
        tuple(bins),
        tuple(stock),
        -int(-job.useful / unit // 1),
        -int(-job.kerf / unit // 1),
        cost_unit,
        coarse,
        tuple(int(weight) for weight in exact),
        tuple(above),
    )


def kinds_of(stock: Sequence[StockLength]) -> list[Kind]:
    """Offcuts first, shorter before longer, then new sticks from the longest."""
    alike: dict[tuple[bool, Fraction, Decimal | None], list[StockLength]] = defaultdict(list)
    for line in stock:
        if line.pieces != 0:
            alike[not line.offcut, line.length, None if line.offcut else line.cost].append(line)
    kinds = []
    for (new, length, cost), lines in alike.items():
        counts = [line.pieces for line in lines]
        some = [count for count in counts if count is not None]
        labels = tuple(
            line.label for line in lines for _ in range(min(line.pieces or 0, MOST_PIECES))
        )
        total = sum(some) if len(some) == len(counts) else None
        kinds.append(Kind(length, cost, not new, total, labels))
    return sorted(
        kinds,
        key=lambda kind: (not kind.offcut, kind.length if kind.offcut else -kind.length,
                          kind.cost or 0),
    )  # fmt: skip


def _costs(kinds: Sequence[Kind]) -> tuple[list[int], Fraction]:
    costs = [
        Fraction(0) if kind.offcut else kind.length if kind.cost is None else Fraction(kind.cost)
        for kind in kinds
    ]
    scale = lcm(*(cost.denominator for cost in costs))
    whole = [int(cost * scale) for cost in costs]
    unit = gcd(*whole) or 1
    return [cost // unit for cost in whole], Fraction(unit, scale)
