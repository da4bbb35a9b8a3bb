"""The day sheet: one day of a job on paper."""

from __future__ import annotations

from collections.abc import Iterator

from joblog.form import amount, describe
from joblog.local import clock_written, day_written, moment_written
from joblog.model import DayHours, Job
from joblog.papers.blocks import Block, Facts, Heading, Paper, Text, Warning
from joblog.papers.leaving_out import left_out
from joblog.papers.photos import numbered, pictures
from joblog.papers.record import Copy, DayRecord, kept_back, local
from joblog.papers.time_line import time_line
from joblog.papers.told import of_another_day, told
from joblog.report.sheets import clock_lines


def day_sheet(job: Job, record: DayRecord, copy: Copy) -> Paper:
    """Hours, what was told, photos, and what is doubtful, each marked so."""
    title = f"{job.name}: {day_written(record.day)}"
    placed = any(shot.placed for shot in record.shots)
    return Paper(
        title,
        about=tuple(_about(job, record, copy)),
        blocks=(
            *left_out(copy, record.entries, photos=placed),
            *day_blocks(job, record, copy, level=1),
        ),
        footer=f"{job.name}, day sheet of {day_written(record.day)}",
    )


def day_blocks(job: Job, record: DayRecord, copy: Copy, level: int = 2) -> tuple[Block, ...]:
    """The same without its head, as a part of a larger paper."""
    return tuple(_blocks(job, record, copy, 1 if level == 1 else 2))


def _about(job: Job, record: DayRecord, copy: Copy) -> Iterator[tuple[str, str]]:
    if not copy.handed_out:
        if record.hours is not None:
            yield "hours", hours_told(record.hours)
        if record.signed is None:
            yield "signed off", "no"
        else:
            yield "signed off", moment_written(local(job, record.signed.at), year=True)


def hours_told(hours: DayHours) -> str:
    """Such as "8:00 AM to 3:15 PM: 7 1/4 man-hours, 5 of them put to a task"."""
    began = clock_written(hours.started) if hours.started else "no start told"
    ended = clock_written(hours.stopped) if hours.stopped else "no stop told"
    pause = f", {amount(hours.break_minutes)} minutes of break" if hours.break_minutes else ""
    if hours.crew_hours is None:
        return f"{began} to {ended}{pause}: man-hours not known"
    tasks = f", {amount(hours.on_tasks)} of them put to a task" if hours.on_tasks else ""
    return f"{began} to {ended}{pause}: {amount(hours.crew_hours)} man-hours{tasks}"


def _blocks(job: Job, record: DayRecord, copy: Copy, level: int) -> Iterator[Block]:
    hidden = {one.id for one in kept_back(record.entries)} if copy.handed_out else set()
    shown = [one for one in record.entries if one.id not in hidden]
    standing = [one for one in shown if one.standing != "dropped"]
    yield from _warnings(record, copy)
    hours = None if copy.handed_out else record.hours
    drawing = time_line(job, record.day, standing, record.shots, hours)
    if drawing is not None:
        yield drawing
    yield Heading("What was told", 1 if level == 1 else 2)
    numbers = numbered(record.shots)
    yield from told(job, record.entries, numbers, copy)
    yield from _other_days(job, record, copy)
    if record.shots:
        yield Heading("Photos", 1 if level == 1 else 2)
        entries = {one.id: one for one in standing}
        yield from pictures(job, record.shots, entries, copy)
    if not copy.handed_out:
        yield from _to_know(record)


def _warnings(record: DayRecord, copy: Copy) -> Iterator[Block]:
    if copy.handed_out:
        return
    doubtful = sum(one.open for one in record.entries)
    if doubtful:
        what = "1 entry waits" if doubtful == 1 else f"{doubtful} entries wait"
        yield Warning(f"{what} for a decision and {_count(doubtful)} nowhere.")
    if record.signed is not None and record.signed.changed:
        lines = ["It was changed after it was signed off:", *record.signed.changed]
        yield Warning("\n".join(lines))


def _count(many: int) -> str:
    return "counts" if many == 1 else "count"


def _other_days(job: Job, record: DayRecord, copy: Copy) -> Iterator[Block]:
    if copy.handed_out:
        return
    for name, those in (("Due on this day", record.due), ("Told of it later", record.told_later)):
        if those:
            lines = [of_another_day(job, one, copy) for one in those]
            yield Facts(((name, "\n".join(lines)),))


def _to_know(record: DayRecord) -> Iterator[Block]:
    lines = [*record.troubles, *clock_lines(record.clocks)]
    if record.unanswered:
        said = "; ".join(describe(one.entry) for one in record.unanswered)
        lines.append(f"spoken of, without a photo: {said}")
    if lines:
        yield Text("\n".join(lines), small=True)
