"""Tables of the report on paper."""

from __future__ import annotations

from joblog.papers.blocks import Table
from joblog.report.table import Table as Report


def on_paper(report: Report, caption: str = "", *, total: bool = False) -> Table:
    """The same table as a block."""
    right = frozenset(at for at, heading in enumerate(report.headings) if heading in report.right)
    return Table(report.headings, report.rows, caption, right, total)


def without(report: Report, *headings: str) -> Report:
    """The table without these columns."""
    kept = [at for at, heading in enumerate(report.headings) if heading not in headings]
    return Report(
        tuple(report.headings[at] for at in kept),
        tuple(tuple(row[at] for at in kept) for row in report.rows),
        report.right,
    )


def idle(report: Report) -> tuple[str, ...]:
    """Columns that say nothing on this job: they hold a nought or nothing in each row."""
    return tuple(
        heading
        for at, heading in enumerate(report.headings)
        if all(row[at] in ("", "0", "0.00", "-") for row in report.rows)
    )
