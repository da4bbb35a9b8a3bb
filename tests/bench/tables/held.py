"""What the program makes of a table, in the same words as the strict reader."""

from __future__ import annotations

import io
import sys
from collections.abc import Callable
from contextlib import redirect_stderr, redirect_stdout, suppress
from datetime import date
from fractions import Fraction
from pathlib import Path

from joblog.catalog.read_csv import read_catalog
from joblog.cli import main
from joblog.cutting.read_pieces import read_pieces
from joblog.house.read_table import read_house
from joblog.model import Amount, Problem
from joblog.plan import read_csv
from joblog.quantity import convert
from joblog.rates import read_history_csv
from joblog.takeoff.runs import read_runs
from tests.bench.tables.kinds import Row

Held = tuple[list[Row], tuple[Problem, ...]]


def plan(file: Path) -> Held:
    found, problems = read_csv(file)
    rows: list[Row] = []
    for line in found.items:
        rows.append(
            _row(
                line="item", name=line.item.name, quantity=line.quantity, unit=line.item.unit,
                cost=line.unit_cost, opening=line.opening or None, net=line.net,
                offcut=line.offcut or None, said=line.item.spoken, source=line.source,
                task=line.task,
            )
        )  # fmt: skip
    for work in found.tasks:
        amount = None if work.quantity is None else (work.quantity, work.task.unit)
        rows.append(
            _row(
                line="task", name=work.task.name, quantity=work.hours, cost=work.hourly_cost,
                amount=amount, said=work.task.spoken, source=work.source,
            )
        )  # fmt: skip
    rows += [_row(line="place", name=place) for place in found.places]
    return rows, problems


def catalog(file: Path) -> Held:
    found, problems = read_catalog(file)
    rows: list[Row] = []
    for item in found.items:
        rows.append(
            _row(
                line="item", name=item.name, unit=item.unit, said=item.spoken, size=item.size,
                length=item.stock_length, kerf=item.kerf, cost=item.unit_cost,
                priced=item.priced, **{"least offcut": item.least_offcut},
            )
        )  # fmt: skip
    for task in found.tasks:
        rows.append(
            _row(
                line="task", name=task.name, unit=task.unit, said=task.spoken,
                cost=task.hourly_cost, **{"per hour": task.per_hour},
            )
        )  # fmt: skip
    return rows, problems


def runs(file: Path) -> Held:
    found, problems = read_runs(file)
    rows = []
    for run in found:
        measures = {name: _inches(amount) for name, amount in run.measures}
        rows.append(_row(work=run.work, place=run.place, **measures))
    return rows, problems


def pieces(file: Path) -> Held:
    found, problems = read_pieces(file)
    return [
        _row(length=piece.length, pieces=Fraction(piece.pieces), label=piece.label, item=piece.item)
        for piece in found
    ], problems


def history(file: Path) -> Held:
    found, problems = read_history_csv(file, today=date(2026, 11, 1))
    rows: list[Row] = [
        _row(
            job=use.job, date=use.day, item=use.item, work=use.net, gone=use.consumed,
            temperature=use.fahrenheit, crew=use.crew,
        )
        for use in found.uses
    ]  # fmt: skip
    rows += [
        _row(
            job=work.job, date=work.day, task=work.task, quantity=work.quantity,
            temperature=work.fahrenheit, crew=work.crew, **{"man-hours": work.crew_hours},
        )
        for work in found.work
    ]  # fmt: skip
    return rows, problems


def house(file: Path) -> Held:
    found, problems = read_house(file)
    rows: list[Row] = []
    for body in found.bodies:
        rows.append(_row(what="body", name=body.name))
        for side in body.sides:
            rows.append(
                _row(
                    what="side", name=side.name, length=side.length, height=side.height,
                    top=side.top, corner=side.corner, depth=side.depth, pitch=side.pitch,
                )
            )  # fmt: skip
            rows += [
                _row(
                    what=one.kind, name=one.name, length=one.width, height=one.height,
                    count=one.count if one.count > 1 else None,
                )
                for one in side.openings
            ]  # fmt: skip
    return rows, problems


HELD: dict[str, Callable[[Path], Held]] = {
    "plan": plan,
    "catalog": catalog,
    "runs": runs,
    "pieces": pieces,
    "history": history,
    "house": house,
}


COMMANDS = {
    "plan": ("plan",),
    "catalog": ("catalog",),
    "runs": ("takeoff",),
    "pieces": ("cuts", "--effort", "0", "--from"),
    "history": ("rates", "--add"),
}


def by_command(kind: str, file: Path, book: Path) -> tuple[int, str]:
    """The exit status of the command that takes such a table in, and what a person reads."""
    said = io.StringIO()
    with redirect_stdout(said), redirect_stderr(said):
        try:
            sys.argv = ["joblog", *COMMANDS[kind], str(file), "--book", str(book)]
            main()
        except SystemExit as ended:
            status = ended.code if isinstance(ended.code, int) else 1
    return status, said.getvalue()


def a_book(folder: Path) -> Path:
    """A book with a job in it, for the commands that want one."""
    sys.argv = ["joblog", "new", "Trial", "--zone", "UTC", "--book", str(folder / "book")]
    with redirect_stdout(io.StringIO()), redirect_stderr(io.StringIO()), suppress(SystemExit):
        main()
    return folder / "book"


def comparable(kind: str, rows: list[Row]) -> list[tuple[tuple[str, object], ...]]:
    """Rows that may be compared: in no order but those of a house, words in lower case, with what a
    table may leave out, a row of the history parted into its item and its task, and once where
    twice is once."""
    parts = [
        tuple(sorted((column, _small(value)) for column, value in part.items()))
        for row in rows
        if row
        for part in _parts(kind, row)
    ]
    if kind == "house":
        return parts
    return sorted(set(parts) if kind in ONCE else parts, key=repr)


ONCE = ("plan", "catalog", "history")
"""An item twice in a plan or a history is refused; a place, a task or a catalog's row is not."""


def _parts(kind: str, row: Row) -> list[Row]:
    if kind == "pieces":
        return [{"pieces": Fraction(1), **row}]
    if kind == "plan":
        kept = {c: v for c, v in row.items() if v != 0 or c == "quantity"}
        if row.get("line") == "task":
            kept.pop("unit", None)
        if row.get("line") == "place":
            return [{c: v for c, v in kept.items() if c in ("line", "name")}]
        return [kept]
    if kind == "history":
        both = ("job", "date", "temperature", "crew")
        found = []
        if "item" in row:
            found.append({c: v for c, v in row.items() if c in (*both, "item", "work", "gone")})
        if "task" in row and "quantity" in row:
            found.append(
                {c: v for c, v in row.items() if c in (*both, "task", "quantity", "man-hours")}
            )
        return found
    if kind == "house":
        usual = USUAL.get(str(row.get("what")), {})
        kept = {c: v for c, v in row.items() if (c, v) != ("count", 1)}
        return [{**usual, **kept}]
    return [row]


USUAL: dict[str, Row] = {"side": {"top": "eave", "corner": "outside"}, "body": {"name": "main"}}


def _small(value: object) -> object:
    if isinstance(value, str):
        return " ".join(value.lower().split())
    if isinstance(value, tuple):
        return tuple(map(_small, value))
    return value


def _row(**cells: object) -> Row:
    return {
        column: Fraction(value) if isinstance(value, int) or hasattr(value, "as_tuple") else value  # type: ignore[arg-type,misc]
        for column, value in cells.items()
        if value not in (None, "", ())
    }


def _inches(amount: Amount) -> Fraction:
    inches = convert(amount.quantity, amount.unit, "in") if amount.unit else amount.quantity
    assert inches is not None
    return inches
