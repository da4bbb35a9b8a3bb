"""Attendance: who was at work how long, from starts, stops and breaks."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, time
from fractions import Fraction
from zoneinfo import ZoneInfo

from joblog.model import BookEntry, DayHours, Job


def attendance(job: Job, entries: Sequence[BookEntry]) -> tuple[DayHours, ...]:
    """One line a day that has any hours said, in order.

    The day runs from its first start to its last stop, less the breaks, times the people: the
    number last said at a start, one when none was said. Doubtful entries are not counted.
    """
    zone = ZoneInfo(job.zone)
    days: dict[date, list[BookEntry]] = {}
    for kept in entries:
        if kept.entry.kind in ("start", "stop", "break", "labor") and not kept.open:
            days.setdefault(kept.at.astimezone(zone).date(), []).append(kept)
    return tuple(_day(day, days[day]) for day in sorted(days))


def _day(day: date, entries: Sequence[BookEntry]) -> DayHours:
    starts = [e.entry for e in entries if e.entry.kind == "start" and e.entry.time]
    stops = [e.entry for e in entries if e.entry.kind == "stop" and e.entry.time]
    pauses = [e.entry.minutes or Fraction(0) for e in entries if e.entry.kind == "break"]
    started = min((entry.time for entry in starts if entry.time), default=None)
    stopped = max((entry.time for entry in stops if entry.time), default=None)
    people = next((entry.workers for entry in reversed(starts) if entry.workers), 1)
    break_minutes = sum(pauses, Fraction(0))
    hours: Fraction | None = None
    if started is not None and stopped is not None:
        minutes = _minutes(stopped) - _minutes(started) - break_minutes
        hours = minutes / 60 * people if minutes >= 0 else None
    return DayHours(
        day=day,
        started=started,
        stopped=stopped,
        break_minutes=break_minutes,
        crew_hours=hours,
        on_tasks=sum(
            (
                (e.entry.hours or Fraction(0)) * (e.entry.workers or 1)
                for e in entries
                if e.entry.kind == "labor"
            ),
            Fraction(0),
        ),
        entries=tuple(e.id for e in entries),
    )


def _minutes(clock: time) -> Fraction:
    return Fraction(clock.hour * 60 + clock.minute)
