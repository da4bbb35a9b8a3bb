"""Moments of a job as a person types them: a day and a time on the clock of where the job is."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from joblog.local import clock_read, clock_written, day_read, day_written
from joblog.service.desk import Desk
from joblog.service.errors import FieldError, use_case


def day_typed(desk: Desk, at: datetime) -> str:
    """The day of a moment, as it would be typed."""
    return day_written(at.astimezone(ZoneInfo(desk.job.zone)).date())


def clock_typed(desk: Desk, at: datetime) -> str:
    """The time of a moment, as it would be typed."""
    return clock_written(at.astimezone(ZoneInfo(desk.job.zone)))


@use_case
def moment_read(desk: Desk, day: str, clock: str, near: datetime) -> datetime:
    """The moment of a day and a time that were typed. What is typed as `near` is written is `near`
    itself, to the second.

    Raises `FieldError` of "day" or "clock" for what is none.
    """
    zone = ZoneInfo(desk.job.zone)
    local = near.astimezone(zone)
    try:
        wanted = day_read(day, local.date())
    except ValueError as error:
        raise FieldError(str(error), "day") from None
    if clock.strip() == clock_written(local):
        return datetime.combine(wanted, local.timetz())
    try:
        return datetime.combine(wanted, clock_read(clock, local.time()), zone)
    except ValueError as error:
        raise FieldError(str(error), "clock") from None


@use_case
def after_all_said(desk: Desk, day: date | None = None) -> datetime:
    """When something is told of a day, or of the job, that nobody said at the time: now, where it
    is of today; else right after the last words of it."""
    zone = ZoneInfo(desk.job.zone)
    now = datetime.now(zone)
    days = desk.book.days(desk.job.name)
    wanted = day or (days[-1] if days else now.date())
    if wanted == now.date():
        return now
    said = [one.at for one in desk.book.entries(desk.job.name, wanted)]
    last = max(said, default=datetime.combine(wanted, time(12), zone))
    return (last + timedelta(seconds=1)).astimezone(zone)


@use_case
def days_known(desk: Desk) -> tuple[str, ...]:
    """The days of the job as they would be typed, the latest first."""
    return tuple(map(day_written, reversed(desk.book.days(desk.job.name))))


@use_case
def jobs_known(desk: Desk) -> tuple[str, ...]:
    """The jobs of the book, this one first."""
    return tuple(dict.fromkeys([desk.job.name, *(job.name for job in desk.book.jobs())]))
