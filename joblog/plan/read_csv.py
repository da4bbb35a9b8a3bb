"""A plan from a spreadsheet: one line an item, a task or a place.

Columns: `line` (item, task or place) and `name`; then, where they apply, `quantity`, `unit`,
`cost` (of one unit, or of one hour of one person), `opening` (on hand before the first delivery)
and `said` (other spoken names, separated by semicolons). Columns may stand in any order.
"""

from __future__ import annotations

import csv
from collections.abc import Callable
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

from joblog.model import Catalog, Item, Plan, PlannedItem, PlannedTask, Problem, Task
from joblog.plan.catalog import starter
from joblog.quantity import fraction_of, money_of, unit_named
from joblog.sheet import SheetError, opened


def read_csv(
    source: str | Path, catalog: Catalog | None = None
) -> tuple[Plan, tuple[Problem, ...]]:
    """The plan, and one problem for every row that could not be read (naming the row).

    `source` is the text itself or a file; `catalog` knows units and spoken names that a row leaves
    out, the starter catalog where none is given. A row with a problem is left out whole. A file
    without the columns `line` and `name` gives an empty plan and says so.
    """
    try:
        with opened(source, "plan") as (name, text):
            rows = csv.DictReader(text, skipinitialspace=True)
            columns = [(column or "").strip().lower() for column in rows.fieldnames or ()]
            rows.fieldnames = columns
            missing = [column for column in ("line", "name") if column not in columns]
            if missing:
                why = (
                    f"has no column {' and no column '.join(missing)}; its first row must name the "
                    f"columns: {', '.join(COLUMNS)}"
                )
                return Plan(), (Problem(name, why),)
            draft = _Draft(name, starter() if catalog is None else catalog.items)
            for number, row in enumerate(rows, 2):
                _read_row(draft, number, row)
    except SheetError as error:
        return Plan(), (error.problem,)
    return draft.plan(), tuple(draft.problems)


COLUMNS = ("line", "name", "quantity", "unit", "cost", "opening", "said")


@dataclass
class _Draft:
    name: str
    known: tuple[Item, ...]
    items: list[PlannedItem] = field(default_factory=list)
    tasks: list[PlannedTask] = field(default_factory=list)
    places: list[str] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)

    def plan(self) -> Plan:
        return Plan(tuple(self.items), tuple(self.tasks), tuple(self.places))


def _read_row(draft: _Draft, number: int, row: dict[str, str | None]) -> None:
    cells = {key: (value or "").strip() for key, value in row.items() if isinstance(key, str)}
    if not any(cells.values()):
        return
    where = f"{draft.name}, row {number}"
    kind, name = cells["line"].lower(), " ".join(cells["name"].split())
    reader = _ROWS.get(kind)
    if reader is None:
        why = f"line is {cells['line']!r}; it must be one of {', '.join(_ROWS)}"
        draft.problems.append(Problem(where, why))
        return
    if not name:
        draft.problems.append(Problem(where, f"this {kind} has no name"))
        return
    try:
        reader(draft, name, cells)
    except ValueError as error:
        draft.problems.append(Problem(where, f"{name}: {error}"))


def _item(draft: _Draft, name: str, cells: dict[str, str]) -> None:
    if any(line.item.name.lower() == name.lower() for line in draft.items):
        raise ValueError("is planned twice; put both quantities in one row")
    known = next((item for item in draft.known if item.name == name.lower()), None)
    unit = unit_named(cells.get("unit", ""))
    if unit is None:
        if cells.get("unit"):
            raise ValueError(f"there is no unit {cells['unit']!r}; units are {_UNITS}")
        if known is None:
            raise ValueError(f"needs a unit: one of {_UNITS}")
        unit = known.unit
    spoken = _names(cells.get("said", ""))
    if known is not None:
        spoken = tuple(dict.fromkeys((*spoken, *known.spoken)))
    item = Item(
        name,
        unit,
        spoken,
        known.also if known is not None and known.unit == unit else (),
        known.stock_length if known is not None else None,
    )
    quantity = _amount(cells, "quantity")
    if quantity is None:
        raise ValueError("needs a quantity")
    opening = _amount(cells, "opening") or Fraction(0)
    draft.items.append(PlannedItem(item, quantity, _cost(cells), opening))


def _task(draft: _Draft, name: str, cells: dict[str, str]) -> None:
    if any(line.task.name.lower() == name.lower() for line in draft.tasks):
        raise ValueError("is planned twice; put both hours in one row")
    unit = cells.get("unit", "").lower().rstrip("s")
    if unit not in ("", "hour", "hr"):
        raise ValueError(f"a task is planned in hours, not in {cells['unit']!r}")
    hours = _amount(cells, "quantity")
    if hours is None:
        raise ValueError("needs a quantity of hours")
    task = Task(name, _names(cells.get("said", "")))
    draft.tasks.append(PlannedTask(task, hours, _cost(cells)))


def _place(draft: _Draft, name: str, cells: dict[str, str]) -> None:
    if name.lower() not in draft.places:
        draft.places.append(name.lower())


_ROWS: dict[str, Callable[[_Draft, str, dict[str, str]], None]] = {
    "item": _item,
    "task": _task,
    "place": _place,
}
_UNITS = "in, ft, ft2, square, lb, each, sheet, stick, box, roll, bundle, tube, pair, gal"


def _amount(cells: dict[str, str], column: str) -> Fraction | None:
    text = cells.get(column, "")
    if not text:
        return None
    amount = fraction_of(text)
    if amount < 0:
        raise ValueError(f"{column} {text} is below zero")
    return amount


def _cost(cells: dict[str, str]) -> Decimal | None:
    text = cells.get("cost", "")
    if not text:
        return None
    cost = money_of(text)
    if cost < 0:
        raise ValueError(f"cost {text} is below zero")
    return cost


def _names(text: str) -> tuple[str, ...]:
    names = (" ".join(name.lower().split()) for name in text.split(";"))
    return tuple(dict.fromkeys(name for name in names if name))
