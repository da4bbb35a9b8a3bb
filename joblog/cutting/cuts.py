"""The cut list: which pieces come out of which stick, with the least stock."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from joblog.cutting.columns import Pattern
from joblog.cutting.effort import Effort
from joblog.cutting.grid import MOST_PIECES, CutJob, Grid, grid_of, kinds_of
from joblog.cutting.packing import Packing, least_cost, pack
from joblog.cutting.regroup import Wish, regroup
from joblog.cutting.sticks import plan_of, plan_of_nothing
from joblog.model import CutPlan, Piece, Problem, StockLength
from joblog.quantity import feet_and_inches

KERF = Fraction(1, 8)
"""Common practice: what a framing blade takes, in inches."""
USEFUL = Fraction(24)
"""Inches; a stated default, not a rule."""
DEAREST = Decimal(10_000)
MOST_EFFORT, MOST_SECONDS = 200, 86_400


def plan_cuts(
    wanted: Sequence[Piece],
    stock: Sequence[StockLength],
    *,
    kerf: Fraction = KERF,
    useful: Fraction = USEFUL,
    lap: Fraction | None = None,
    at_once: int = 1,
    effort: float | None = None,
    seconds: float | None = None,
) -> tuple[CutPlan, tuple[Problem, ...]]:
    """The plan, and a problem for every line that cannot be cut, which is then left out.

    The least cost of new sticks comes first, or their least length where they have no cost; then
    as much as possible out of offcuts on hand, the fewest different patterns, with `at_once` above
    1 the fewest loads of the saw, and the longest offcuts. The search ends with its proof, or
    after `effort` times the usual work; then `at_least` says how far it may be from the best, and
    `stopped` why. The same question gives the same plan, however fast the machine is. Only with
    `seconds` does a clock end it, after about so many; the work is then endless unless it is said.

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
    _check_limits(effort, seconds)
    lines, problems = _cuttable(wanted, stock, lap)
    job = CutJob(tuple(lines), tuple(kinds_of(stock)), kerf, useful, at_once)
    if not lines:
        return plan_of_nothing(job), tuple(problems)
    count = sum(line.pieces for line in lines)
    work = Effort(
        effort, None if seconds is None else seconds - _reserve(count, len(job.lengths()))
    )
    with work.only(_FOR_PACKING):
        grid, packing = _packed(job, work)
    short, packing = _without_missing(job, packing)
    wish = Wish(grid.useful, grid.kerf, at_once)
    with work.only(_FOR_REGROUPING):
        patterns, proved = regroup(grid.weights, grid.stock, packing.patterns, wish, work)
    plan = plan_of(job, grid, packing, patterns, short, work)
    finished = proved and plan.proved and not grid.coarse
    problems += [
        Problem(line.source or line.label or "cut list", _no_stock(line)) for line in plan.short
    ]
    stopped = "" if plan.proved and finished else _why(work, effort, seconds)
    return replace(plan, patterns_proved=finished, stopped=stopped), tuple(problems)


def _reserve(pieces: int, lengths: int) -> float:
    """Seconds that are kept back to write a plan down once it is found."""
    return _A_PIECE * pieces + _A_PAIR * lengths**2


_A_PIECE, _A_PAIR = 3e-5, 5e-7
_FOR_PACKING, _FOR_REGROUPING = 0.8, 0.8
"""Of the time that is left: the least stock comes first, but not alone."""


def _packed(job: CutJob, work: Effort) -> tuple[Grid, Packing]:
    grid = grid_of(job, work)
    packing = pack(grid.weights, grid.demands, grid.bins, work)
    if grid.coarse:
        heavy = [pair for pair in zip(grid.weights_at_least, grid.demands, strict=True) if pair[0]]
        weights, demands = zip(*heavy, strict=True) if heavy else ((), ())
        bound = least_cost(weights, demands, grid.bins_at_most, work) if heavy else 0
        packing = replace(packing, bound=min(bound, packing.cost))
    return grid, packing


def _why(work: Effort, effort: float | None, seconds: float | None) -> str:
    if work.was_late and seconds is not None:
        return f"after {seconds:.3g} {'second' if seconds == 1 else 'seconds'}"
    if not work.was_spent:
        return ""
    return (
        f"after {effort:.3g} times the usual search"
        if effort not in (None, 1)
        else "after the usual search"
    )


def fewest_sticks(
    wanted: Sequence[Piece], length: Fraction, *, kerf: Fraction = KERF, effort: float | None = None
) -> tuple[int, tuple[Problem, ...]]:
    """How few sticks of one length hold the pieces, and a problem for each that is too long.

    The least possible, or the best found in `effort` times the usual work. Raises as `plan_cuts`.
    """
    stock = [StockLength(length)]
    _check_stock(stock, kerf, Fraction(0), None, 1)
    lines, problems = _cuttable(wanted, stock, None)
    if not lines:
        return 0, tuple(problems)
    work = Effort(effort)
    grid = grid_of(CutJob(tuple(lines), tuple(kinds_of(stock)), kerf, Fraction(0), 1), work)
    packing = pack(grid.weights, grid.demands, grid.bins, work)
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


def _check_limits(effort: float | None, seconds: float | None) -> None:
    if effort is not None and not 0 <= effort <= MOST_EFFORT:
        raise ValueError(f"the effort is from 0 to {MOST_EFFORT}")
    if seconds is not None and not 0 < seconds <= MOST_SECONDS:
        raise ValueError(f"the seconds are above 0, up to {MOST_SECONDS:,}")


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


def _without_missing(job: CutJob, packing: Packing) -> tuple[list[int], Packing]:
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
