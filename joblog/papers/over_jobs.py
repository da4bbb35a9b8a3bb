"""All closed jobs beside their bids, on paper: tables, and how it went over the time."""

from __future__ import annotations

from collections.abc import Iterator

from joblog.local import day_written
from joblog.model import OverJobs
from joblog.papers.blocks import (
    Block,
    Box,
    Drawing,
    Heading,
    Label,
    Line,
    Paper,
    Text,
    Warning,
)
from joblog.papers.figures import on_paper
from joblog.report import over_jobs as told


def jobs_paper(found: OverJobs) -> Paper:
    """For oneself: it is all costs and earnings."""
    return Paper(
        "What the jobs earned",
        about=(*_about(found), ("", "for yourself: it shows costs and what you earned")),
        blocks=tuple(_blocks(found)),
        footer="What the jobs earned, for yourself",
    )


def _about(found: OverJobs) -> Iterator[tuple[str, str]]:
    yield "closed jobs", str(len(found.results))
    if found.results:
        days = [one.day for one in found.results]
        yield "from, to", f"{day_written(days[0])}, {day_written(days[-1])}"


def _blocks(found: OverJobs) -> Iterator[Block]:
    for line in told.left_out_lines(found):
        yield Warning(line)
    if not found.results:
        yield Text("No job is closed yet, so there is nothing to compare.")
        return
    yield Heading("Over time")
    for line in told.trend_lines(found):
        yield Text(line)
    for name in told.PLOTTED:
        course = told.course_of(found, name)
        if course.points:
            yield drawing_of(course)
    yield Heading("In groups")
    for by in told.BY:
        yield on_paper(told.group_table(found, by))
    for line in told.what_it_means(found):
        yield Text(line, small=True)
    yield Heading("Job by job")
    yield on_paper(told.earned_table(found.results), "Charged, cost and earned", total=True)
    yield on_paper(
        told.spent_table(found.results), "Against the bid, lost, and beside it", total=True
    )
    for line in told.unknown_lines(found.results):
        yield Text(line, small=True)


WIDTH, HEIGHT = 420.0, 122.0
LEFT, RIGHT, TOP, BOTTOM = 52.0, 410.0, 18.0, 102.0
"""The field that the points lie in."""
TICKS = 4
DOT = 5.0


def drawing_of(course: told.Course) -> Drawing:
    """A point for each job, at its day; a dashed line where there is a trend."""
    values = [value for _, value, _ in course.points]
    drawn: list[float] = [*values, *(course.line or ())]
    low, high = min(0.0, *drawn), max(0.0, *drawn)
    # What lies flat at nothing still has a field.
    high = high if high > low else low + 1.0
    days = [day.toordinal() for day, _, _ in course.points]
    first, last = days[0], days[-1]

    def across(day: int) -> float:
        share = (day - first) / (last - first) if first != last else 0.5
        return round(LEFT + 10 + share * (RIGHT - LEFT - 20), 1)

    def up(value: float) -> float:
        return round(BOTTOM - (value - low) / (high - low) * (BOTTOM - TOP), 1)

    name = told.NAMES[course.name]
    shapes: list[Line | Box | Label] = [Label(0.0, 9.0, name, 9.0)]
    for step in range(TICKS):
        value = low + (high - low) * step / (TICKS - 1)
        shapes.append(Line(LEFT, up(value), RIGHT, up(value), 0.3))
        shown = told.shown_as(course.name, value)
        shapes.append(Label(LEFT - 4, up(value) + 3, shown, 8.0, "end"))
    shapes.append(Line(LEFT, up(0.0), RIGHT, up(0.0)))
    shapes.append(Line(LEFT, TOP, LEFT, BOTTOM))
    if course.line is not None:
        begin, end = course.line
        shapes.append(Line(across(first), up(begin), across(last), up(end), 1.2, dashed=True))
    shapes += [
        Box(across(day.toordinal()) - DOT / 2, up(value) - DOT / 2, DOT, DOT, shade=1.0)
        for day, value, _ in course.points
    ]
    ends = [course.points[0][0]] if first == last else [course.points[0][0], course.points[-1][0]]
    for at, day in enumerate(ends):
        shown = day_written(day, short=True, year=True)
        anchor = "end" if at else "start"
        x = RIGHT if at else LEFT
        shapes.append(Label(x, BOTTOM + 14, shown, 8.0, anchor))  # type: ignore[arg-type]
    return Drawing(WIDTH, HEIGHT, tuple(shapes), alt=_in_words(course))


def _in_words(course: told.Course) -> str:
    points = "; ".join(
        f"{day_written(day, short=True, year=True)} {told.shown_as(course.name, value)}"
        for day, value, _ in course.points
    )
    return f"{told.NAMES[course.name]}, job by job: {points}"
