"""What the job had beside its plan: extras to charge, money spent, miles driven."""

from __future__ import annotations

from textual.content import Content

from joblog.form import plain
from joblog.local import day_written
from joblog.model import BesideLine, Reconciliation
from joblog.report.figures import agreement, beside_sums, money_shown, or_dash
from joblog_tui.columns import in_columns
from joblog_tui.squared_row import SquaredRow


def beside(squared: Reconciliation, width: int = 78) -> tuple[SquaredRow, ...]:
    """One line an extra, an expense or a drive, in the order of the days."""
    lines = squared.beside.lines
    names = [
        f"{day_written(line.day, short=True)} {line.kind}: {plain(line.text)}" for line in lines
    ]
    rows = [_cells(line) for line in lines]
    heads, shown = in_columns("what", ("money", "hours", "miles"), names, rows, width)
    sums = "\n".join(beside_sums(squared.beside))
    return tuple(
        SquaredRow(heads, text, _meaning(line, sums), (line.entry,))
        for text, line in zip(shown, lines, strict=True)
    )


def _cells(line: BesideLine) -> tuple[str, ...]:
    price = "-" if line.price is None else money_shown(line.price)
    return price, or_dash(line.hours), or_dash(line.miles)


def _meaning(line: BesideLine, sums: str) -> Content:
    who = plain(line.who or "")
    if line.kind == "extra":
        # Who it was stands in that as well.
        who = plain(agreement(line))
    told = f"{plain(line.text)} ({who})" if who else plain(line.text)
    return Content.assemble((told, "bold"), f"\n{sums}")
