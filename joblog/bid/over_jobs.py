"""Closed jobs beside their bids, one a line; sums over those that have something in common, and
where the figures go from job to job."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from joblog.bid.became import became, doubts_of_all, hours_lacks
from joblog.model import (
    Bid,
    Closing,
    JobFigure,
    JobGroup,
    JobResult,
    JobTrend,
    OverJobs,
    Reconciliation,
    StockLine,
)
from joblog.quantity import money

ENOUGH = 8
"""Jobs that a trend takes at least. Chosen, not measured: of fewer, nearly any order of luck looks
like a trend to somebody."""
SURE = 0.95

SUMS = ("charged", "cost", "earned", "hours", "extras", "expenses", "miles")
"""Figures of a job that are added up over jobs."""
PER = {"earned_an_hour": ("earned", "hours"), "earned_a_foot": ("earned", "feet")}
"""One sum for each of another."""
AGAINST = {"material_over": ("material", "material_bid"), "hours_over": ("hours", "hours_bid")}
"""How much more than the bid, as a share of the bid: 0.1 is a tenth more."""
SHARES = {"wasted_share": ("wasted", "gone"), "unexplained_share": ("unexplained", "gone")}
"""One sum as a share of another."""
COMPARED = (*PER, *AGAINST, *SHARES)
"""What is compared from job to job, whatever their size."""


def over_jobs(
    closings: Iterable[tuple[Closing, Bid | None]], left_out: Sequence[tuple[str, str]] = ()
) -> OverJobs:
    """Every closed job with its bid, the oldest first; `left_out` are the others, with why.

    A job without a bid is a line too, with what is known of it.
    """
    results = tuple(sorted((_result(closing, bid) for closing, bid in closings), key=_in_time))
    return OverJobs(
        results,
        groups_of(results),
        tuple(trend(name, results) for name in COMPARED) if results else (),
        tuple(left_out),
    )


def figure(name: str, results: Iterable[JobResult]) -> JobFigure:
    """A sum, a rate or a share over those of the jobs that tell it."""
    if name in SUMS:
        known = [_of(one, name) for one in results]
        told = [value for value in known if value is not None]
        return JobFigure(name, sum(told, Fraction(0)) if told else None, len(told))
    over, under = {**PER, **AGAINST, **SHARES}[name]
    pairs = [(_of(one, over), _of(one, under)) for one in results]
    both = [(part, whole) for part, whole in pairs if part is not None and whole]
    if not both:
        return JobFigure(name, None, 0)
    found = sum(part for part, _ in both) / sum(whole for _, whole in both)
    return JobFigure(name, Fraction(found) - (name in AGAINST), len(both))


def trend(name: str, results: Sequence[JobResult]) -> JobTrend:
    """Where a figure goes from the first to the last of the jobs that tell it: the slope of Theil
    and Sen, the median of the slopes between any two jobs, with its interval from Kendall's tau
    (Sen, Journal of the American Statistical Association 63, 1968; from memory)."""
    told = [(one.day, found.value) for one in results if (found := figure(name, [one])).jobs]
    days = [day for day, _ in told]
    if len(told) < ENOUGH or days[0] == days[-1]:
        return JobTrend(name, len(told), *((days[0], days[-1]) if told else ()))
    from scipy.stats import theilslopes

    span = (days[-1] - days[0]).days
    at = [(day - days[0]).days / span for day in days]
    found = theilslopes([float(value or 0) for _, value in told], at, SURE)
    change, low, high = float(found[0]), float(found[2]), float(found[3])
    return JobTrend(name, len(told), days[0], days[-1], change, low, high, sure=low > 0 or high < 0)


def season(days: Collection[date]) -> str:
    """The season that most of these days lie in, the earlier one of two alike; "" of no days.

    The meteorological seasons of the north: common practice.
    """
    counted = Counter(_SEASONS[day.month % 12 // 3] for day in sorted(days))
    return counted.most_common(1)[0][0] if counted else ""


_SEASONS = ("winter", "spring", "summer", "fall")


def house(job: str) -> str:
    """Whose house a job is at: what stands before the first comma of its name, else the name."""
    return re.split(r"[,;:(]| - ", job)[0].strip() or job


# --- one job ------------------------------------------------------------------------------------


def _in_time(one: JobResult) -> tuple[date, str]:
    return one.day, one.job


def _result(closing: Closing, bid: Bid | None) -> JobResult:
    squared = closing.figures
    told, lacks = _told(squared), list(_told_lacks(squared))
    if bid is None:
        lacks += [(name, "it had no bid") for name in _OF_BID]
        lacks += [("extras", why) for why in _unpriced(squared)]
    else:
        of_bid, of_bid_lacks = _of_bid(bid, squared)
        told |= of_bid
        lacks += of_bid_lacks
    doubts = doubts_of_all(squared)
    if doubts:
        # One fact that cannot be, or waits for a decision, may be in any of them.
        lacks = [(name, "; ".join(doubts)) for name in _RESTING]
    unknown = {name for name, _ in lacks}
    known = {name: value for name, value in told.items() if name not in unknown}
    days = {day.day for day in squared.days} | {part.day for part in squared.parts if part.day}
    return JobResult(
        day=closing.day,
        job=closing.job,
        house=house(closing.job),
        season=season(tuple(days) or (closing.day,)),
        crew=squared.conditions.crew,
        lacks=tuple(dict.fromkeys(lacks)),
        items=sum(bool(line.entries or line.opening) for line in squared.stock),
        items_counted=sum(1 for _ in _counted(squared)),
        **known,  # type: ignore[arg-type]
    )


_OF_BID = ("charged", "cost", "earned", "material", "hours_bid", "feet")
_RESTING = (*_OF_BID, "hours", "gone", "wasted", "unexplained", "extras", "expenses", "miles")


def _told(squared: Reconciliation) -> dict[str, Decimal | Fraction | None]:
    """What the record says without a bid."""
    parts = list(_counted(squared))
    beside = squared.beside
    untold = max(squared.untold_hours or Fraction(0), Fraction(0))
    return {
        "hours": sum((task.actual for task in squared.tasks), untold),
        "gone": _sum(gone for gone, _, _ in parts) if parts else None,
        "wasted": _sum(wasted for _, wasted, _ in parts) if parts else None,
        "unexplained": _sum(lost for _, _, lost in parts) if parts else None,
        "extras": beside.to_charge.quantize(Decimal("0.01")),
        "expenses": beside.spent.quantize(Decimal("0.01")),
        "miles": beside.miles,
    }


def _told_lacks(squared: Reconciliation) -> Iterator[tuple[str, str]]:
    if not any(True for _ in _counted(squared)):
        for name in ("gone", "wasted", "unexplained"):
            yield name, "no item was both counted and priced"
    for lack in hours_lacks(squared):
        yield "hours", lack
    if not any(task.entries for task in squared.tasks) and not squared.untold_hours:
        yield "hours", "no hours were told"


def _unpriced(squared: Reconciliation) -> Iterator[str]:
    for line in squared.beside.lines:
        if line.kind == "extra" and line.price is None:
            yield f"nobody said what is charged for: {line.text}"


def _of_bid(
    bid: Bid, squared: Reconciliation
) -> tuple[dict[str, Decimal | Fraction | None], list[tuple[str, str]]]:
    """What the bid and the record say together, and what is not known of it, with why."""
    found = became(bid, squared)
    material = found.lines[0]
    hours = sum((one.hours for one in bid.beside if one.hours is not None), bid.hours)
    lacks = [("charged", why) for why in found.charged_lacks]
    lacks += [
        ("extras", f"nobody said what is charged for: {line.text}")
        for line in found.extra_lines
        if line.price is None
    ]
    lacks += [("cost", why) for line in found.lines for why in line.lacks]
    lacks += [("earned", why) for name, why in lacks if name != "extras"]
    lacks += [("material", why) for why in material.lacks]
    lacks += [("hours_bid", "the bid has no hours")] if not hours else []
    lacks += [("feet", "the bid does not say how many feet")] if not found.feet else []
    told: dict[str, Decimal | Fraction | None] = {
        "charged": found.charged,
        "cost": found.cost,
        "earned": found.earned,
        "hours_bid": hours,
        "feet": found.feet,
        "material": material.real,
        "material_bid": material.bid,
        "extras": found.extras,
    }
    if any(item.cost is None and item.charged for item in bid.items):
        lacks.append(("material_bid", "the bid lacks prices"))
    return told, lacks


def _counted(squared: Reconciliation) -> Iterator[tuple[Decimal, Decimal, Decimal]]:
    """Of every item that was counted and priced, at what it cost: gone, wasted, unexplained."""
    for line in squared.stock:
        if line.entries and line.actual_cost is not None and line.consumed is not None:
            yield _in_money(line, line.actual_cost, line.consumed)


def _in_money(
    line: StockLine, cost: Decimal, consumed: Fraction
) -> tuple[Decimal, Decimal, Decimal]:
    each = Fraction(cost) / consumed if consumed else Fraction(0)
    return cost, money(line.spoiled * each), money((line.unaccounted or Fraction(0)) * each)


# --- many jobs ----------------------------------------------------------------------------------


def groups_of(results: Sequence[JobResult]) -> tuple[JobGroup, ...]:
    """All of them together, then by season, by crew, by house."""
    return tuple(_groups(results))


def _groups(results: Sequence[JobResult]) -> Iterator[JobGroup]:
    if not results:
        return
    yield _group("all", "all jobs", results)
    for by, of in _BY.items():
        names: dict[str, list[JobResult]] = {}
        shown: dict[str, str] = {}
        for one in results:
            name = shown.setdefault(of(one).casefold(), of(one))
            names.setdefault(name, []).append(one)
        for name in sorted(names, key=lambda name: _order(by, name)):
            yield _group(by, name, names[name])


By = Literal["all", "season", "crew", "house"]


def _group(by: By, name: str, of: Sequence[JobResult]) -> JobGroup:
    figures = tuple(figure(one, of) for one in (*SUMS, *COMPARED))
    return JobGroup(by, name, tuple(one.job for one in of), figures)


def _crew(one: JobResult) -> str:
    if one.crew is None:
        return "crew not known"
    return "alone" if one.crew == 1 else f"{one.crew} people"


_BY: Mapping[By, Callable[[JobResult], str]] = {
    "season": lambda one: one.season,
    "crew": _crew,
    "house": lambda one: one.house,
}


def _order(by: By, name: str) -> tuple[int, str]:
    if by == "season":
        return _SEASONS.index(name), name
    if by == "crew":
        return (0 if name == "alone" else int(name.split()[0]) if name[0].isdigit() else 10**9), ""
    return 0, name.casefold()


def _of(one: JobResult, name: str) -> Fraction | None:
    value = getattr(one, name)
    return None if value is None else Fraction(value)


def _sum(amounts: Iterable[Decimal]) -> Decimal:
    return sum(amounts, Decimal("0.00"))
