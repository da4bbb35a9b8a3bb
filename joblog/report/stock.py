"""What lies where, as a table."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from decimal import Decimal
from fractions import Fraction

from joblog.local import day_written
from joblog.model import Lying
from joblog.report.figures import amount, cost_cell, unit_cell
from joblog.report.table import Shown, Table

Line = tuple[Lying, Decimal | None, Fraction, date | None]
"""What lies somewhere, what it cost as far as anybody told, of how many nobody did, and since when
the oldest of it is here."""


def stock_table(lines: Sequence[Line]) -> Table:
    """One line an item and end; in stock first."""
    headings = ("where", "item", "how many", "unit", "cost", "since", "to know")
    rows = tuple(
        (
            lying.where,
            lying.item,
            amount(lying.quantity),
            unit_cell(lying.unit, lying.item),
            cost_cell(cost),
            since_cell(since),
            "; ".join(to_know(lying, unpriced)),
        )
        for lying, cost, unpriced, since in lines
    )
    return Table(headings, rows, right=frozenset(("how many", "cost")))


def since_cell(since: date | None) -> str:
    """ "Oct 5, 2026"; the day as ISO 8601 for CSV."""
    return (
        Shown("-", "")
        if since is None
        else Shown(day_written(since, short=True, year=True), str(since))
    )


def to_know(lying: Lying, unpriced: Fraction) -> tuple[str, ...]:
    """What a person should know before he counts on it."""
    found = []
    if unpriced == lying.quantity:
        found.append("nobody told what it cost")
    elif unpriced:
        found.append(f"nobody told what {amount(unpriced)} of it cost")
    if not lying.counted:
        found.append("not counted: what the record leaves")
    return tuple(found)
