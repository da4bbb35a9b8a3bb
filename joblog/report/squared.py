"""The squared-up job on one page."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Mapping, Sequence

from joblog.form import WORDS, plain, reopening, units_of
from joblog.local import day_written
from joblog.model import Closing, CoveredWork, Gap, Reconciliation
from joblog.report.covered import lacking_lines
from joblog.report.differences import difference_table, hours_lines, known_line
from joblog.report.figures import (
    allowed_lines,
    balance_table,
    beside_sums,
    evidence,
    gap_line,
    hours_of_no_task,
    hours_table,
    money_shown,
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
    material = _fitting(_without(stock, (*costs, *_idle(stock))), width)
    parts.append("\n".join([material, *_marked(_of_items(result), width)]))
    if (differences := difference_table(result)).rows:
        parts.append(_headed("more (+) or less (-) than planned, and why", differences, width))
        if told := allowed_lines(result):
            parts.append("\n".join(_wrapped(line, width, "  ") for line in told))
    if result.tasks:
        hours = _fitting(hours_table(result), width)
        why = (_wrapped(line, width, "  ") for line in hours_lines(result.tasks))
        marked = _marked(_of_tasks(result), width)
        parts.append("\n".join([WORDS["crew_hours"], hours, *why, *marked]))
    if result.untold_hours:
        parts.append(f"{hours_of_no_task(result)}.")
    if result.reasons:
        parts.append(_reasons(result, behind or {}, width))
    if result.beside.lines:
        parts.append(_beside(result, width))
    if covered:
        parts.append(_covered(covered, width))
    shown = {*_of_items(result), *_of_tasks(result)}
    if missing := [gap for gap in result.gaps if not gap.contradiction and gap not in shown]:
        lines = (_wrapped(gap_line(gap), width, "  ") for gap in missing)
        parts.append("not known:\n" + "\n".join(lines))
    parts.append(_wrapped(_more(result), width))
    return "\n\n".join(filter(None, parts))


def _of_items(result: Reconciliation) -> list[Gap]:
    """What is missing of a material."""
    named = {line.item for line in result.stock}
    return [gap for gap in result.gaps if gap.name in named and not gap.contradiction]


def _of_tasks(result: Reconciliation) -> list[Gap]:
    """What is missing of a task's hours."""
    named = {line.task for line in result.tasks} - {line.item for line in result.stock}
    return [gap for gap in result.gaps if gap.name in named and not gap.contradiction]


def _marked(gaps: Iterable[Gap], width: int) -> Iterator[str]:
    """What the marks in the table above them stand for."""
    return (_wrapped(f"? {gap_line(gap)}", width, "  ") for gap in gaps)


def _more(result: Reconciliation) -> str:
    """What else there is to see."""
    if not (result.stock or result.tasks):
        return ""
    return (
        "~ is rounded. More: joblog squareup --table quantity, money, labor, pay, places, days; "
        "--csv and --json are exact."
    )


def _standing(result: Reconciliation) -> list[str]:
    """How far the figures can be relied on, and what one thing would help most."""
    lines = []
    if result.open_doubts:
        wait = "entry waits for a decision and counts"
        if result.open_doubts > 1:
            wait = "entries wait for a decision and count"
        lines.append(f"{result.open_doubts} {wait} nowhere yet (joblog review).")
    if result.record is not None and (known := known_line(result.record)):
        lines.append(f"Known: {known}.")
    lines += [f"Cannot be: {gap_line(gap)}" for gap in result.gaps if gap.contradiction]
    best = next((gap for gap in result.gaps if gap.settled_by == "count"), None)
    if best is not None and not best.contradiction:
        lines.append(f"One count would tell most: {best.name}, {_worth(best)}.")
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
    """How much is open, and what it is worth: "where 4 panels ($132.00) are open"."""
    money = "" if gap.money is None else f" ({money_shown(gap.money)})"
    if gap.width is None:
        return f"worth{money}"
    are = "are" if gap.width > 1 else "is"
    return f"where {units_of(gap.width, gap.unit, gap.name)}{money} {are} open"


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
        if heading in heads("opening", "offcut", "returned", "moved_in", "moved_out")
        and all(row[at] == "0" for row in table.rows)
    )


def _without(table: Table, headings: tuple[str, ...]) -> Table:
    kept = [at for at, heading in enumerate(table.headings) if heading not in headings]
    rows = tuple(tuple(row[at] for at in kept) for row in table.rows)
    return Table(tuple(table.headings[at] for at in kept), rows, table.right)
