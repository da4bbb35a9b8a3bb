"""A workbook (.xlsx): its cells as a person sees them, its numbers exactly as they were typed."""

from __future__ import annotations

import io
import re
import warnings
import zipfile
import zlib
from collections.abc import Callable, Iterator, Sequence
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from typing import TYPE_CHECKING, Any

from joblog import pulse
from joblog.sheet.cells import Day, Exact, Grid, Wrong, text_in
from joblog.sheet.opening import UnreadableError

if TYPE_CHECKING:
    from openpyxl.workbook import Workbook
    from openpyxl.worksheet.worksheet import Worksheet

LARGEST = 64 * 2**20
"""Bytes of a workbook that is unpacked; a small file may unpack to more than a memory holds."""
MOST_CELLS = 500_000
"""Cells that are written down, and cells up to the last one: each takes half a kilobyte."""


def is_workbook(content: bytes) -> bool:
    """Whether a file begins as one does; nothing of it is opened yet. Raises UnreadableError for
    one of an older kind or with a password."""
    if content.startswith(_OLD):
        raise UnreadableError(
            "is an old workbook (.xls), or one with a password; save it as .xlsx or CSV"
        )
    return content.startswith(b"PK\x03\x04")


_OLD = bytes.fromhex("d0cf11e0a1b11ae1")
DAMAGED = "is a workbook that is damaged; save it once more"


def cells_of(content: bytes, known: Callable[[Sequence[str]], int]) -> Grid:
    """The cells of the one sheet whose first row names columns. `known` counts those in a row.

    Raises UnreadableError where there are several such sheets, or the workbook is damaged, too
    large or of another program.
    """
    refuse_too_large(content)
    written = _opened(content, results=False)
    sheet, notes = _sheet_meant(written, known)
    formulas = any(cell.data_type == "f" for row in sheet.iter_rows() for cell in row)
    results = _opened(content, results=True)[sheet.title] if formulas else sheet
    merged = {
        cell: f"is one cell with others ({area.coord}); part them, and fill in each"
        for area in sheet.merged_cells.ranges
        for cell in area.cells
    }
    rows = tuple(
        tuple(_cell(cell, result, merged) for cell, result in zip(row, shown, strict=True))
        for row, shown in zip(sheet.iter_rows(), results.iter_rows(), strict=True)
    )
    return Grid(rows, (*notes, *_hidden(sheet, rows)))


def refuse_too_large(content: bytes) -> None:
    """Raises UnreadableError for a workbook that would fill the memory, and for what is none."""
    try:
        with zipfile.ZipFile(io.BytesIO(content)) as parts:
            names = parts.namelist()
            if "xl/workbook.xml" not in names:
                raise UnreadableError(
                    "is no workbook that can be read here; save it as .xlsx or CSV"
                )
            if sum(part.file_size for part in parts.infolist()) > LARGEST:
                raise UnreadableError(
                    f"cannot be read: it unpacks to more than {LARGEST // 2**20} MB"
                )
            written = sum(_cells_in(parts.read(name)) for name in names if _SHEET.match(name))
    except (zipfile.BadZipFile, zlib.error, EOFError, OSError, ValueError, RuntimeError) as error:
        if isinstance(error, UnreadableError):
            raise
        raise UnreadableError(DAMAGED) from None
    if written > MOST_CELLS:
        raise UnreadableError(
            f"holds, or reaches to, more than {MOST_CELLS:,} cells; copy the rows that are meant"
            " into a new workbook"
        )


def _cells_in(sheet: bytes) -> int:
    """How many cells a sheet's part makes when it is opened: up to its last one, and those that
    are one with others, whether anything is written in them or not."""
    many = len(_CELL.findall(sheet))
    if many > MOST_CELLS:
        return many
    columns, last = 0, max(len(_ROW.findall(sheet)), *map(int, _NUMBERED.findall(sheet)), 0)
    for column, row in _REACHES.findall(sheet):
        columns, last = max(columns, _number_of(column)), max(last, int(row))
    joined = 0
    for left, top, right, bottom in _MERGED.findall(sheet):
        wide = abs(_number_of(right) - _number_of(left)) + 1
        joined += wide * (abs(int(bottom) - int(top)) + 1)
    return max(many, columns * last, joined)


def _number_of(column: bytes) -> int:
    """Of a column that is called by letters: A is 1, AA 27."""
    number = 0
    for letter in column:
        number = number * 26 + letter - 64
    return number


_SHEET = re.compile(r"xl/(?:worksheets|chartsheets|dialogsheets)/.*\.xml$", re.IGNORECASE)
_CELL = re.compile(rb"<(?:\w+:)?c[\s/>]")
_ROW = re.compile(rb"<(?:\w+:)?row[\s/>]")
_NUMBERED = re.compile(rb"<(?:\w+:)?row\b[^>]*?\br=[\"']([0-9]{1,9})[\"']")
_REACHES = re.compile(rb"<(?:\w+:)?c\b[^>]*?\br=[\"']([A-Z]{1,7})([0-9]{1,9})[\"']")
_MERGED = re.compile(
    rb"<(?:\w+:)?mergeCell\b[^>]*?\bref=[\"']([A-Z]{1,7})([0-9]{1,9}):([A-Z]{1,7})([0-9]{1,9})[\"']"
)


def _opened(content: bytes, *, results: bool) -> Workbook:
    from openpyxl import load_workbook

    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of styles and rules, which are not read
            workbook = load_workbook(io.BytesIO(content), data_only=results, keep_links=False)
    except MemoryError:
        raise
    except Exception as error:  # whatever a damaged or hostile file makes the library raise
        raise UnreadableError(DAMAGED) from error
    pulse.goes_on()
    return workbook


def _sheet_meant(
    workbook: Workbook, known: Callable[[Sequence[str]], int]
) -> tuple[Worksheet, tuple[str, ...]]:
    """The sheet that is read, and what a person should know of the others."""
    filled = [sheet for sheet in workbook.worksheets if _first_row(sheet)]
    if not filled:
        raise UnreadableError("holds nothing")
    likely = [sheet for sheet in filled if known(_first_row(sheet))] or filled
    if len(likely) > 1:
        most = max(known(_first_row(sheet)) for sheet in likely)
        best = [sheet for sheet in likely if known(_first_row(sheet)) == most]
        if len(best) > 1:
            names = ", ".join(repr(sheet.title) for sheet in best)
            raise UnreadableError(
                f"has several sheets with such columns ({names}); save the one that is meant by"
                " itself, as .xlsx or CSV"
            )
        likely = best
    sheet = likely[0]
    others = [one.title for one in filled if one is not sheet]
    notes = []
    if others or sheet.sheet_state != "visible":
        hidden = ", which is hidden" if sheet.sheet_state != "visible" else ""
        left = f"; not read: {', '.join(map(repr, others))}" if others else ""
        notes.append(f"sheet {sheet.title!r}{hidden}{left}")
    return sheet, tuple(notes)


def _first_row(sheet: Worksheet) -> tuple[str, ...]:
    """The first row that holds something, as text."""
    for row in sheet.iter_rows(values_only=True):
        if any(value not in (None, "") for value in row):
            return tuple("" if value is None else str(value) for value in row)
    return ()


def _hidden(sheet: Worksheet, rows: Sequence[Sequence[str]]) -> Iterator[str]:
    held = [number for number, row in enumerate(rows, 1) if any(row)]
    hidden = sum(number in sheet.row_dimensions and sheet.row_dimensions[number].hidden
                 for number in held)  # fmt: skip
    if hidden:
        yield f"{hidden} hidden row{'s' * (hidden != 1)} read too"
    if any(column.hidden for column in sheet.column_dimensions.values()):
        yield "hidden columns read too"


def _cell(written: Any, result: Any, merged: dict[tuple[int, int], str]) -> str:
    """A cell as it was typed, and as it is shown where it is a formula."""
    if (why := merged.get((written.row, written.column))) is not None:
        return Wrong(why)
    value = result.value
    if written.data_type == "f" and value is None:
        return Wrong("is a formula without its result; open the workbook once and save it")
    if value is None:
        return ""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, int | float | Decimal):
        return _number(value, written.number_format)
    if isinstance(value, datetime | date):
        day = value.date() if isinstance(value, datetime) and value.time() == time() else value
        return Day(day.isoformat())
    if isinstance(value, time | timedelta):
        return Wrong(
            f"{value} is a time of day, which a spreadsheet makes of what it takes for one"
        )
    return text_in(str(value))


def _number(value: float | Decimal, shown_as: str) -> str:
    """The shortest text that a spreadsheet program itself would keep: its numbers have 15 digits.

    With what its format shows behind it, such as "ft", % or the zeros before a number of a part.
    """
    exact = Decimal(format(value, ".15g")) if isinstance(value, float) else Decimal(value)
    if not exact.is_finite():
        return Wrong(f"{value} is no number")
    plain = shown_as.partition(";")[0]
    if plain.endswith("%"):
        return Exact(f"{_text(exact * 100)}%")
    if _ZEROS.fullmatch(plain) and exact == exact.to_integral_value():
        return Exact(f"{int(exact):0{len(plain)}d}")
    behind = _BEHIND.search(plain)
    unit = re.sub(r'["\\]', "", behind[1]) if behind and '\\"' not in behind[1] else ""
    unit = '"' if behind and '\\"' in behind[1] else unit
    return Exact(f"{_text(exact)}{unit}") if _UNIT.fullmatch(unit) else Exact(_text(exact))


def _text(number: Decimal) -> str:
    text = f"{number:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


_ZEROS = re.compile(r"0{2,}")
_BEHIND = re.compile(r'(?:[0#?]|General)((?:\s|"[^"]*"|\\.)+)$')
_UNIT = re.compile(r"\s*[A-Za-z'\"][A-Za-z0-9.'\"]*\s*")
