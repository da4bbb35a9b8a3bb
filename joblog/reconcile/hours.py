"""Attendance: who was at work how long, from starts, stops and breaks."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, time
from fractions import Fraction
from functools import lru_cache
from zoneinfo import ZoneInfo

from joblog.model import BookEntry, DayHours, Job
from joblog.reconcile.told import Same, when_it_was
from joblog.reconcile.units import crew_hours, total

HOURS = ("start", "stop", "break", "labor")
"""What tells of hours."""


def attendance(job: Job, entries: Sequence[BookEntry]) -> tuple[DayHours, ...]:
    """One line a day that has any hours said, in order.

    Work runs from each start to the next stop, times the people at work: the number said last at
    a start, one when none was said. A later start changes how many are at work; a stop after a
    stop puts off the first one. A break counts for everybody at work when it was told. Doubtful
    entries are not counted.
    """
    zone = ZoneInfo(job.zone)
    days: dict[date, list[BookEntry]] = {}
    for kept in entries:
        if kept.entry.kind in HOURS and not kept.open:
            days.setdefault(kept.at.astimezone(zone).date(), []).append(kept)
    return tuple(_day(day, Same(tuple(days[day])), zone) for day in sorted(days))


def attended(job: Job, entries: Sequence[BookEntry]) -> tuple[DayHours, ...]:
    """The same of all entries of a job, on the days that they hold for; what was dropped counts
    nowhere."""
    zone = ZoneInfo(job.zone)
    mine = (kept for kept in entries if kept.entry.kind in HOURS and kept.standing != "dropped")
    return attendance(job, [when_it_was(kept, zone) for kept in mine])


@lru_cache(maxsize=4096)
def _day(day: date, told: Same, zone: ZoneInfo) -> DayHours:
    entries = told.entries
    turns = sorted(
        (
            (kept.entry.time, kept.entry.kind == "stop", kept.entry.workers)
            for kept in entries
            if kept.entry.kind in ("start", "stop") and kept.entry.time is not None
        ),
        key=lambda turn: turn[:2],
    )
    shifts = _shifts(turns)
    pauses = [kept for kept in entries if kept.entry.kind == "break"]
    starts = [clock for clock, stops, _ in turns if not stops]
    ends = [clock for clock, stops, _ in turns if stops]
    hours: Fraction | None = None
    if shifts is not None:
        worked = sum(people * (end - begin) for begin, end, people in shifts)
        lost = sum(
            (
                (kept.entry.minutes or Fraction(0))
                * _people_at(shifts, kept.at.astimezone(zone).time())
                for kept in pauses
            ),
            Fraction(0),
        )
        hours = (worked - lost) / 60 if worked >= lost else None
    return DayHours(
        day=day,
        started=min(starts, default=None),
        stopped=max(ends, default=None),
        break_minutes=sum((kept.entry.minutes or Fraction(0) for kept in pauses), Fraction(0)),
        crew_hours=hours,
        on_tasks=total(
            crew_hours(kept.entry.hours, kept.entry.workers)
            for kept in entries
            if kept.entry.kind == "labor"
        ),
        entries=tuple(kept.id for kept in entries),
    )


Shift = tuple[int, int, int]
"""Minutes after midnight of its begin and end, and how many people."""


def _shifts(turns: Sequence[tuple[time, bool, int | None]]) -> list[Shift] | None:
    """The stretches of work of a day; None when a start or the last stop is missing."""
    shifts: list[Shift] = []
    people, crew, since = 0, 1, 0
    for clock, stops, workers in turns:
        now = _minutes(clock)
        if people:
            shifts.append((since, now, people))
        elif stops and shifts:
            shifts.append((shifts[-1][1], now, shifts[-1][2]))
        elif stops:
            return None
        if not stops:
            crew = workers or crew
        people, since = 0 if stops else crew, now
    return None if people or not shifts else shifts


def _people_at(shifts: Sequence[Shift], clock: time) -> int:
    now = _minutes(clock)
    held = [people for begin, end, people in shifts if begin <= now <= end]
    return held[0] if held else shifts[-1][2]


def _minutes(clock: time) -> int:
    return clock.hour * 60 + clock.minute
