"""The squared-up job on one page."""

from __future__ import annotations

import textwrap
from collections.abc import Mapping, Sequence

from joblog.form import WORDS, plain, reopening, units_of
from joblog.local import day_written
from joblog.model import Closing, CoveredWork, Gap, Reconciliation
from joblog.report.covered import lacking_lines
from joblog.report.figures import (
    allowed_lines,
    balance_table,
    beside_sums,
    evidence,
    gap_line,
    hours_of_no_task,
    labor_table,
    money_shown,
    money_table,
    pay_table,
    quantity_table,
    since_closing,
)
from joblog.report.table import Table, as_text
from joblog.report.words import heads, shortened

REASONS = 5
"""How many reasons the page names; the others are in their table."""


def squared_up(
    result: Reconciliation,
    width: int = 100,
    behind: Mapping[int, str] | None = None,
    closing: Closing | None = None,
    covered: Sequence[CoveredWork] = (),
) -> str:
    """Material, labor, money, why, covered work, and what is missing, as text.

    `behind` names the recording and photos behind an entry, by its number. A job that was closed
    says so, and one that was reopened since says by what, and which figures are other ones now.
    """
    title = f"{plain(result.job)}, squared up"
    parts = [f"{title}\n{'=' * len(title)}"]
    parts.append("\n".join(_wrapped(line, width) for line in _standing(result)))
    if closing is not None:
        parts.append(_closed(closing, result, width))
    stock = balance_table(result)
    costs = heads("planned_cost", "actual_cost")
    parts.append(_fitting(_without(stock, (*costs, *_idle(stock))), width))
    if any(line.variance is not None and line.planned is not None for line in result.stock):
        table = _without(quantity_table(result), heads("allowed_by"))
        parts.append(_headed("more (+) or less (-) than planned, and why", table, width))
        if told := allowed_lines(result):
            parts.append("\n".join(_wrapped(line, width, "  ") for line in told))
    money = money_table(result)
    if money.rows:
        parts.append(_headed("the same in money", money, width))
    if result.tasks:
        parts.append(_headed(WORDS["crew_hours"], labor_table(result), width))
    if any(line.planned_cost is not None or line.actual_cost is not None for line in result.tasks):
        parts.append(_headed("the same in money", pay_table(result), width))
    if result.untold_hours:
        parts.append(f"{hours_of_no_task(result)}.")
    if result.reasons:
        parts.append(_reasons(result, behind or {}, width))
    if result.beside.lines:
        parts.append(_beside(result, width))
    if covered:
        parts.append(_covered(covered, width))
    if result.gaps:
        missing = (_wrapped(gap_line(gap), width, "  ") for gap in result.gaps)
        parts.append("not known:\n" + "\n".join(missing))
    return "\n\n".join(parts)


def _standing(result: Reconciliation) -> list[str]:
    """How far the figures can be relied on, and what one thing would help most."""
    lines = []
    if result.open_doubts:
        entries = "entry is" if result.open_doubts == 1 else "entries are"
        lines.append(f"{result.open_doubts} doubtful {entries} left out until settled.")
    record = result.record
    if record is not None:
        share = (
            ""
            if record.cost_settled is None
            else f", which are {float(record.cost_settled):.0%} of the planned cost"
        )
        lines.append(
            f"Settled: {record.items_settled} of {record.items} items{share}; "
            f"{record.tasks_settled} of {record.tasks} tasks; hours of "
            f"{record.days_settled} of {record.days} days."
        )
    lines += [f"Cannot be: {gap_line(gap)}" for gap in result.gaps if gap.contradiction]
    best = next((gap for gap in result.gaps if gap.settled_by == "count"), None)
    if best is not None and not best.contradiction:
        lines.append(f"One count would settle most: {best.name}, {_worth(best)}.")
    return lines


def _closed(closing: Closing, result: Reconciliation, width: int) -> str:
    if not closing.reopened:
        return f"Closed on {day_written(closing.day)}."
    why = reopening(closing.changed, closing.plan_changed, closing.told_on)
    line = _wrapped(
        f"Closed on {day_written(closing.day)}, {why}; close it again when it is right.", width
    )
    changes = since_closing(closing.figures, result)
    return f"{line}\n{_fitting(changes, width)}" if changes.rows else line


def _worth(gap: Gap) -> str:
    width = "" if gap.width is None else f"{units_of(gap.width, gap.unit, gap.name)} either way"
    return width if gap.money is None else f"{width}, {money_shown(gap.money)}"


def _reasons(result: Reconciliation, behind: Mapping[int, str], width: int) -> str:
    lines = []
    for reason in result.reasons[:REASONS]:
        cost = "" if reason.cost is None else f", {money_shown(reason.cost)}"
        much = units_of(reason.quantity, reason.unit, reason.item)
        what = f"{reason.item}: {much}{cost}, {reason.text}"
        lines.append(_wrapped(f"{what} ({evidence(reason, behind)})", width, "  "))
    more = len(result.reasons) - REASONS
    if more > 0:
        lines.append(f"  and {more} more: joblog squareup --table reasons")
    return f"{WORDS['spoiled']}, in the words it was said:\n" + "\n".join(lines)


def _beside(result: Reconciliation, width: int) -> str:
    lines = [_wrapped(line, width, "  ") for line in beside_sums(result.beside)]
    return "\n".join(["beside the plan (joblog squareup --table beside)", *lines])


def _covered(work: Sequence[CoveredWork], width: int) -> str:
    lacking = lacking_lines(work)
    shown = f"covered work: {len(work) - len(lacking)} of {len(work)} with all that shows it"
    lines = [_wrapped(line, width, "  ") for line in lacking]
    return "\n".join([f"{shown} (joblog covered)", *lines])


def _headed(heading: str, table: Table, width: int) -> str:
    return f"{heading}\n{_fitting(table, width)}"


def _fitting(table: Table, width: int) -> str:
    """The table, under short headings where the long ones do not fit."""
    shown = as_text(table, width)
    if max(map(len, shown.splitlines())) <= width:
        return shown
    right = frozenset(shortened(tuple(table.right)))
    return as_text(Table(shortened(table.headings), table.rows, right), width)


def _wrapped(line: str, width: int, indent: str = "") -> str:
    return textwrap.fill(
        plain(line), max(40, width), initial_indent=indent, subsequent_indent=indent + "  "
    )


def _idle(table: Table) -> tuple[str, ...]:
    """Columns that say nothing on this job, so that the page stays narrow."""
    return tuple(
        heading
        for at, heading in enumerate(table.headings)
        if heading in heads("opening", "offcut", "returned")
        and all(row[at] == "0" for row in table.rows)
    )


def _without(table: Table, headings: tuple[str, ...]) -> Table:
    kept = [at for at, heading in enumerate(table.headings) if heading not in headings]
    rows = tuple(tuple(row[at] for at in kept) for row in table.rows)
    return Table(tuple(table.headings[at] for at in kept), rows, table.right)
