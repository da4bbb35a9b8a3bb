"""A list of pieces to cut, from a spreadsheet.

Columns: `length` (tape-measure text; a bare number is inches), `pieces` (1 each where there is no
such column), `label` (where it goes) and `item` (what it is cut from). In any order; only `length`
must be there.
"""

from __future__ import annotations

import csv
from collections.abc import Sequence
from pathlib import Path

from joblog.model import Piece, Problem
from joblog.quantity import inches_of
from joblog.sheet import SheetError, opened

COLUMNS = ("length", "pieces", "label", "item")


def read_pieces(source: str | Path) -> tuple[tuple[Piece, ...], tuple[Problem, ...]]:
    """The pieces, and one problem for every row that could not be read, which is left out.

    `source` is the text itself or a file.
    """
    try:
        with opened(source, "pieces") as (name, text):
            rows = list(csv.reader(text, skipinitialspace=True))
    except SheetError as error:
        return (), (error.problem,)
    columns = [cell.strip().lower() for cell in rows[0]] if rows else []
    if "length" not in columns:
        why = f"has no column length; its first row must name the columns: {', '.join(COLUMNS)}"
        return (), (Problem(name, why),)
    pieces, problems = [], []
    for number, row in enumerate(rows[1:], 2):
        if not any(cell.strip() for cell in row):
            continue
        where = f"{name}, row {number}"
        try:
            pieces.append(_piece(columns, row, where))
        except ValueError as error:
            problems.append(Problem(where, str(error)))
    if not pieces and not problems:
        problems.append(Problem(name, "has no row with a piece"))
    return tuple(pieces), tuple(problems)


def _piece(columns: Sequence[str], row: Sequence[str], where: str) -> Piece:
    if any(cell.strip() for cell in row[len(columns) :]):
        raise ValueError("has more cells than there are columns; quote a cell that holds a comma")
    cells = dict(zip(columns, (" ".join(cell.split()) for cell in row), strict=False))
    if not cells.get("length"):
        raise ValueError("has no length")
    length = inches_of(cells["length"])
    if length <= 0:
        raise ValueError(f"length {cells['length']}: a piece must be longer than zero")
    return Piece(
        length,
        _count(cells.get("pieces", "")) if "pieces" in columns else 1,
        cells.get("label", ""),
        cells.get("item") or None,
        where,
    )


def _count(text: str) -> int:
    if not text:
        raise ValueError("does not say how many pieces")
    if not (text.isascii() and text.isdigit() and len(text) <= _DIGITS):
        raise ValueError(f"pieces is {text[:40]!r}; it must be a whole number, 1 or more")
    if int(text) == 0:
        raise ValueError("asks for 0 pieces; it must be 1 or more")
    return int(text)


_DIGITS = 9
