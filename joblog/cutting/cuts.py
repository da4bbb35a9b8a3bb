"""The cut list: which pieces come out of which stick, with the least stock."""

from __future__ import annotations

from collections import Counter, defaultdict, deque
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from math import gcd, lcm

from joblog.cutting.effort import Effort
from joblog.cutting.knapsack import is_within
from joblog.cutting.packing import Bin, Packing, Pattern, least_cost, pack
from joblog.cutting.regroup import Stock, Wish, regroup
from joblog.cutting.saw import saw_order
from joblog.model import Cut, CutPlan, Piece, Problem, Stick, StockLength
from joblog.quantity import feet_and_inches

KERF = Fraction(1, 8)
"""Common practice: what a framing blade takes, in inches."""
USEFUL = Fraction(24)
"""Inches; a stated default, not a rule."""
MOST_PIECES = 5000
DEAREST = Decimal(10_000)


def plan_cuts(
    wanted: Sequence[Piece],
    stock: Sequence[StockLength],
    *,
    kerf: Fraction = KERF,
    useful: Fraction = USEFUL,
    lap: Fraction | None = None,
    at_once: int = 1,
    effort: float = 1,
) -> tuple[CutPlan, tuple[Problem, ...]]:
    """The plan, and a problem for every line that cannot be cut, which is then left out.

    The least cost of new sticks comes first, or their least length where they have no cost; then
    as much as possible out of offcuts on hand, the fewest different patterns, with `at_once` above
    1 the fewest loads of the saw, and the longest offcuts. The search ends with its proof, or
    after `effort` times the usual work; then `at_least` says how far it may be from the best. The
    same question gives the same plan, however fast the machine is.

    With `lap`, a piece longer than any stock is a run made of whole sticks that lap by so much:
    the longest of which there is any number.
    Raises ValueError for stock, kerf or remainder that make no sense, and for pieces of more than
    one item.
    """
    if wanted and not any(line.pieces is None or line.pieces > 0 for line in stock):
        raise ValueError("there is no stock to cut from; name a stock length")
    _check_stock(stock, kerf, useful, lap, at_once)
    items = sorted({line.item or "" for line in wanted})
    if len(items) > 1:
        raise ValueError(f"{', '.join(items)}: each item needs a cut list of its own")
    work = Effort(effort)
    lines, problems = _cuttable(wanted, stock, lap)
    job = _Job(tuple(lines), tuple(_kinds(stock)), kerf, useful, at_once)
    if not lines:
        return _nothing(job), tuple(problems)
    grid = _grid(job)
    packing = pack(grid.weights, grid.demands, grid.bins, work)
    if grid.coarse:
        heavy = [pair for pair in zip(grid.weights_at_least, grid.demands, strict=True) if pair[0]]
        weights, demands = zip(*heavy, strict=True) if heavy else ((), ())
        bound = least_cost(weights, demands, grid.bins_at_most, work) if heavy else 0
        packing = replace(packing, bound=min(bound, packing.cost))
    short, packing = _without_missing(job, packing)
    wish = Wish(grid.useful, grid.kerf, at_once)
    patterns, proved = regroup(grid.weights, grid.stock, packing.patterns, wish, work)
    plan = _plan(job, grid, packing, patterns, short)
    finished = proved and plan.proved and not grid.coarse
    problems += [
        Problem(line.source or line.label or "cut list", _no_stock(line)) for line in plan.short
    ]
    return replace(plan, patterns_proved=finished), tuple(problems)


def fewest_sticks(
    wanted: Sequence[Piece], length: Fraction, *, kerf: Fraction = KERF, effort: float = 1
) -> tuple[int, tuple[Problem, ...]]:
    """How few sticks of one length hold the pieces, and a problem for each that is too long.

    The least possible, or the best found in `effort` times the usual work. Raises as `plan_cuts`.
    """
    stock = [StockLength(length)]
    _check_stock(stock, kerf, Fraction(0), None, 1)
    lines, problems = _cuttable(wanted, stock, None)
    if not lines:
        return 0, tuple(problems)
    grid = _grid(_Job(tuple(lines), tuple(_kinds(stock)), kerf, Fraction(0), 1))
    packing = pack(grid.weights, grid.demands, grid.bins, Effort(effort))
    return sum(packing.patterns.values()), tuple(problems)


# --- what can be cut at all ---------------------------------------------------------------------


def _check_stock(
    stock: Sequence[StockLength],
    kerf: Fraction,
    useful: Fraction,
    lap: Fraction | None,
    at_once: int,
) -> None:
    for line in stock:
        named = feet_and_inches(line.length)
        if line.length <= 0:
            raise ValueError(f"stock of {named}: a stock length must be above zero")
        if line.pieces is not None and line.pieces < 0:
            raise ValueError(f"stock of {named}: there cannot be {line.pieces} of it")
        if line.cost is not None and not 0 < line.cost <= DEAREST:
            raise ValueError(f"stock of {named}: a cost is above 0, up to {DEAREST:,}")
    new = [line for line in stock if not line.offcut]
    if any(line.cost is None for line in new) and any(line.cost is not None for line in new):
        raise ValueError("give a cost for every stock length, or for none")
    if kerf < 0 or useful < 0:
        raise ValueError("the kerf and the useful remainder cannot be below zero")
    if lap is not None and stock and not 0 <= lap < _for_runs(stock):
        raise ValueError("a lap is from zero to less than the stock length")
    if at_once not in (1, 2):
        raise ValueError("one stick or two are cut at once")


def _cuttable(
    wanted: Sequence[Piece], stock: Sequence[StockLength], lap: Fraction | None
) -> tuple[list[Piece], list[Problem]]:
    longest = max((line.length for line in stock if line.pieces != 0), default=Fraction(0))
    lines: list[Piece] = []
    problems: list[Problem] = []
    count = 0
    for line in wanted:
        parts = [line]
        why = ""
        if line.length <= 0:
            why = "a piece must be longer than zero"
        elif line.pieces <= 0:
            why = f"{line.pieces} pieces is no number to cut; it must be 1 or more"
        elif line.length > longest and lap is None:
            why = (
                f"{feet_and_inches(line.length)} is longer than the longest stock, "
                f"{feet_and_inches(longest)}"
            )
        elif line.length > longest and lap is not None:
            parts = _lapped(line, _for_runs(stock), lap)
        count += sum(part.pieces for part in parts) if not why else 0
        if not why and count > MOST_PIECES:
            why = f"is beyond {MOST_PIECES:,} pieces; cut the list in parts"
            count -= sum(part.pieces for part in parts)
        if why:
            problems.append(Problem(line.source or line.label or "cut list", why))
        else:
            lines += parts
    return lines, problems


def _for_runs(stock: Sequence[StockLength]) -> Fraction:
    """The longest stick that does not run out, else the longest of all."""
    endless = [line.length for line in stock if line.pieces is None]
    return max(endless or [line.length for line in stock])


def _lapped(line: Piece, longest: Fraction, lap: Fraction) -> list[Piece]:
    """Whole sticks, and one last piece that covers the rest and its lap."""
    whole, rest = divmod(line.length - lap, longest - lap)
    run = f"run of {feet_and_inches(line.length)}"
    label = f"{line.label}, {run}" if line.label else run
    parts = [replace(line, length=longest, pieces=int(whole) * line.pieces, label=label)]
    if rest:
        parts.append(replace(line, length=rest + lap, label=label))
    return parts


def _no_stock(line: Piece) -> str:
    pieces = "1 piece" if line.pieces == 1 else f"{line.pieces} pieces"
    return f"no stock is left for {pieces} of {feet_and_inches(line.length)}"


# --- on whole numbers ---------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Kind:
    """Sticks that are alike."""

    length: Fraction
    cost: Decimal | None
    offcut: bool
    pieces: int | None
    labels: tuple[str, ...]
    """Of each stick, where there are so many."""


@dataclass(frozen=True, slots=True)
class _Job:
    lines: tuple[Piece, ...]
    kinds: tuple[_Kind, ...]
    kerf: Fraction
    useful: Fraction
    at_once: int

    def lengths(self) -> tuple[Fraction, ...]:
        return tuple(sorted({line.length for line in self.lines}, reverse=True))


def _kinds(stock: Sequence[StockLength]) -> list[_Kind]:
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
        kinds.append(_Kind(length, cost, not new, total, labels))
    return sorted(
        kinds,
        key=lambda kind: (not kind.offcut, kind.length if kind.offcut else -kind.length,
                          kind.cost or 0),
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Grid:
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


def _grid(job: _Job) -> _Grid:
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
        [int((length + job.kerf) / unit) for length in lengths], demands, steps, _FINEST
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
    return _Grid(
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


def _costs(kinds: Sequence[_Kind]) -> tuple[list[int], Fraction]:
    costs = [
        Fraction(0) if kind.offcut else kind.length if kind.cost is None else Fraction(kind.cost)
        for kind in kinds
    ]
    scale = lcm(*(cost.denominator for cost in costs))
    whole = [int(cost * scale) for cost in costs]
    unit = gcd(*whole) or 1
    return [cost // unit for cost in whole], Fraction(unit, scale)


def _without_missing(job: _Job, packing: Packing) -> tuple[list[int], Packing]:
    """How many pieces of each length no stock is left for, and the packing without them."""
    missing = len(job.kinds)
    short = [0] * len(job.lengths())
    kept: Counter[Pattern] = Counter()
    for (bin, counts), times in packing.patterns.items():
        if bin == missing:
            short = [total + count * times for total, count in zip(short, counts, strict=True)]
        else:
            kept[bin, counts] = times
    return short, replace(packing, patterns=kept)


# --- back to sticks -----------------------------------------------------------------------------


def _plan(
    job: _Job, grid: _Grid, packing: Packing, patterns: Counter[Pattern], short: Sequence[int]
) -> CutPlan:
    lengths = job.lengths()
    labels = _labels(job.lines)
    ranked = sorted(patterns, key=lambda pattern: (pattern[0], [-count for count in pattern[1]]))
    on_hand = sum(job.kinds[bin].offcut for bin, _ in ranked)
    # A stick that is used whole needs no setting of the fence.
    turns, settings = saw_order(
        [
            [
                length
                for length, count in zip(lengths, counts, strict=True)
                if count and length < job.kinds[bin].length
            ]
            for bin, counts in ranked
        ],
        on_hand,
    )
    names = [deque(kind.labels) for kind in job.kinds]
    sticks: list[Stick] = []
    load = 0
    for turn in turns:
        bin, counts = pattern = ranked[turn.pattern]
        amount = dict(zip(lengths, counts, strict=True))
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


def _nothing(job: _Job) -> CutPlan:
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


def _spare(kinds: Sequence[_Kind], names: Sequence[deque[str]]) -> tuple[StockLength, ...]:
    """Offcuts that were not taken: each has its name left over."""
    return tuple(
        StockLength(kind.length, count, offcut=True, label=label)
        for kind, left in zip(kinds, names, strict=True)
        if kind.offcut
        for label, count in Counter(left).items()
    )


def _least(packing: Packing, grid: _Grid, spent: Fraction, missing: tuple[Piece, ...]) -> Fraction:
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
    job: _Job, kind: _Kind, cut: Sequence[Fraction], labels: Sequence[str], name: str, load: int
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


def _cost(kind: _Kind) -> Fraction:
    if kind.offcut:
        return Fraction(0)
    return kind.length if kind.cost is None else Fraction(kind.cost)
