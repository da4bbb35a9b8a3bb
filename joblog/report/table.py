"""A table of plain cells: printed in columns for a terminal, or written as CSV."""

from __future__ import annotations

import csv
import io
import re
import textwrap
from collections.abc import Sequence
from dataclasses import dataclass

from joblog.form import plain
from joblog.report.words import IN_CSV


class Shown(str):
    """A cell as a person reads it, which knows what CSV has in its place: exact, and ISO."""

    exact: str

    def __new__(cls, text: str, exact: str) -> Shown:
        cell = super().__new__(cls, text)
        cell.exact = exact
        return cell


@dataclass(frozen=True, slots=True)
class Table:
    """Headings and rows of text. Columns named in `right` are numbers and stand to the right."""

    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    right: frozenset[str] = frozenset()
    notes: tuple[str, ...] = ()
    """What a person reads below it, such as what a "?" in it stands for."""


def as_text(table: Table, width: int = 100) -> str:
    """Columns under their headings; the last column is wrapped to fit `width` characters."""
    if not table.rows:
        return "nothing here yet"
    cells = [tuple(plain(cell) for cell in row) for row in (table.headings, *table.rows)]
    widths = [max(len(row[at]) for row in cells) for at in range(len(table.headings))]
    room = max(20, width - sum(widths[:-1]) - 2 * (len(widths) - 1))
    widths[-1] = min(widths[-1], room)
    lines: list[str] = []
    for number, row in enumerate(cells):
        wrapped = textwrap.wrap(row[-1], room) or [""]
        for part, last in enumerate(wrapped):
            shown = (*row[:-1], last) if part == 0 else ("",) * (len(row) - 1) + (last,)
            lines.append("  ".join(_aligned(table, widths, shown)).rstrip())
        if number == 0:
            lines.append("  ".join("-" * size for size in widths))
    for note in table.notes:
        lines += textwrap.wrap(plain(note), max(40, width), subsequent_indent="  ")
    return "\n".join(lines)


def as_csv(table: Table) -> str:
    """The table as CSV (RFC 4180) for a spreadsheet.

    A cell of text that a spreadsheet would take for a formula gets an apostrophe in front.
    """
    out = io.StringIO()
    writer = csv.writer(out)
    writer.writerow([IN_CSV.get(heading, heading) for heading in table.headings])
    writer.writerows([_harmless(_exact(cell)) for cell in row] for row in table.rows)
    return out.getvalue()


def _exact(cell: str) -> str:
    return cell.exact if isinstance(cell, Shown) else cell


_NUMBER = re.compile(r"-?[\d ./]+")


def _harmless(cell: str) -> str:
    shown = plain(cell)
    risky = shown[:1] in ("=", "+", "-", "@") or cell[:1] in ("\t", "\r")
    return "'" + shown if risky and not _NUMBER.fullmatch(shown) else shown


def _aligned(table: Table, widths: Sequence[int], row: Sequence[str]) -> list[str]:
    return [
        cell.rjust(size) if heading in table.right else cell.ljust(size)
        for heading, size, cell in zip(table.headings, widths, row, strict=True)
    ]
