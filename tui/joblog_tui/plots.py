"""What the plots show, before anything is drawn: bars against the plan, and jobs over time."""

from __future__ import annotations

from collections.abc import Container, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from joblog.form import plain, units_of
from joblog.model import RateKind, Reconciliation, StockLine
from joblog.report import over_jobs
from joblog.report.figures import gone
from joblog.report.learned import rate_between as span
from joblog.report.learned import rate_shown as figure
from joblog.service.learning import RateLine

if TYPE_CHECKING:
    from joblog.service.learning import JobRate


@dataclass(frozen=True, slots=True)
class Bar:
    """One item: what is gone as a share of what was planned; `sure` to `perhaps` is not known."""

    label: str
    sure: float
    perhaps: float


@dataclass(frozen=True, slots=True)
class Bars:
    """Planned against gone; the plan is 1."""

    bars: tuple[Bar, ...]
    caption: str


@dataclass(frozen=True, slots=True)
class Point:
    day: date
    value: float
    odd: bool


@dataclass(frozen=True, slots=True)
class Course:
    """A rate, job by job, over the time: with what was learned of them all."""

    kind: RateKind
    points: tuple[Point, ...]
    low: float
    mean: float
    high: float
    caption: str


@dataclass(frozen=True, slots=True)
class OverTime:
    """A figure of the jobs over the time; those that are `odd` stand out."""

    name: str
    points: tuple[Point, ...]
    line: tuple[float, float] | None
    """Where the trend begins and ends; None where there is none."""
    caption: str


Plot = Bars | Course | OverTime


def planned_against_gone(squared: Reconciliation) -> Bars:
    """A bar for every item that was planned."""
    planned = [line for line in squared.stock if line.planned]
    more = [plain(line.item) for line in squared.stock if not line.planned]
    unplanned = f" Not in the plan: {', '.join(more)}." if more else ""
    return Bars(
        tuple(map(_bar, planned)),
        f"█ gone, ? may be gone (nobody counted what was left), │ planned.{unplanned}",
    )


def _bar(line: StockLine) -> Bar:
    planned = float(line.planned or 1)
    if line.consumed is not None:
        sure = perhaps = float(line.consumed)
    else:
        sure, perhaps = float(line.at_least), float(max(line.at_least, line.at_most))
    label = (
        f"{plain(line.item)}: {gone(line)} of {units_of(line.planned, plain(line.unit), line.item)}"
    )
    return Bar(label, max(sure, 0.0) / planned, max(perhaps, 0.0) / planned)


def course(line: RateLine, jobs: Sequence[JobRate]) -> Course:
    """The jobs of an item or task, the oldest first, and the rate that was learned of them."""
    spread = line.interval or line.next_job
    where = "the average" if line.interval else "the next job"
    some = "o a job" if jobs else "no job yet"
    odd = "  X one unlike the others, counts for less" if any(job.odd for job in jobs) else ""
    return Course(
        line.kind,
        tuple(Point(job.day, job.value, job.odd) for job in jobs),
        spread.low,
        line.mean,
        spread.high,
        f"{some}{odd}  = average {figure(line.kind, line.mean)}  "
        f"- {where} 4 times in 5: {span(line.kind, spread.low, spread.high)}",
    )


def over_time(found: over_jobs.Course, marked: Container[str] = ()) -> OverTime:
    """The jobs that tell a figure, the oldest first; those that are named are marked."""
    points = tuple(Point(day, value, job in marked) for day, value, job in found.points)
    some = "o a job" if points else "no job tells it"
    chosen = "  X of those chosen" if any(point.odd for point in points) else ""
    trend = "  - the trend" if found.line else ""
    return OverTime(found.name, points, found.line, f"{some}{chosen}{trend}")
