"""The squared-up job on one page."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from joblog.form import amount, plain, units_of
from joblog.model import Reconciliation, StockLine
from joblog.report.table import Table, as_text


def squared_up(result: Reconciliation, width: int = 100) -> str:
    """Material, labor, money and what is missing, as text."""
    title = f"{plain(result.job)}, squared up"
    parts = [f"{title}\n{'=' * len(title)}"]
    if result.open_doubts:
        entries = "entry is" if result.open_doubts == 1 else "entries are"
        parts.append(f"{result.open_doubts} doubtful {entries} left out until settled.")
    stock, tasks = stock_table(result), task_table(result)
    costs = ("plan cost", "real cost")
    parts.append(as_text(_without(stock, (*costs, *_idle(stock))), width))
    parts.append(as_text(tasks, width))
    parts.append(as_text(_only(stock, ("item", "planned", "used up", *costs)), width))
    spoiled = [
        f"  {line.item}: {units_of(quantity, line.unit)}, {reason}"
        for line in result.stock
        for reason, quantity in line.reasons
    ]
    if spoiled:
        parts.append("spoiled, in the words it was told:\n" + "\n".join(map(plain, spoiled)))
    missing = [
        *(gap.text for gap in result.gaps),
        *(_left_out(line) for line in result.stock if line.left_out),
    ]
    if missing:
        parts.append("not known:\n" + "\n".join(f"  {plain(note)}" for note in missing))
    return "\n\n".join(parts)


def stock_table(result: Reconciliation) -> Table:
    """opening + delivered - returned - on hand = used up = placed + spoiled + offcut + ?"""
    headings = (
        "item", "unit", "planned", "opening", "delivered", "returned", "on hand", "used up",
        "placed", "spoiled", "offcut", "unexplained", "plan cost", "real cost",
    )  # fmt: skip
    return Table(
        headings,
        tuple(
            (
                line.item,
                line.unit,
                "-" if line.planned is None else amount(line.planned),
                amount(line.opening),
                amount(line.delivered),
                amount(line.returned),
                amount(line.on_hand),
                _used_up(line),
                amount(line.placed),
                amount(line.spoiled),
                amount(line.offcut),
                _unexplained(line),
                _money(line.planned_cost),
                _money(line.actual_cost),
            )
            for line in result.stock
        ),
        right=frozenset(headings[2:]),
    )


def task_table(result: Reconciliation) -> Table:
    """Crew hours, planned and told."""
    headings = ("task", "planned hours", "real hours", "difference", "plan cost", "real cost")
    return Table(
        headings,
        tuple(
            (
                line.task,
                "-" if line.planned is None else amount(line.planned),
                amount(line.actual),
                "-" if line.planned is None else _signed(line.actual - line.planned),
                _money(line.planned_cost),
                _money(line.actual_cost),
            )
            for line in result.tasks
        ),
        right=frozenset(headings[1:]),
    )


def _idle(table: Table) -> tuple[str, ...]:
    """Columns that say nothing on this job, so that the page stays narrow."""
    return tuple(
        heading
        for at, heading in enumerate(table.headings)
        if heading in ("opening", "offcut") and all(row[at] == "0" for row in table.rows)
    )


def _only(table: Table, headings: tuple[str, ...]) -> Table:
    kept = [table.headings.index(heading) for heading in headings]
    rows = tuple(tuple(row[at] for at in kept) for row in table.rows)
    return Table(headings, rows, table.right)


def _without(table: Table, headings: tuple[str, ...]) -> Table:
    return _only(table, tuple(heading for heading in table.headings if heading not in headings))


def _used_up(line: StockLine) -> str:
    if line.consumed is not None:
        return amount(line.consumed)
    if line.at_least >= line.at_most:
        return amount(line.at_least)
    return f"{amount(line.at_least)} to {amount(line.at_most)}"


def _unexplained(line: StockLine) -> str:
    """With a question mark where entries that may explain it wait for a decision."""
    waiting = " ?" if line.left_out and line.unaccounted is not None else ""
    return amount(line.unaccounted) + waiting


def _left_out(line: StockLine) -> str:
    ids = ", ".join(map(str, line.left_out))
    return f"{line.item}: not counted, being doubtful or of another unit: entries {ids}"


def _signed(difference: Fraction) -> str:
    return f"+{amount(difference)}" if difference > 0 else amount(difference)


def _money(cost: Decimal | None) -> str:
    return "?" if cost is None else f"{cost:,.2f}"
