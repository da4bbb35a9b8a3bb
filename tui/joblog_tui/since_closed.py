"""What has changed since the job was closed, and how its figures then differ from those now."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from textual.content import Content

from joblog.form import plain
from joblog.model import Closing, Reconciliation, StockLine, TaskLine
from joblog.report.figures import amount, gone, money_shown, then_and_now
from joblog.report.words import heads
from joblog_tui.columns import in_columns
from joblog_tui.squared_row import SquaredRow
from joblog_tui.wording import counted


@dataclass(frozen=True, slots=True)
class _Figure:
    """One figure of the job: what it was when it was closed, and what it is now."""

    name: str
    closed: str
    now: str
    entries: tuple[int, ...]


def since_closed(
    closing: Closing, squared: Reconciliation, width: int = 78
) -> tuple[SquaredRow, ...]:
    """What reopened the job, then every figure that is not as it was."""
    figures = tuple(_figures(closing.figures, squared))
    heads, shown = in_columns(
        "figure",
        ("closed", "now"),
        [figure.name for figure in figures],
        [(figure.closed, figure.now) for figure in figures],
        width,
    )
    return (
        *_causes(closing),
        *(
            SquaredRow(heads, text, _meaning(figure), figure.entries)
            for text, figure in zip(shown, figures, strict=True)
        ),
    )


def _causes(closing: Closing) -> Iterator[SquaredRow]:
    head = "reopened by"
    if closing.changed:
        text = f"{counted(len(closing.changed), 'entry', 'entries')} new or changed since"
        yield SquaredRow(head, text, Content(f"{text} it was closed."), closing.changed)
    if closing.plan_changed:
        yield SquaredRow(head, "another plan", Content("The plan was changed since it was closed."))


def _figures(closed: Reconciliation, now: Reconciliation) -> Iterator[_Figure]:
    for name, then, line in then_and_now(closed.stock, now.stock, lambda line: line.item):
        entries = line.entries if line else ()
        yield from _differing(_of_stock(then), _of_stock(line), name, entries)
    for name, old, task in then_and_now(closed.tasks, now.tasks, lambda task: task.task):
        entries = task.entries if task else ()
        yield from _differing(_of_task(old), _of_task(task), name, entries)


def _differing(
    was: dict[str, str], now: dict[str, str], name: str, entries: tuple[int, ...]
) -> Iterator[_Figure]:
    for what in now:
        if was[what] != now[what]:
            yield _Figure(f"{plain(name)}: {what}", was[what], now[what], entries)


def _of_stock(line: StockLine | None) -> dict[str, str]:
    if line is None:
        return dict.fromkeys(_STOCK, "-")
    planned = "-" if line.planned is None else amount(line.planned)
    return dict(
        zip(
            _STOCK,
            (
                planned,
                gone(line),
                amount(line.placed),
                amount(line.spoiled),
                amount(line.offcut),
                amount(line.unaccounted),
                money_shown(line.actual_cost),
            ),
            strict=True,
        )
    )


_STOCK = (*heads("planned", "consumed", "placed", "spoiled", "offcut", "unaccounted"), "cost")


def _of_task(line: TaskLine | None) -> dict[str, str]:
    if line is None:
        return dict.fromkeys(_TASK, "-")
    planned = "-" if line.planned is None else amount(line.planned)
    real = amount(line.actual) if line.entries else "?"
    done = amount(line.done)
    return dict(zip(_TASK, (planned, real, done, money_shown(line.actual_cost)), strict=True))


_TASK = ("planned man-hours", "actual man-hours", "done", "cost")


def _meaning(figure: _Figure) -> Content:
    return Content.assemble(
        (figure.name, "bold"),
        f": {figure.closed} when it was closed, {figure.now} now",
        "\n? is not known: what would settle it stands among what is missing"
        if "?" in f"{figure.closed}{figure.now}"
        else "",
    )
