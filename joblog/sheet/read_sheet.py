"""A table from a file, whatever program wrote it: nothing of it is guessed, nothing is passed over.

Commas, semicolons or tabs between the cells, any usual encoding, or a workbook (.xlsx). What was
found out is said in a `Notice`; what cannot be known is refused in words, with a `Question` where a
person may settle it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

from joblog.model import Problem
from joblog.reason import BeyondReason
from joblog.sheet.cells import Day, Exact, Grid, Wrong
from joblog.sheet.columns import Names, matched
from joblog.sheet.decimals import sign_in
from joblog.sheet.nouns import SURE, Columns, Notice, Question, Reading, Row, Sheet
from joblog.sheet.opening import UnreadableError, content_of, letters_of
from joblog.sheet.parted import parted

AS_IT_IS = Reading()


def read_sheet(
    source: str | bytes | Path, unnamed: str, columns: Columns, reading: Reading = AS_IT_IS
) -> Sheet:
    """The rows of a table by our names of its columns. Never raises.

    `source` is a file, or its content, which is called `unnamed`.
    """
    name = source.name if isinstance(source, Path) else unnamed
    names = Names(columns, reading.named)
    try:
        grid = _grid(source, names)
    except UnreadableError as error:
        return Sheet(name, problems=(Problem(name, str(error)),), reading=reading)
    filled = [(number, row) for number, row in enumerate(grid.rows, 1) if any(row)]
    header, body = (_named(filled[0][1]), filled[1:]) if filled else ((), [])
    found = matched(name, header, columns, reading, lambda place: _sample(body, place))
    if found.problems:
        return Sheet(name, problems=found.problems, reading=reading)
    of_numbers = [
        place
        for place, one in enumerate(found.names)
        if one and one not in columns.words and one not in columns.days
    ]
    sign = sign_in(
        name,
        [
            (number, row[place])
            for number, row in body
            for place in of_numbers
            if _is_text(row, place)
        ],
        reading,
        by_commas=grid.parted_by_commas,
    )
    if sign.problem is not None:
        return Sheet(name, problems=(sign.problem,), reading=reading)
    rows: list[Row] = []
    problems: list[Problem] = [*_told(name, grid, sign.decimal)]
    for number, row in body:
        where = f"{name}, row {number}"
        why = _wrong(row, found.names, columns)
        if why:
            problems.append(_left_out(Problem(where, why), reading))
        else:
            rows.append(Row(where, _cells(row, found.names, columns, sign.decimal)))
    ours = tuple(one for one in found.names if one)
    return Sheet(name, ours, tuple(rows), tuple(problems), sign.decimal, reading)


def each_row(sheet: Sheet, read: Callable[[Row], None]) -> tuple[Problem, ...]:
    """The problems of the sheet, and of each row that `read` refuses with a ValueError in words; a
    number beyond reason is a `Question`.

    Where the good rows are wanted without the bad ones, those are told of in a `Notice`.
    """
    problems = list(sheet.problems)
    if not sheet.rows and not refused(problems):
        problems.append(Problem(sheet.name, "holds no row below its first one"))
    for row in sheet.rows:
        try:
            read(row)
        except BeyondReason as error:
            problems.append(_left_out(Question(row.where, str(error), (SURE,)), sheet.reading))
        except ValueError as error:
            problems.append(_left_out(Problem(row.where, str(error)), sheet.reading))
    left_out = sum(isinstance(one, _LeftOut) for one in problems)
    if left_out:
        rows = "1 row was" if left_out == 1 else f"{left_out:,} rows were"
        problems.append(Notice(sheet.name, f"{rows} left out"))
    return tuple(problems)


def columns_in(
    source: str | bytes | Path, columns: Columns, reading: Reading = AS_IT_IS
) -> tuple[str, ...]:
    """Those of our columns that a table names, whatever else it holds; none where it cannot be
    read."""
    names = Names(columns, reading.named)
    try:
        header = next(filter(any, _grid(source, names).rows), ())
    except UnreadableError:
        return ()
    return tuple(filter(None, map(names.ours, header)))


def refused(problems: Sequence[Problem]) -> tuple[Problem, ...]:
    """Those because of which something was not taken in that should have been."""
    return tuple(problem for problem in problems if not isinstance(problem, Notice))


class _LeftOut(Notice):
    """A row that a person does not mind to go without."""

    __slots__ = ()


def _left_out(problem: Problem, reading: Reading) -> Problem:
    return _LeftOut(problem.what, problem.why) if reading.without_bad_rows else problem


def _named(header: Sequence[str]) -> Sequence[str]:
    """The first row as far as it names columns."""
    last = max((place for place, cell in enumerate(header, 1) if cell), default=0)
    return header[:last]


def _grid(source: str | bytes | Path, names: Names) -> Grid:
    if isinstance(source, str):
        return parted(source, names.count)
    from joblog.sheet import workbook

    content = content_of(source) if isinstance(source, Path) else source
    if workbook.is_workbook(content):
        from joblog.sheet.apart import opened_apart

        return opened_apart(content, names.count)
    text, told = letters_of(content)
    grid = parted(text, names.count)
    return replace(grid, found=(*filter(None, [told]), *grid.found))


def _told(name: str, grid: Grid, decimal: str) -> tuple[Notice, ...]:
    found = (*grid.found, *(["decimal commas"] if decimal == "," else []))
    return (Notice(name, f"read with {'; '.join(found)}"),) if found else ()


def _sample(body: Sequence[tuple[int, Sequence[str]]], place: int) -> str:
    return next((row[place] for _, row in body if place < len(row) and row[place]), "")


def _is_text(row: Sequence[str], place: int) -> bool:
    return place < len(row) and not isinstance(row[place], Exact | Day | Wrong)


def _wrong(row: Sequence[str], names: Sequence[str | None], columns: Columns) -> str:
    """Why a row cannot be read, whatever its table is of; "" where nothing is wrong with it."""
    beyond = [cell for cell in row[len(names) :] if cell]
    if beyond:
        return (
            f"has more cells than there are columns ({beyond[0][:20]!r}); quote a cell that holds"
            " what parts the cells"
        )
    for name, cell in zip(names, row, strict=False):
        if name is None or not cell:
            continue
        if isinstance(cell, Wrong):
            return f"{name}: {cell}"
        if isinstance(cell, Day) and name not in columns.days:
            return (
                f"{name}: {cell} is a day, which a spreadsheet makes of something like 6/12; make"
                " the cell one of text, and type it again"
            )
        if name not in columns.words and len(cell.splitlines()) > 1:
            return f"{name}: {cell[:20]!r} holds more than one line"
    return ""


def _cells(
    row: Sequence[str], names: Sequence[str | None], columns: Columns, decimal: str
) -> dict[str, str]:
    """A number of a workbook is written as the sheet's own text has them."""
    cells = dict.fromkeys((name for name in names if name), "")
    for name, cell in zip(names, row, strict=False):
        if name:
            swaps = isinstance(cell, Exact) and name not in columns.words
            cells[name] = cell.replace(".", decimal) if swaps else cell
    return cells
