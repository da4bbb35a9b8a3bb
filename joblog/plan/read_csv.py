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

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

from joblog.catalog.amounts import amount_of
from joblog.catalog.lines import starter_catalog
from joblog.catalog.naming import Named
from joblog.model import Catalog, Item, Plan, PlannedItem, PlannedTask, Problem, Task
from joblog.quantity import UNITS, fraction_of, money_of, tape, unit_named
from joblog.reason import check
from joblog.sheet import AS_IT_IS, Columns, Reading, Row, each_row, read_sheet


def read_csv(
    source: str | Path, catalog: Catalog | None = None, reading: Reading = AS_IT_IS
) -> tuple[Plan, tuple[Problem, ...]]:
    """The plan, and one problem for every row that could not be read (naming the row).

    `source` is the text itself or a file; `catalog` knows what a row leaves out of its item or
    task, the starter catalog where none is given. A row with a problem is left out whole. A file
    without the columns `line` and `name`, or with one that is not known, gives an empty plan and
    says so.
    """
    sheet = read_sheet(source, "plan", OF_A_PLAN, reading)
    known = starter_catalog() if catalog is None else catalog
    draft = _Draft(
        Named(known.items),
        {task.name.lower(): task for task in reversed(known.tasks)},
        {item.unit for item in known.items},
        sheet.decimal,
        reading.sure,
    )
    problems = each_row(sheet, lambda row: _read_row(draft, row))
    return draft.plan(), problems


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


OF_A_PLAN = Columns(
    "a plan",
    COLUMNS,
    required=("line", "name"),
    alike={"qty": "quantity", "units": "unit", "costs": "cost", "sources": "source"},
    perhaps={
        "price": "cost", "unit price": "cost", "unit cost": "cost", "rate": "cost",
        "amount": "quantity", "count": "quantity", "number": "quantity", "hours": "quantity",
        "kind": "line", "type": "line", "item": "name", "description": "name", "also": "said",
        "spoken": "said", "on hand": "opening", "stock": "opening", "waste": "offcut",
        "work": "net", "uom": "unit", "measure": "unit", "note": "source", "notes": "source",
    },
    words=("line", "name", "unit", "said", "source", "task"),
)  # fmt: skip


@dataclass
class _Draft:
    known: Named
    known_tasks: Mapping[str, Task]
    """By the name in lower case."""
    units: set[str]
    """Those that the catalog counts by."""
    decimal: str
    sure: bool
    items: dict[str, PlannedItem] = field(default_factory=dict)
    """By the name in lower case; so are the tasks."""
    tasks: dict[str, PlannedTask] = field(default_factory=dict)
    places: dict[str, None] = field(default_factory=dict)

    def plan(self) -> Plan:
        return Plan(tuple(self.items.values()), tuple(self.tasks.values()), tuple(self.places))


def _read_row(draft: _Draft, row: Row) -> None:
    kind, name = row.cells["line"].lower(), " ".join(row.cells["name"].split())
    reader = _ROWS.get(kind)
    if reader is None:
        raise ValueError(f"line is {row.cells['line']!r}; it must be one of {', '.join(_ROWS)}")
    if not name:
        raise ValueError(f"this {kind} has no name")
    for column in _NOT_FOR[kind]:
        if row.cells.get(column):
            what = "an item" if kind == "item" else f"a {kind}"
            raise ValueError(f"{name}: {column} is not for {what}")
    try:
        reader(draft, name, row.cells)
    except ValueError as error:
        raise type(error)(f"{name}: {error}") from None


_NOT_FOR = {
    "item": ("amount",),
    "task": ("opening", "net", "offcut", "task"),
    "place": tuple(column for column in COLUMNS if column not in ("line", "name")),
}
"""What would be passed over if it were taken: a place has no quantity."""


def _item(draft: _Draft, name: str, cells: Mapping[str, str]) -> None:
    if name.lower() in draft.items:
        raise ValueError("is planned twice; put both quantities in one row")
    known = draft.known.called(name) or draft.known.variant_of(name)
    unit = unit_named(cells.get("unit", ""), draft.units)
    if unit is None:
        if cells.get("unit"):
            raise ValueError(
                f"there is no unit {cells['unit']!r}; units are {_UNITS} and those of your catalog"
            )
        called = known or draft.known.surely(name).item
        if called is None:
            raise ValueError(f"needs a unit: one of {_UNITS}")
        unit = called.unit
    quantity = _amount(draft, cells, "quantity", unit)
    if quantity is None:
        raise ValueError("needs a quantity")
    line = PlannedItem(
        item=_item_named(name, unit, _names(cells.get("said", "")), known),
        quantity=quantity,
        unit_cost=_cost(draft, cells, "price"),
        opening=_amount(draft, cells, "opening", unit) or Fraction(0),
        net=_amount(draft, cells, "net", unit),
        offcut=_amount(draft, cells, "offcut", unit) or Fraction(0),
        source=cells.get("source", ""),
        task=" ".join(cells.get("task", "").lower().split()),
    )
    check_parts(line)
    draft.items[name.lower()] = line


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


def _task(draft: _Draft, name: str, cells: Mapping[str, str]) -> None:
    if name.lower() in draft.tasks:
        raise ValueError("is planned twice; put both hours in one row")
    unit = cells.get("unit", "").lower().rstrip("s")
    if unit not in ("", "hour", "hr"):
        raise ValueError(f"a task is planned in hours, not in {cells['unit']!r}")
    hours = _amount(draft, cells, "quantity", "hours")
    if hours is None:
        raise ValueError("needs a quantity of hours")
    known = draft.known_tasks.get(name.lower())
    spoken = _names(cells.get("said", ""))
    task = Task(name, spoken)
    if known is not None:
        task = replace(known, name=name, spoken=tuple(dict.fromkeys((*spoken, *known.spoken))))
    task, done = _work(draft, task, cells.get("amount", ""))
    cost = _cost(draft, cells, "hourly cost")
    draft.tasks[name.lower()] = PlannedTask(task, hours, cost, done, cells.get("source", ""))


def _work(draft: _Draft, task: Task, text: str) -> tuple[Task, Fraction | None]:
    """The task, in the unit of the amount where it had none, and how much of it is to be done."""
    if not text:
        return task, None
    unit = task.unit or unit_named(text.lstrip("0123456789 ,./")) or ""
    if not unit:
        raise ValueError(f"amount {text} needs a unit, like 410 ft")
    amount = amount_of(text, unit, decimal=draft.decimal).quantity
    if amount <= 0:
        raise ValueError(f"amount {text} is not above zero")
    check("amount", amount, unit, sure=draft.sure)
    return replace(task, unit=unit), amount


def _place(draft: _Draft, name: str, cells: Mapping[str, str]) -> None:
    draft.places[name.lower()] = None


_ROWS: dict[str, Callable[[_Draft, str, Mapping[str, str]], None]] = {
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


_UNITS = ", ".join(UNITS)


def _amount(draft: _Draft, cells: Mapping[str, str], column: str, unit: str) -> Fraction | None:
    """A number of the unit, or of hours."""
    text = cells.get(column, "")
    if not text:
        return None
    amount = fraction_of(text, decimal=draft.decimal)
    if amount < 0:
        raise ValueError(f"{column} {text} is below zero")
    if unit == "hours":
        check("hours", amount, sure=draft.sure)
    else:
        check(column, amount, unit, sure=draft.sure)
    return amount


def _cost(draft: _Draft, cells: Mapping[str, str], what: str) -> Decimal | None:
    text = cells.get("cost", "")
    if not text:
        return None
    cost = money_of(text, decimal=draft.decimal)
    if cost < 0:
        raise ValueError(f"cost {text} is below zero")
    check(what, cost, sure=draft.sure)
    return cost


def _names(text: str) -> tuple[str, ...]:
    names = (" ".join(name.lower().split()) for name in text.split(";"))
    return tuple(dict.fromkeys(name for name in names if name))
