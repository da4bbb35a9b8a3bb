"""A list of pieces to cut, from a spreadsheet.

Columns: `length` (tape-measure text; a bare number is inches), `pieces` (1 each where there is no
such column), `label` (where it goes) and `item` (what it is cut from). In any order; only `length`
must be there. A row with a `lap` is a run, which may be made of several pieces that lap by so much:
then `spacing` and `first` say where alone joints may fall, `clear` how far they stay from its ends
and each other, `beside` and `stagger` the item whose joints at the same label they stay away from.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from joblog.model import Joints, Piece, Problem
from joblog.quantity import fraction_of, inches_of
from joblog.reason import check
from joblog.sheet import AS_IT_IS, Columns, Reading, Row, each_row, read_sheet

JOINTS = ("lap", "spacing", "first", "clear", "beside", "stagger")
COLUMNS = ("length", "pieces", "label", "item", *JOINTS)


def read_pieces(
    source: str | bytes | Path, reading: Reading = AS_IT_IS
) -> tuple[tuple[Piece, ...], tuple[Problem, ...]]:
    """The pieces, and one problem for every row that could not be read, which is left out.

    `source` is a file, or its content.
    """
    sheet = read_sheet(source, "pieces", OF_PIECES, reading)
    pieces: list[Piece] = []
    counted = "pieces" in sheet.columns

    def read(row: Row) -> None:
        pieces.append(_piece(row, counted=counted, decimal=sheet.decimal, sure=reading.sure))

    problems = each_row(sheet, read)
    return tuple(pieces), problems


OF_PIECES = Columns(
    "a list of pieces",
    COLUMNS,
    required=("length",),
    alike={"lengths": "length", "piece": "pieces", "labels": "label", "items": "item"},
    perhaps={
        "quantity": "pieces", "qty": "pieces", "count": "pieces", "number": "pieces",
        "pcs": "pieces", "many": "pieces", "no": "pieces", "inches": "length", "cut": "length",
        "size": "length", "name": "label", "place": "label", "where": "label", "note": "label",
        "mark": "label", "material": "item", "stock": "item",
    },
    words=("label", "item", "beside"),
)  # fmt: skip


def _piece(row: Row, *, counted: bool, decimal: str, sure: bool) -> Piece:
    cells = {column: " ".join(cell.split()) for column, cell in row.cells.items()}
    if not cells["length"]:
        raise ValueError("has no length")
    length = inches_of(cells["length"], decimal=decimal)
    if length <= 0:
        raise ValueError(f"length {cells['length']}: a piece must be longer than zero")
    check("length of a piece", length, "in", sure=sure)
    return Piece(
        length,
        _count(cells, decimal, sure) if counted else 1,
        cells.get("label", ""),
        cells.get("item") or None,
        row.where,
        _joints(cells, decimal, sure),
    )


def _joints(cells: Mapping[str, str], decimal: str, sure: bool) -> Joints | None:
    said = [column for column in JOINTS if cells.get(column)]
    if not said:
        return None
    if "lap" not in said:
        raise ValueError(f"says {said[0]}, but no lap; 0 where pieces meet end to end")
    inches = {
        column: inches_of(cells[column], decimal=decimal) for column in said if column != "beside"
    }
    for column, length in inches.items():
        if length < 0:
            raise ValueError(f"{column} {cells[column]}: is below zero")
        if length or column == "lap":
            check("lap" if column == "lap" else "length of a piece", length, "in", sure=sure)
    if "spacing" in inches and not inches["spacing"]:
        raise ValueError("spacing 0: leave it out where joints may fall anywhere")
    if ("beside" in said) != ("stagger" in said):
        raise ValueError("says beside and stagger together, or neither")
    return Joints(**inches, beside=cells.get("beside", ""))


def _count(cells: Mapping[str, str], decimal: str, sure: bool) -> int:
    text = cells["pieces"]
    if not text:
        raise ValueError("does not say how many pieces")
    try:
        count = fraction_of(text, decimal=decimal)
    except ValueError:
        count = None
    if count is None or count.denominator != 1 or not 0 <= count < _MANY:
        raise ValueError(f"pieces is {text[:40]!r}; it must be a whole number, 1 or more")
    if count == 0:
        raise ValueError("asks for 0 pieces; it must be 1 or more")
    check("pieces", count, sure=sure)
    return int(count)


_MANY = 10**9
