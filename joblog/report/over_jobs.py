"""Jobs beside each other, as text and as tables for CSV: one a line, in groups, and over time."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from statistics import median

from joblog.bid.over_jobs import AGAINST, COMPARED, ENOUGH, PER, figure
from joblog.form import WORDS, amount, plain
from joblog.local import day_written, money_written
from joblog.model import JobFigure, JobGroup, JobResult, JobTrend, OverJobs
from joblog.quantity import money, tape
from joblog.report.table import Shown, Table, as_text

NAMES = {
    "charged": "charged",
    "cost": "cost",
    "earned": "earned",
    "earned_an_hour": "earned an hour",
    "earned_a_foot": "earned a foot",
    "material": "material",
    "material_bid": "material in the bid",
    "material_over": "material against the bid",
    "hours": WORDS["crew_hours"],
    "hours_bid": f"{WORDS['crew_hours']} in the bid",
    "hours_over": "hours against the bid",
    "feet": "feet",
    "gone": "material gone",
    "wasted": WORDS["spoiled"],
    "unexplained": WORDS["unaccounted"],
    "wasted_share": WORDS["spoiled"],
    "unexplained_share": WORDS["unaccounted"],
    "extras": "extras",
    "expenses": "expenses",
    "miles": "miles",
}
"""What the figures are called, wherever they stand."""
HEADS = {
    "earned_an_hour": "an hour",
    "earned_a_foot": "a foot",
    "material_over": "material",
    "hours_over": "hours",
}
"""The same over a narrow column."""
PLOTTED = ("earned_an_hour", "hours_over", "wasted_share")
BY = {"season": "by season", "crew": "by crew", "house": "by house"}


def jobs_sheet(found: OverJobs, width: int = 100) -> str:
    """The jobs, what they came to together, by season, crew and house, and where it goes."""
    if not found.results:
        parts = ["No job is closed yet, so there is nothing to compare."]
        return "\n\n".join([*parts, *_wrapped(left_out_lines(found), width)])
    parts = [
        as_text(earned_table(found.results), width),
        as_text(spent_table(found.results), width),
    ]
    parts += [as_text(group_table(found, by), width) for by in BY]
    parts += _wrapped(what_it_means(found), width)
    parts += _wrapped(trend_lines(found), width)
    parts += _wrapped(unknown_lines(found.results), width)
    parts += _wrapped(left_out_lines(found), width)
    return "\n\n".join(parts)


# --- the jobs -----------------------------------------------------------------------------------


def earned_table(results: Sequence[JobResult]) -> Table:
    """What each job was charged, cost and earned; all of them together below."""
    names = ("charged", "cost", "earned", *PER)
    rows = [(_day(one.day), one.job, *(of_job(one, name) for name in names)) for one in results]
    rows.append(("", "together", *(cell(figure(name, results), len(results)) for name in names)))
    heads = tuple(HEADS.get(name, NAMES[name]) for name in names)
    return Table(("day", "job", *heads), tuple(rows), right=frozenset(heads))


def spent_table(results: Sequence[JobResult]) -> Table:
    """What each job took against its bid, lost, and had beside it."""
    names = ("hours_over", "material_over", "wasted_share", "unexplained_share",
             "extras", "expenses", "miles")  # fmt: skip
    rows = [(one.job, crew_cell(one), *(of_job(one, name) for name in names)) for one in results]
    rows.append(("together", "", *(cell(figure(name, results), len(results)) for name in names)))
    heads = ("crew", *(HEADS.get(name, NAMES[name]) for name in names))
    return Table(("job", *heads), tuple(rows), right=frozenset(heads))


def crew_cell(one: JobResult) -> str:
    return "?" if one.crew is None else str(one.crew)


def of_job(one: JobResult, name: str) -> str:
    """One figure of one job."""
    shown = cell(figure(name, [one]))
    partly = name in _OF_ITEMS and shown != "?" and one.items_counted < one.items
    return f"{shown}{PARTLY}" if partly else shown


_OF_ITEMS = ("wasted_share", "unexplained_share")
PARTLY = "*"
"""Stands behind a share that is not of all items."""


def group_table(found: OverJobs, by: str) -> Table:
    """The jobs in groups. Behind a figure, how many jobs tell it, where not all do."""
    names = ("earned", *COMPARED)
    rows = [
        (group.name, str(len(group.jobs)), *(_of_group(name, group) for name in names))
        for group in found.groups
        if group.by == by
    ]
    heads = ("jobs", *(HEADS.get(name, NAMES[name]) for name in names))
    return Table((BY[by], *heads), tuple(rows), right=frozenset(heads))


def _of_group(name: str, group: JobGroup) -> str:
    [one] = [one for one in group.figures if one.name == name]
    return cell(one, len(group.jobs))


def _told_by_some(group: JobGroup) -> Iterator[JobFigure]:
    shown = (one for one in group.figures if one.name in ("earned", *COMPARED))
    yield from (one for one in shown if 0 < one.jobs < len(group.jobs))


def cell(one: JobFigure, jobs: int = 1) -> str:
    """A figure, with the number of jobs behind it where it is not told by all of them."""
    if one.value is None:
        return Shown("?", "")
    shown = shown_as(one.name, float(one.value))
    if one.name not in COMPARED:
        shown = _sum(one)
    return Shown(f"{shown} ({one.jobs})" if one.jobs < jobs else shown, _exact(one))


def _sum(one: JobFigure) -> str:
    value = one.value or Fraction(0)
    return amount(value) if one.name in ("hours", "miles") else _money(value)


def _money(value: Fraction) -> str:
    return money_written(money(value), bare=True)


def shown_as(name: str, value: float) -> str:
    """A compared figure for a person: money, or a share in whole percent."""
    if name in PER:
        return money_written(Decimal(str(round(value, 2))).quantize(Decimal("0.01")), bare=True)
    percent = round(100 * value)
    sign = "+" if name in AGAINST and percent > 0 else ""
    return f"{sign}{percent} %"


def _exact(one: JobFigure) -> str:
    value = one.value
    if value is None:
        return ""
    if one.name in COMPARED:
        return f"{float(value):.4f}"
    return tape(value) if one.name in ("hours", "miles") else f"{money(value):f}"


# --- in words -----------------------------------------------------------------------------------


def what_it_means(found: OverJobs) -> Iterator[str]:
    """What stands behind the signs of the tables."""
    yield (
        "Hours and material are against the bid: +10 % is a tenth more than was bid. Wasted and "
        "unexplained are shares of the material that is gone, in money."
    )
    if any(one.items_counted < one.items and one.gone is not None for one in found.results):
        yield f"{PARTLY} of those items only that were counted and priced."
    figures = [one for group in found.groups for one in _told_by_some(group)]
    if figures:
        yield f"({figures[0].jobs}) behind a figure: so many jobs tell it, and the others do not."
    yield "Winter is December to February, and so on; a house is named before the comma of its job."


def trend_lines(found: OverJobs) -> Iterator[str]:
    """Where the figures go; a trend only where it could hardly be luck."""
    few = [one for one in found.trends if one.change is None]
    unsure = [one for one in found.trends if one.change is not None and not one.sure]
    yield from (trend_words(one) for one in found.trends if one.sure)
    if unsure:
        named = ", ".join(f"{NAMES[one.name]} ({one.jobs} jobs)" for one in unsure)
        yield f"No trend that might not be luck: {named}."
    if few:
        named = ", ".join(f"{NAMES[one.name]} ({one.jobs})" for one in few)
        yield f"Too few jobs to tell a trend, which takes {ENOUGH}: {named}."


def trend_words(one: JobTrend) -> str:
    """Where one figure goes, in a sentence."""
    name = f"{NAMES[one.name][0].upper()}{NAMES[one.name][1:]}"
    if one.change is None or one.low is None or one.high is None or not (one.first and one.last):
        return f"{name}: too few jobs to tell ({one.jobs}; it takes {ENOUGH})."
    if not one.sure:
        return f"{name}: no trend that might not be luck ({one.jobs} jobs)."
    way = "up" if one.change > 0 else "down"
    least, most = sorted((abs(one.low), abs(one.high)))
    low, about, high = (_size(one.name, size) for size in (least, abs(one.change), most))
    between = "" if low == high else f"between {low} and {high}, "
    return (
        f"{name} went {way} by about {about} from {_day(one.first)} to "
        f"{_day(one.last)} ({between}{one.jobs} jobs)."
    )


def _size(name: str, value: float) -> str:
    if name in PER:
        return f"${shown_as(name, value)}"
    points = round(100 * value)
    return f"{points} percentage point{'s' * (points != 1)}"


def unknown_lines(results: Iterable[JobResult]) -> Iterator[str]:
    """Why a "?" stands where it stands, job by job."""
    for one in results:
        reasons: dict[str, list[str]] = {}
        for name, why in one.lacks:
            reasons.setdefault(why, []).append(NAMES[name])
        for why, names in reasons.items():
            yield f"not known of {one.job}: {', '.join(dict.fromkeys(names))}: {why}"


def left_out_lines(found: OverJobs) -> Iterator[str]:
    if found.left_out:
        named = "; ".join(f"{job}: {why}" for job, why in found.left_out)
        yield f"Not among them: {named}."


# --- plots and programs -------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Course:
    """A figure job by job, over the time."""

    name: str
    points: tuple[tuple[date, float, str], ...]
    """(day, value, job)."""
    trend: JobTrend
    line: tuple[float, float] | None = None
    """What the trend is at the first of the days and at the last; None where there is none."""


def course_of(found: OverJobs, name: str) -> Course:
    """The jobs that tell this figure, and where it goes."""
    points = tuple(
        (one.day, float(value), one.job)
        for one in found.results
        if (value := figure(name, [one]).value) is not None
    )
    [trend] = [one for one in found.trends if one.name == name] or [JobTrend(name, 0)]
    return Course(name, points, trend, _line(points, trend))


def _line(points: Sequence[tuple[date, float, str]], trend: JobTrend) -> tuple[float, float] | None:
    if not trend.sure or trend.change is None:
        return None
    first, last = points[0][0], points[-1][0]
    span = (last - first).days
    begin = median(value - trend.change * (day - first).days / span for day, value, _ in points)
    return begin, begin + trend.change


def jobs_csv(found: OverJobs) -> Table:
    """Everything of every job, one a row, exact; what is not known is empty, with why."""
    sums = ("charged", "cost", "earned", "hours", "hours_bid", "feet", "material", "material_bid",
            "gone", "wasted", "unexplained", "extras", "expenses", "miles")  # fmt: skip
    rows = tuple(
        (
            one.day.isoformat(),
            one.job,
            one.house,
            one.season,
            "" if one.crew is None else str(one.crew),
            *(_plain(getattr(one, name)) for name in sums),
            *(_exact(figure(name, [one])) for name in COMPARED),
            "; ".join(f"{NAMES[name]}: {why}" for name, why in one.lacks),
        )
        for one in found.results
    )
    left_out = tuple(
        ("", job, *[""] * (3 + len(sums) + len(COMPARED)), why) for job, why in found.left_out
    )
    shares = [
        f"{NAMES[name]}, share" if name.endswith("share") else NAMES[name] for name in COMPARED
    ]
    heads = (
        "day", "job", "house", "season", "crew", *(NAMES[name] for name in sums), *shares,
        "not known",
    )  # fmt: skip
    return Table(heads, (*rows, *left_out), right=frozenset(heads[4:-1]))


def _plain(value: Decimal | Fraction | None) -> str:
    if value is None:
        return ""
    return f"{value:f}" if isinstance(value, Decimal) else tape(value)


def _day(day: date) -> str:
    return Shown(day_written(day, short=True, year=True), day.isoformat())


def _wrapped(lines: Iterable[str], width: int) -> list[str]:
    found = [textwrap.fill(plain(line), width, subsequent_indent="  ") for line in lines]
    return ["\n".join(found)] if found else []
