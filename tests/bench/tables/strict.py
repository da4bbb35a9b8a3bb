"""The strict reader: bytes to what the rows mean, or `RefusedError`."""

from __future__ import annotations

import io
import re
from datetime import date, datetime
from fractions import Fraction

import openpyxl

from tests.bench.tables import grammar
from tests.bench.tables.grammar import RefusedError
from tests.bench.tables.kinds import Kind, Row, Value


def read(found: bytes, kind: Kind) -> list[Row]:
    """What each row that holds something means. Raises RefusedError."""
    if found[:4] == b"PK\x03\x04":
        grid, separator = _of_workbook(found), None
    else:
        text = _text(found)
        if hint := re.match(r"sep=([,;\t])(?:\r\n|\r|\n)", text):
            text = text[hint.end() :]
        separator = _separator(text, kind)
        grid = _cells(text, separator)
    while grid and not any(cell.strip() for cell in grid[0]):
        grid.pop(0)
    if not grid:
        raise RefusedError("nothing in it")
    columns = [_column(cell, kind) for cell in grid[0]]
    _check(columns, grid[1:], kind)
    rows = [
        {c: _bare(cell) for c, cell in zip(columns, cells, strict=False) if c and cell.strip()}
        for cells in grid[1:]
    ]
    if not any(rows):
        raise RefusedError("no row in it")
    decimal = _decimal(rows, kind, separator)
    return [_meaning(row, kind, decimal) for row in rows if row]


def _bare(cell: str) -> str:
    return cell if isinstance(cell, _Typed) else cell.strip()


def _text(found: bytes) -> str:
    if found.startswith((b"\xff\xfe", b"\xfe\xff")):
        names: tuple[str, ...] = ("utf-16",)
    elif found.startswith(b"\xef\xbb\xbf"):
        names = ("utf-8-sig",)
    elif b"\0" in found[:200]:
        names = ("utf-16-be",) if found[:1] == b"\0" else ("utf-16-le",)
    else:
        names = ("utf-8", "cp1252")
    for name in names:
        try:
            text = found.decode(name)
        except UnicodeDecodeError:
            continue
        if re.search(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f\ufffd]", text):
            raise RefusedError("signs that no table has")
        return text.replace("\ufeff", "")
    raise RefusedError("no text")


def _separator(text: str, kind: Kind) -> str:
    first = next((line for line in re.split(r"\r\n|\r|\n", text) if line.strip(' ,;\t"')), "")
    named = {
        sign: {_column(cell, kind) for cell in _cells(first, sign)[0]}
        for sign in ",;\t"
        if _may(first, sign)
    }
    fits = {
        sign: len(columns & set(kind.columns))
        for sign, columns in named.items()
        if set(kind.required) <= columns
    }
    most = [sign for sign, count in fits.items() if count == max(fits.values())]
    if not most or (len(most) > 1 and len(named[most[0]]) > 1):
        raise RefusedError("no header, or one of another table")
    return most[0]


def _may(first: str, sign: str) -> bool:
    """Whether a row can be parted by it: no quote closes before anything else."""
    try:
        return bool(_cells(first, sign))
    except RefusedError:
        return False


def _cells(text: str, separator: str) -> list[list[str]]:
    """Strictly: quotes open and close a whole cell, or stand inside one that has none around it."""
    rows: list[list[str]] = [[]]
    at = 0
    while at <= len(text):
        start = at
        while text[at : at + 1] == " ":
            at += 1
        if text[at : at + 1] == '"':
            cell, at = _quoted(text, at + 1)
            while text[at : at + 1] == " ":
                at += 1
            if text[at : at + 1] not in ("", separator, "\n", "\r"):
                raise RefusedError("something behind a closing quote")
        else:
            at = start
            while text[at : at + 1] not in ("", separator, "\n", "\r"):
                at += 1
            cell = text[start:at]
        rows[-1].append(cell)
        sign = text[at : at + 1]
        if sign in ("\n", "\r"):
            at += text[at : at + 2] == "\r\n"
            rows.append([])
        at += 1
    return rows


def _quoted(text: str, at: int) -> tuple[str, int]:
    cell = ""
    while True:
        end = text.find('"', at)
        if end < 0:
            raise RefusedError("a quote that never closes")
        cell += text[at:end]
        if text[end + 1 : end + 2] != '"':
            return cell, end + 1
        cell, at = cell + '"', end + 2


def _of_workbook(found: bytes) -> list[list[str]]:
    try:
        book = openpyxl.load_workbook(io.BytesIO(found))
    except Exception as error:
        raise RefusedError("no workbook") from error
    [sheet] = book.worksheets
    return [[_shown(cell.value) for cell in row] for row in sheet.iter_rows()]


def _shown(value: object) -> str:
    if isinstance(value, datetime):
        return value.date().isoformat()
    if isinstance(value, str) and value.startswith("="):
        raise RefusedError("a formula without its value")
    return "" if value is None else _Typed(value) if isinstance(value, float) else str(value)


class _Typed(str):
    """A number as a workbook keeps it, of which no sign is in doubt."""


ALIKE = {
    "plan": {"qty": "quantity", "units": "unit"},
    "catalog": {"units": "unit"},
    "history": {"net": "work", "consumed": "gone", "jobs": "job", "crew hours": "man-hours",
                "man hours": "man-hours"},
}  # fmt: skip
"""Spellings of a column that can mean nothing else."""


def _column(cell: str, kind: Kind) -> str:
    name = " ".join(cell.lower().replace("_", " ").replace("-", " ").split())
    named = {column.replace("-", " "): column for column in kind.columns}
    return ALIKE.get(kind.name, {}).get(name, named.get(name, name))


def _check(columns: list[str], rows: list[list[str]], kind: Kind) -> None:
    for column in columns:
        if column and column not in kind.columns:
            filled = any(
                cells[x : x + 1] and cells[x].strip()
                for cells in rows
                for x, name in enumerate(columns)
                if name == column
            )
            if filled:
                raise RefusedError(f"nobody knows the column {column!r}")
    named = [column for column in columns if column]
    if len(set(named)) < len(named):
        raise RefusedError("a column twice")
    if missing := set(kind.required) - set(columns):
        raise RefusedError(f"no column {missing}")
    for cells in rows:
        for x, cell in enumerate(cells):
            if cell.strip() and (x >= len(columns) or not columns[x]):
                raise RefusedError("a cell under no column")


def _decimal(rows: list[dict[str, str]], kind: Kind, separator: str | None) -> str:
    cells = [
        cell
        for row in rows
        for column, cell in row.items()
        if kind.columns.get(column) not in ("word", "list", "day", None)
        and not isinstance(cell, _Typed)
    ]
    signs = grammar.told(cells)
    if len(signs) == 2:
        raise RefusedError("decimals with a comma and with a point")
    if signs:
        return signs.pop()
    if separator != "," and grammar.open_to_doubt(cells):
        raise RefusedError("1,200 or 1.200, and nothing tells which")
    return "."


READERS = {
    "number": grammar.number,
    "degrees": grammar.degrees,
    "money": grammar.money,
    "whole": grammar.whole,
    "inches": grammar.inches,
    "feet": lambda text, decimal: grammar.inches(text, decimal, 12),
    "tape": lambda text, decimal: grammar.inches(text, decimal, 12),
    "pitch": grammar.pitch,
    "day": grammar.day,
}


def _meaning(row: dict[str, str], kind: Kind, decimal: str) -> Row:
    return {
        column: _value(kind.columns[column], cell, decimal)
        for column, cell in row.items()
        if column in kind.columns
    }


def _value(sort: str, cell: str, decimal: str) -> Value:
    decimal = "." if isinstance(cell, _Typed) else decimal
    if cell.startswith("'") and cell[1:2] in ("=", "+", "-", "@"):
        cell = cell[1:]
    if sort == "word":
        return {"out": "outside", "in": "inside"}.get(cell, " ".join(cell.split()))
    if sort == "list":
        return tuple(" ".join(part.split()) for part in cell.split(";") if part.strip())
    if sort == "worded":
        found = re.fullmatch(r"(.*[0-9½¼¾⅛-⅞⅓⅔]) ?(ft|feet|ft2|hours?)", cell.strip())
        if not found:
            raise RefusedError(f"no amount: {cell!r}")
        return (grammar.number(found[1], decimal), found[2])
    value: Fraction | date = READERS[sort](cell, decimal)
    return value
