"""A day drawn along its hours: at work, what was told, photos."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date, datetime, time, timedelta

from joblog.local import clock_written
from joblog.model import BookEntry, DayHours, Job
from joblog.papers.blocks import Box, Drawing, Label, Line
from joblog.papers.record import Shot, local

WIDE, NAMES = 520.0, 44.0
"""Of the drawing, and of the names at its left."""

ROW, BELOW = 20.0, 20.0
"""How high a row is, and the hours below them."""

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

    rows: dict[str, list[Line | Box]] = {
        "at work": [_bar(across(work[0]), across(work[1]))] if work else [],
        "told": [Line(across(at), 5, across(at), 18, 1.2, doubt) for at, doubt in told],
        "photos": [Box(across(at) - 2, 8, 4, 8, 0.6) for at in taken],
    }
    shown = [(name, marks) for name, marks in rows.items() if marks]
    foot = ROW * len(shown)
    shapes: list[Line | Box | Label] = [*_hours(first, last, across, foot)]
    for row, (name, marks) in enumerate(shown):
        shapes.append(Label(0, ROW * row + 15, name, 9))
        shapes += [_lowered(mark, ROW * row) for mark in marks]
    words = _in_words(hours, len(told), len(taken))
    return Drawing(WIDE, foot + BELOW, tuple(shapes), words)


def _bar(left: float, right: float) -> Box:
    return Box(left, 5, right - left, 13, 0.25)


def _lowered(mark: Line | Box, by: float) -> Line | Box:
    if isinstance(mark, Line):
        return replace(mark, y1=mark.y1 + by, y2=mark.y2 + by)
    return replace(mark, y=mark.y + by)


def _hours(
    first: int, last: int, across: Callable[[float], float], foot: float
) -> Iterator[Line | Label]:
    step = max(1, -(-(last - first) // 8))
    for at in range(first, last + 1):
        x = across(60 * at)
        yield Line(x, 0, x, foot + 2, 0.25)
        if (at - first) % step == 0:
            anchor = "end" if at == last else "middle"
            yield Label(x, foot + 13, _hour(at), 8, anchor)  # type: ignore[arg-type]


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
    parts: Iterable[str] = (_count(told, "entry", "entries"), _count(taken, "photo", "photos"))
    if hours is not None and hours.started and hours.stopped:
        began, ended = clock_written(hours.started), clock_written(hours.stopped)
        parts = (f"at work from {began} to {ended}", *parts)
    return f"The day along its hours: {', '.join(parts)}"


def _count(number: int, one: str, many: str) -> str:
    return f"{number} {one if number == 1 else many}"
