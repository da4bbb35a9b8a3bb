"""A plan from a spreadsheet: one line an item, a task or a place; what goes out comes back in.

Columns: `line` (item, task or place) and `name`; then, where they apply, `quantity`, `unit`,
`cost` (of one unit, or of one hour of one person), `opening` (on hand before the first delivery),
`said` (other spoken names, separated by semicolons) and `source` (where the allowance or the hours
came from). An item may part its quantity: `net` is what the finished work measures, `offcut` the
waste that stock lengths force; and it may name the `task` of the plan that it goes up with. A
task's quantity is crew hours, and `amount` how much work they are for ("410 ft"). Columns may stand
in any order.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

from joblog.catalog.amounts import amount_of
from joblog.catalog.lines import starter_catalog
from joblog.catalog.naming import surely, variant_of
from joblog.model import Catalog, Item, Plan, PlannedItem, PlannedTask, Problem, Task
from joblog.quantity import UNITS, fraction_of, money_of, tape, unit_named
from joblog.sheet import SheetError, opened


def read_csv(
    source: str | Path, catalog: Catalog | None = None
) -> tuple[Plan, tuple[Problem, ...]]:
    """The plan, and one problem for every row that could not be read (naming the row).

    `source` is the text itself or a file; `catalog` knows what a row leaves out of its item or
    task, the starter catalog where none is given. A row with a problem is left out whole. A file
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
            draft = _Draft(name, starter_catalog() if catalog is None else catalog)
            for number, row in enumerate(rows, 2):
                _read_row(draft, number, row)
    except SheetError as error:
        return Plan(), (error.problem,)
    return draft.plan(), tuple(draft.problems)


def rows_of(plan: Plan) -> tuple[tuple[str, ...], ...]:
    """A row of cells for each item, task and place, in the order of `COLUMNS`."""
    rows = [
        *map(_item_cells, plan.items),
        *map(_task_cells, plan.tasks),
        *({"line": "place", "name": place} for place in plan.places),
    ]
    return tuple(tuple(row.get(column, "") for column in COLUMNS) for row in rows)


COLUMNS = (
    "line", "name", "quantity", "unit", "cost", "opening", "net", "offcut", "amount", "said",
    "source", "task",
)  # fmt: skip


@dataclass
class _Draft:
    name: str
    known: Catalog
    items: list[PlannedItem] = field(default_factory=list)
    tasks: list[PlannedTask] = field(default_factory=list)
    places: list[str] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)

    def plan(self) -> Plan:
        return Plan(tuple(self.items), tuple(self.tasks), tuple(self.places))


def _read_row(draft: _Draft, number: int, row: dict[str, str | None]) -> None:
    cells = {key: _cell(value) for key, value in row.items() if isinstance(key, str)}
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
    known = _known(name.lower(), draft.known.items)
    unit = unit_named(cells.get("unit", ""), {item.unit for item in draft.known.items})
    if unit is None:
        if cells.get("unit"):
            raise ValueError(
                f"there is no unit {cells['unit']!r}; units are {_UNITS} and those of your catalog"
            )
        called = known or surely(name, draft.known.items).item
        if called is None:
            raise ValueError(f"needs a unit: one of {_UNITS}")
        unit = called.unit
    quantity = _amount(cells, "quantity")
    if quantity is None:
        raise ValueError("needs a quantity")
    line = PlannedItem(
        item=_item_named(name, unit, _names(cells.get("said", "")), known),
        quantity=quantity,
        unit_cost=_cost(cells),
        opening=_amount(cells, "opening") or Fraction(0),
        net=_amount(cells, "net"),
        offcut=_amount(cells, "offcut") or Fraction(0),
        source=cells.get("source", ""),
        task=" ".join(cells.get("task", "").lower().split()),
    )
    check_parts(line)
    draft.items.append(line)


def _known(name: str, items: Sequence[Item]) -> Item | None:
    """The catalog's item of that name, or a new variant of one of its: "fascia 1x8" of "fascia"."""
    named = next((item for item in items if item.name.lower() == name), None)
    return named or variant_of(name, items)


def _item_named(name: str, unit: str, spoken: tuple[str, ...], known: Item | None) -> Item:
    """The catalog's item where it has one; counted in another unit, only its sizes hold."""
    if known is None:
        return Item(name, unit, spoken)
    spoken = tuple(dict.fromkeys((*spoken, *known.spoken)))
    if known.unit == unit:
        return replace(known, name=name, spoken=spoken)
    return Item(
        name,
        unit,
        spoken,
        stock_length=known.stock_length,
        other_lengths=known.other_lengths,
        kerf=known.kerf,
        least_offcut=known.least_offcut,
        variant_of=known.variant_of,
        size=known.size,
        profile=known.profile,
        colour=known.colour,
    )


def check_parts(line: PlannedItem) -> None:
    """Raises ValueError, in words, where the parts of a planned quantity cannot be."""
    if line.net is None and line.offcut:
        raise ValueError(f"has an offcut of {tape(line.offcut)} but no net; say both, or neither")
    if line.net is not None and line.net + line.offcut > line.quantity:
        parts = f"net {tape(line.net)} and offcut {tape(line.offcut)} together"
        raise ValueError(f"{parts} are more than the quantity of {tape(line.quantity)}")


def _task(draft: _Draft, name: str, cells: dict[str, str]) -> None:
    if any(line.task.name.lower() == name.lower() for line in draft.tasks):
        raise ValueError("is planned twice; put both hours in one row")
    unit = cells.get("unit", "").lower().rstrip("s")
    if unit not in ("", "hour", "hr"):
        raise ValueError(f"a task is planned in hours, not in {cells['unit']!r}")
    hours = _amount(cells, "quantity")
    if hours is None:
        raise ValueError("needs a quantity of hours")
    known = next((task for task in draft.known.tasks if task.name.lower() == name.lower()), None)
    spoken = _names(cells.get("said", ""))
    task = Task(name, spoken)
    if known is not None:
        task = replace(known, name=name, spoken=tuple(dict.fromkeys((*spoken, *known.spoken))))
    task, done = _work(task, cells.get("amount", ""))
    draft.tasks.append(PlannedTask(task, hours, _cost(cells), done, cells.get("source", "")))


def _work(task: Task, text: str) -> tuple[Task, Fraction | None]:
    """The task, in the unit of the amount where it had none, and how much of it is to be done."""
    if not text:
        return task, None
    unit = task.unit or unit_named(text.lstrip("0123456789 ,./")) or ""
    if not unit:
        raise ValueError(f"amount {text} needs a unit, like 410 ft")
    amount = amount_of(text, unit).quantity
    if amount <= 0:
        raise ValueError(f"amount {text} is not above zero")
    return replace(task, unit=unit), amount


def _place(draft: _Draft, name: str, cells: dict[str, str]) -> None:
    if name.lower() not in draft.places:
        draft.places.append(name.lower())


_ROWS: dict[str, Callable[[_Draft, str, dict[str, str]], None]] = {
    "item": _item,
    "task": _task,
    "place": _place,
}


def _item_cells(line: PlannedItem) -> dict[str, str]:
    return {
        "line": "item",
        "name": line.item.name,
        "quantity": tape(line.quantity),
        "unit": line.item.unit,
        "cost": _shown(line.unit_cost),
        "opening": tape(line.opening) if line.opening else "",
        "net": "" if line.net is None else tape(line.net),
        "offcut": tape(line.offcut) if line.offcut else "",
        "said": "; ".join(line.item.spoken),
        "source": line.source,
        "task": line.task,
    }


def _task_cells(line: PlannedTask) -> dict[str, str]:
    done = f"{tape(line.quantity)} {line.task.unit}" if line.quantity is not None else ""
    return {
        "line": "task",
        "name": line.task.name,
        "quantity": tape(line.hours),
        "unit": "hour",
        "cost": _shown(line.hourly_cost),
        "amount": done.strip(),
        "said": "; ".join(line.task.spoken),
        "source": line.source,
    }


def _shown(cost: Decimal | None) -> str:
    return "" if cost is None else f"{cost:f}"


def _cell(text: str | None) -> str:
    # A spreadsheet shows no formula behind an apostrophe, so that is how such a cell is written.
    cell = (text or "").strip()
    return cell[1:] if re.match(r"'[=+\-@]", cell) else cell


_UNITS = ", ".join(UNITS)


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
