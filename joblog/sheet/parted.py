"""Text with a row a line, and commas, semicolons or tabs between the cells."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable, Iterable, Iterator, Sequence

from joblog.sheet.cells import Grid, Wrong, text_in, without_unseen
from joblog.sheet.opening import UnreadableError


def parted(text: str, known: Callable[[Sequence[str]], int]) -> Grid:
    """The cells of a text. `known` counts the names in a first row that are columns of its table:
    what parts them best parts the cells. Raises UnreadableError."""
    text = without_unseen(text)  # one before a quotation mark hides that it opens a cell
    said = _SAID.match(text)
    if said:
        separator, text = said[1], text[said.end() :]
        if separator not in SEPARATORS:
            raise UnreadableError(f"is parted by {separator!r}, which is not one of , ; and tab")
    else:
        separator = max(SEPARATORS, key=lambda one: known(_first(text, one)))
    found = (f"{SEPARATORS[separator]} between the cells",) if separator != "," else ()
    rows = tuple(_cells(row, separator) for row in _not_too_many(_rows(text, separator)))
    return Grid(rows, found, parted_by_commas=separator == ",")


MOST_CELLS = 1_000_000
"""No table of a job comes near it; in a file of commas alone each letter makes one."""


def _not_too_many(rows: Iterable[list[str]]) -> Iterator[list[str]]:
    cells = 0
    for row in rows:
        cells += 1 + len(row)
        if cells > MOST_CELLS:
            raise UnreadableError(f"holds more than {MOST_CELLS:,} cells; part it into several")
        yield row


SEPARATORS = {",": "commas", ";": "semicolons", "\t": "tabs"}

_SAID = re.compile(r"sep=(.)\r?\n", re.IGNORECASE)
"""A spreadsheet program's own first line, which says what parts the cells."""


def _first(text: str, separator: str) -> Sequence[str]:
    """The first row that holds something; none where it is not to be read."""
    try:
        return next((row for row in _rows(text, separator) if any(map(str.strip, row))), ())
    except UnreadableError:
        return ()


def _rows(text: str, separator: str) -> Iterator[list[str]]:
    rows = csv.reader(
        io.StringIO(text, newline=""), delimiter=separator, skipinitialspace=True, strict=True
    )
    whole = 0
    try:
        for row in rows:
            yield row
            whole += 1
    except csv.Error:
        raise UnreadableError(
            f"cannot be read from row {whole + 1} on: a quotation mark is not closed, or something"
            ' stands behind the one that closes it; in a cell it is written twice, "8"" lap"'
        ) from None


def _cells(row: Sequence[str], separator: str) -> tuple[str, ...]:
    """A cell that holds what looks like whole rows was opened by a slip, and closed by another."""
    many = max(1, len(row) - 1)
    return tuple(
        Wrong("a quotation mark makes one cell of several lines; close it, or take them out")
        if ("\n" in cell or "\r" in cell)
        and any(line.count(separator) >= many for line in cell.splitlines())
        else text_in(cell)
        for cell in row
    )
