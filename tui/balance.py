"""The reconciliation in lines that fit 80 columns, and each line explained in words."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from textual.content import Content

from joblog.form import amount, plain
from joblog.model import DayHours, Reconciliation, StockLine, TaskLine
from tui.columns import fitted, in_columns
from tui.wording import counted, day_name, in_doubt

STOCK_HEADS = (
    "plan", "had", "came", "back", "left", "gone", "used", "spoil", "cut", "unexp",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Line:
    """One line of the reconciliation: `head` names its columns, `meaning` explains it in words."""

    head: str
    shown: str
    meaning: Content
    entries: tuple[int, ...] = ()
    left_out: tuple[int, ...] = ()
    doubtful: bool = False


def balance(reconciliation: Reconciliation, width: int = 78) -> tuple[Line, ...]:
    """Materials, then task hours, days, and what is missing; no line is wider than `width`."""
    return (
        *_materials(reconciliation.stock, width),
        *_tasks(reconciliation.tasks, width),
        *_days(reconciliation.days, width),
        *(
            Line(
                "missing",
                fitted(plain(gap.text), width),
                Content(plain(gap.text)),
                gap.entries,
                doubtful=True,
            )
            for gap in reconciliation.gaps
        ),
    )


def between(low: Fraction, high: Fraction) -> str:
    """An amount that is not known, with its range: "13-16?"; "13-?" when the record has a gap."""
    if low > high:
        return f"{amount(low)}-?"
    return f"{amount(low)}-{amount(high)}?"


def _materials(stock: tuple[StockLine, ...], width: int) -> list[Line]:
    names = [f"{plain(line.item)}, {plain(line.unit)}" for line in stock]
    rows = [_cells(line) for line in stock]
    heads, shown = in_columns("material", STOCK_HEADS, names, rows, width)
    return [
        Line(heads, text, _stock_meaning(line), line.entries, line.left_out, bool(line.left_out))
        for text, line in zip(shown, stock, strict=True)
    ]


def _cells(line: StockLine) -> tuple[str, ...]:
    gone = amount(line.consumed)
    if line.consumed is None:
        gone = between(line.at_least, line.at_most)
    moved = (line.opening, line.delivered, line.returned)
    accounted = (line.placed, line.spoiled, line.offcut)
    return (
        amount(line.planned) if line.planned is not None else "-",
        *map(_or_dash, moved),
        amount(line.on_hand),
        gone,
        *map(_or_dash, accounted),
        amount(line.unaccounted),
    )


def _or_dash(quantity: Fraction) -> str:
    # Nothing came or went is quieter than a figure; a count of nought left is a figure.
    return amount(quantity) if quantity else "-"


def _stock_meaning(line: StockLine) -> Content:
    unit = plain(line.unit)
    parts: list[Content] = [
        Content.assemble(
            (plain(line.item), "bold"),
            f", in {unit}: ",
            "not in the plan" if line.planned is None else f"planned {amount(line.planned)}",
        ),
        Content(
            f"had {amount(line.opening)} + came {amount(line.delivered)}"
            f" - went back {amount(line.returned)} - left {amount(line.on_hand)}"
            f" = gone {amount(line.consumed)}"
        ),
    ]
    accounted = (
        f"used {amount(line.placed)} + spoiled {amount(line.spoiled)}"
        f" + cut off {amount(line.offcut)}"
    )
    if line.consumed is None and line.at_least > line.at_most:
        parts.append(
            in_doubt(
                f"More is gone ({accounted}) than ever came ({amount(line.at_most)}):"
                " a delivery was not said, or a count is wrong."
            )
        )
    elif line.consumed is None:
        parts.append(
            in_doubt(
                "Nobody counted what was left, so what is gone is not known: "
                f"at least {amount(line.at_least)} ({accounted}), at most {amount(line.at_most)}."
            )
        )
    else:
        parts.append(
            Content(
                f"gone {amount(line.consumed)} = {accounted}"
                f" + unexplained {amount(line.unaccounted)}"
            )
        )
    if line.planned_cost is not None or line.actual_cost is not None:
        parts.append(_cost(line))
    if line.reasons:
        why = "; ".join(f"{amount(count)} {plain(reason)}" for reason, count in line.reasons)
        parts.append(Content(f"spoiled: {why}"))
    return Content("\n").join([*parts, *_left_out(line.left_out)])


def _tasks(tasks: tuple[TaskLine, ...], width: int) -> list[Line]:
    names = [plain(line.task) for line in tasks]
    rows = [(amount(line.planned), amount(line.actual)) for line in tasks]
    heads, shown = in_columns("task", ("planned hours", "actual hours"), names, rows, width)
    return [
        Line(heads, text, _task_meaning(line), line.entries, line.left_out, bool(line.left_out))
        for text, line in zip(shown, tasks, strict=True)
    ]


def _task_meaning(line: TaskLine) -> Content:
    planned = "not in the plan" if line.planned is None else f"planned {amount(line.planned)}"
    parts = [
        Content.assemble(
            (plain(line.task), "bold"), f": {planned}, actual {amount(line.actual)} crew hours"
        )
    ]
    if line.planned_cost is not None or line.actual_cost is not None:
        parts.append(_cost(line))
    return Content("\n").join([*parts, *_left_out(line.left_out)])


def _days(days: tuple[DayHours, ...], width: int) -> list[Line]:
    names = [day_name(line.day) for line in days]
    rows = [
        (
            f"{line.started:%H:%M}" if line.started else "?",
            f"{line.stopped:%H:%M}" if line.stopped else "?",
            amount(line.break_minutes),
            amount(line.crew_hours),
            amount(line.on_tasks),
        )
        for line in days
    ]
    columns = ("start", "stop", "break min", "crew hours", "on tasks")
    heads, shown = in_columns("day", columns, names, rows, width)
    return [
        Line(heads, text, _day_meaning(line), line.entries)
        for text, line in zip(shown, days, strict=True)
    ]


def _day_meaning(line: DayHours) -> Content:
    name = day_name(line.day)
    if line.crew_hours is None:
        return in_doubt(f"{name}: a start or a stop is missing.")
    return Content(
        f"{name}: {amount(line.crew_hours)} crew hours at work,"
        f" {amount(line.on_tasks)} of them said to belong to a task."
    )


def _cost(line: StockLine | TaskLine) -> Content:
    planned = "?" if line.planned_cost is None else str(line.planned_cost)
    actual = "?" if line.actual_cost is None else str(line.actual_cost)
    return Content(f"cost: planned {planned}, actual {actual}")


def _left_out(left_out: tuple[int, ...]) -> list[Content]:
    if not left_out:
        return []
    count = counted(len(left_out), "entry is", "entries are")
    return [in_doubt(f"{count} not counted: in doubt, or in another unit.")]
