"""What was said at each place, and on each day with the hours at work."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby

from textual.content import Content

from joblog.form import WORDS, plain, unit_shown, units_of
from joblog.form import amount as in_words
from joblog.local import clock_written
from joblog.model import DayHours, Part, Reconciliation
from joblog.report.figures import amount, or_dash
from joblog.report.words import heads
from joblog.service.filling_in import Missing
from joblog_tui.columns import in_columns
from joblog_tui.squared_row import SquaredRow
from joblog_tui.wording import day_name, in_doubt

HEADS = heads("delivered", "returned", "used", "spoiled", "hours")
NO_PLACE = "no place said"


def places(squared: Reconciliation, width: int = 78) -> tuple[SquaredRow, ...]:
    """What was said of each material and task at one place after the other."""
    kept = [part for part in squared.parts if part.place is not None]
    return tuple(
        line
        for place, parts in groupby(kept, key=lambda part: part.place)
        for line in _parts(plain(place or "") or NO_PLACE, tuple(parts), kept, width)
    )


def days(squared: Reconciliation, width: int = 78) -> tuple[SquaredRow, ...]:
    """When work started and stopped on each day, then what was said of each day."""
    kept = [part for part in squared.parts if part.day is not None]
    return (
        *_attendance(squared.days, width),
        *(
            line
            for day, parts in groupby(kept, key=lambda part: part.day)
            for line in _parts("" if day is None else day_name(day), tuple(parts), kept, width)
        ),
    )


def _parts(
    where: str, parts: tuple[Part, ...], every: list[Part], width: int
) -> Iterable[SquaredRow]:
    # Set with all the others, so that the columns of one place stand under those of another.
    names = [_name(part) for part in (*parts, *every)]
    rows = [_cells(part) for part in (*parts, *every)]
    heads, shown = in_columns(where, HEADS, names, rows, width)
    for text, part in zip(shown, parts, strict=False):
        yield SquaredRow(heads, text, _part_meaning(where, part), part.entries)


def _name(part: Part) -> str:
    return (
        plain(part.name)
        if part.hours
        else f"{plain(part.name)}, {plain(unit_shown(part.unit, part.name))}"
    )


def _cells(part: Part) -> tuple[str, ...]:
    moved = (part.delivered, part.returned, part.used, part.spoiled, part.hours)
    return tuple(map(or_dash, moved))


def _part_meaning(where: str, part: Part) -> Content:
    unit = plain(part.unit)
    moves = [
        f"{units_of(quantity, unit, part.name)} {word}"
        for word, quantity in (
            (WORDS["delivered"], part.delivered),
            (WORDS["returned"], part.returned),
            (WORDS["used"], part.used),
            (WORDS["spoiled"], part.spoiled),
            ("of work", part.hours),
        )
        if quantity
    ]
    return Content.assemble((where, "bold"), f", {plain(part.name)}: {', '.join(moves)}")


def _attendance(days: tuple[DayHours, ...], width: int) -> Iterable[SquaredRow]:
    names = [day_name(line.day) for line in days]
    rows = [
        (
            clock_written(line.started) if line.started else "?",
            clock_written(line.stopped) if line.stopped else "?",
            amount(line.break_minutes),
            amount(line.crew_hours),
            amount(line.on_tasks),
        )
        for line in days
    ]
    columns = ("start", "stop", "break min", WORDS["crew_hours"], "on tasks")
    heads, shown = in_columns("day", columns, names, rows, width)
    for text, line in zip(shown, days, strict=True):
        missing = Missing("turns", day=line.day) if line.crew_hours is None else None
        yield SquaredRow(
            heads, text, _day_meaning(line), line.entries, (), missing is not None, missing
        )


def _day_meaning(line: DayHours) -> Content:
    name = day_name(line.day)
    if line.crew_hours is None:
        return in_doubt(f"{name}: a start or a stop is missing.")
    return Content(
        f"{name}: {in_words(line.crew_hours)} {WORDS['crew_hours']} at work,"
        f" {in_words(line.on_tasks)} of them put to a task."
    )
