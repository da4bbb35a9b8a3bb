"""The hours of every task: planned and real, how fast it went, and why they differ."""

from __future__ import annotations

from fractions import Fraction

from textual.content import Content

from joblog.form import WORDS, plain, units_of
from joblog.form import amount as in_words
from joblog.model import Reconciliation, TaskLine
from joblog.report.figures import amount, hours_of_no_task, pace_shown, signed, than_planned
from joblog.report.words import short_heads
from joblog.service.filling_in import Missing
from joblog_tui.columns import in_columns
from joblog_tui.squared_row import SquaredRow, not_counted
from joblog_tui.wording import in_doubt

HEADS = short_heads(
    "planned", "actual", "total", "scope", "efficiency", "planned_rate", "actual_rate"
)


def hours(squared: Reconciliation, width: int = 78) -> tuple[SquaredRow, ...]:
    """One line a task, in man-hours; and one of the hours that nobody put to a task."""
    names = [plain(line.task) for line in squared.tasks]
    rows = [_cells(line) for line in squared.tasks]
    heads, shown = in_columns(f"task, {WORDS['crew_hours']}", HEADS, names, rows, width)
    lines = [
        SquaredRow(
            heads,
            text,
            _meaning(line),
            line.entries,
            line.left_out,
            bool(line.left_out),
            _missing(line),
        )
        for text, line in zip(shown, squared.tasks, strict=True)
    ]
    return (*lines, *_of_no_task(squared))


def _missing(line: TaskLine) -> Missing | None:
    if not line.entries:
        return Missing("hours", line.task, line.unit)
    return Missing("done", line.task, line.unit) if line.without_amount and line.unit else None


def _cells(line: TaskLine) -> tuple[str, ...]:
    parts = line.variance
    why = (parts.hours, parts.scope_hours, parts.efficiency_hours) if parts else (None,) * 3
    return (
        "-" if line.planned is None else amount(line.planned),
        amount(line.actual) if line.entries else "?",
        *map(signed, why),
        _pace(line.planned_rate, line.unit),
        _pace(line.actual_rate, line.unit),
    )


def _pace(rate: Fraction | None, unit: str) -> str:
    return plain(pace_shown(rate, unit))


def _meaning(line: TaskLine) -> Content:
    planned = "not in the plan" if line.planned is None else f"planned {in_words(line.planned)}"
    real = f"actual {in_words(line.actual)}" if line.entries else "nobody said how long it took"
    parts = [
        Content.assemble((plain(line.task), "bold"), f", {WORDS['crew_hours']}: {planned}, {real}")
    ]
    if line.variance is not None and line.planned is not None:
        total = line.variance.hours
        parts.append(
            Content(
                f"{than_planned(total, in_words(abs(total)))}: "
                f"work {signed(line.variance.scope_hours)} (more or less to do), "
                f"pace {signed(line.variance.efficiency_hours)} (slower is +, faster is -)"
            )
        )
    parts += _done(line)
    return Content("\n").join([*parts, *not_counted(line.left_out)])


def _done(line: TaskLine) -> list[Content]:
    if not line.entries:
        return []
    lacks = [] if not line.without_amount else [in_doubt(_lacking(line))]
    if line.done is None:
        return lacks
    done = f"done: {units_of(line.done, plain(line.unit))}"
    if line.actual_rate is None:
        return [Content(done), *lacks]
    pace = f"{_pace(line.actual_rate, line.unit)} an hour of one person"
    planned = (
        "" if line.planned_rate is None else f", planned {_pace(line.planned_rate, line.unit)}"
    )
    return [Content(f"{done}; {pace}{planned}"), *lacks]


def _lacking(line: TaskLine) -> str:
    """Why there is no pace, or none of some of the hours, and which key settles it."""
    rest = in_words(line.actual - line.done_hours)
    why = (
        "Nobody said how much was done, so the pace is ? and these hours teach nothing."
        if line.done is None
        else f"Nobody said how much was done in {rest} of these hours; they teach nothing."
    )
    if not line.unit:
        return why
    planned = line.planned_quantity
    whole = "" if planned is None else f"a: all {units_of(planned, plain(line.unit))}, as planned. "
    return f"{why} {whole}+: another amount."


def _of_no_task(squared: Reconciliation) -> list[SquaredRow]:
    text = hours_of_no_task(squared)
    if not text:
        return []
    return [
        SquaredRow(
            "at work",
            text,
            Content(f"{text}: all hours at work, less those that were put to a task."),
            tuple(entry for day in squared.days for entry in day.entries),
        )
    ]
