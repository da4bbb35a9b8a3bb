"""A day drawn along its hours: at work, what was told, photos."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime, time, timedelta

from joblog.local import clock_written
from joblog.model import BookEntry, DayHours, Job
from joblog.papers.blocks import Box, Drawing, Label, Line
from joblog.papers.record import Shot, local

WIDE, HIGH, NAMES = 520.0, 82.0, 44.0
"""Of the drawing, and of the names at its left."""

LEAST = 6
"""Hours that are drawn at least."""


def time_line(
    job: Job,
    day: date,
    entries: Sequence[BookEntry],
    shots: Sequence[Shot],
    hours: DayHours | None,
) -> Drawing | None:
    """None where nothing of the day has a time. What is in doubt is dashed."""
    told = [(_minutes(day, local(job, one.at)), one.open) for one in entries]
    taken = [_minutes(day, local(job, shot.taken)) for shot in shots]
    work = _work(hours)
    every = [*(at for at, _ in told), *taken, *(work or ())]
    if not every:
        return None
    first = int(min(every) // 60)
    last = max(first + LEAST, int(-(-max(every) // 60)))

    def across(minutes: float) -> float:
        return round(NAMES + (WIDE - NAMES) * (minutes / 60 - first) / (last - first), 2)

    shapes: list[Line | Box | Label] = [*_hours(first, last, across(60) - across(0), NAMES)]
    rows = (("at work", 15, work), ("told", 35, told), ("photos", 55, taken))
    shapes += [Label(0, y, name, 9) for name, y, there in rows if there]
    if work:
        shapes.append(Box(across(work[0]), 5, across(work[1]) - across(work[0]), 13, 0.25))
    shapes += [Line(across(at), 25, across(at), 38, 1.2, doubt) for at, doubt in told]
    shapes += [Box(across(at) - 2, 48, 4, 8, 0.6) for at in taken]
    return Drawing(WIDE, HIGH, tuple(shapes), _in_words(hours, len(told), len(taken)))


def _hours(first: int, last: int, hour: float, left: float) -> Iterator[Line | Label]:
    step = max(1, -(-(last - first) // 8))
    for at in range(first, last + 1):
        x = round(left + hour * (at - first), 2)
        yield Line(x, 0, x, 64, 0.25)
        if (at - first) % step == 0:
            anchor = "end" if at == last else "middle"
            yield Label(x, 76, _hour(at), 8, anchor)  # type: ignore[arg-type]


def _hour(at: int) -> str:
    return clock_written(time(at % 24))


def _minutes(day: date, at: datetime) -> float:
    """From the midnight that the day began with, by the clock of the place."""
    return (at.replace(tzinfo=None) - datetime.combine(day, time())) / timedelta(minutes=1)


def _work(hours: DayHours | None) -> tuple[float, float] | None:
    if hours is None or hours.started is None or hours.stopped is None:
        return None
    begun, ended = (one.hour * 60 + one.minute for one in (hours.started, hours.stopped))
    return (begun, ended) if ended > begun else (begun, ended + 24 * 60)


def _in_words(hours: DayHours | None, told: int, taken: int) -> str:
    parts: Iterable[str] = (f"{told} entries", f"{taken} photos")
    if hours is not None and hours.started and hours.stopped:
        began, ended = clock_written(hours.started), clock_written(hours.stopped)
        parts = (f"at work from {began} to {ended}", *parts)
    return f"The day along its hours: {', '.join(parts)}"
