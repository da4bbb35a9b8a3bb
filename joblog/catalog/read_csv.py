"""The catalog as a table for a spreadsheet, in and out; what goes out comes back in the same.

Columns: `line` (item or task) and `name`; `unit`; `said` (other spoken names) and `also` (other
units, "each = 1/94"), separated by semicolons; for an item `variant of` ("fascia", of "fascia 1x6"
and "fascia 1x8") with the `size`, `profile` and `color` that tell it from others, `length` and
`other lengths`, `sold by` ("box of 20"), `covers` ("900 ft2"), `kerf`, `least offcut`, `cost` of
one unit with the day that it was `priced`, `per pound`, `open area` (square inches in a foot of
what is vented) and `counted` ("yes" for what no allowance buys one more of, such as an end cap);
for a task `cost` (of one person's hour), `per hour` (units per crew hour) and `crew`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

from joblog.catalog.amounts import amount_of, size_of
from joblog.catalog.lines import spelled, with_item, with_task
from joblog.model import Amount, Catalog, Item, Problem, Task
from joblog.quantity import UNITS, fraction_of, money_of, tape, unit_defined, unit_named
from joblog.reason import check
from joblog.sheet import AS_IT_IS, Columns, Reading, Row, each_row, read_sheet

COLUMNS = (
    "line", "name", "unit", "said", "also", "variant of", "size", "profile", "color", "length",
    "other lengths", "sold by", "covers", "kerf", "least offcut", "cost", "priced", "per pound",
    "open area", "counted", "length costs", "supplier", "least order", "sales tax", "per hour",
    "crew",
)  # fmt: skip

OF_A_CATALOG = Columns(
    "a catalog",
    COLUMNS,
    required=("line", "name"),
    alike={"colour": "color", "units": "unit", "lengths": "length", "costs": "cost"},
    perhaps={
        "price": "cost", "unit price": "cost", "unit cost": "cost", "rate": "per hour",
        "kind": "line", "type": "line", "item": "name", "description": "name", "spoken": "said",
        "pack": "sold by", "coverage": "covers", "stock length": "length", "uom": "unit",
        "day": "priced", "date": "priced", "people": "crew", "offcut": "least offcut",
    },
    words=("line", "name", "unit", "said", "variant of", "size", "profile", "color", "counted",
           "supplier"),
    days=("priced",),
)  # fmt: skip

LONGEST = Fraction(60 * 12)
"""Inches; no stick is longer. A number beyond it was meant in another unit."""

HIGHEST_TAX = Fraction(30, 100)
"""More is a slip of the pen."""

MOST = 1_000_000
"""Of a price, a pack and the like; more is a slip of the pen."""


def read_catalog(
    source: str | Path, reading: Reading = AS_IT_IS
) -> tuple[Catalog, tuple[Problem, ...]]:
    """Items and tasks, and one problem for every row that could not be read (naming the row).

    `source` is the text itself or a file. A row with a problem is left out whole.
    """
    sheet = read_sheet(source, "catalog", OF_A_CATALOG, reading)
    how = _How(sheet.decimal, reading.sure)
    items: dict[str, Item] = {}
    tasks: dict[str, Task] = {}

    def read(row: Row) -> None:
        cells = row.cells
        try:
            line = cells["line"].lower()
            name = spelled(Catalog(), cells["name"])
            if name in (items if line == "item" else tasks):
                raise ValueError("is there twice; make it one row")
            put = _line(Catalog(), cells, how)
            if isinstance(put, Item):
                items[put.name] = put
            else:
                tasks[put.name] = put
        except ValueError as error:
            named = f"{cells['name']}: " if cells["name"] else ""
            raise type(error)(f"{named}{error}") from None

    problems = each_row(sheet, read)
    return Catalog(tuple(items.values()), tuple(tasks.values())), problems


@dataclass(frozen=True, slots=True)
class _How:
    """How the numbers of a line are read."""

    decimal: str = "."
    sure: bool = False


_AS_TYPED = _How(sure=True)
"""Whoever types a field sees what he types."""


def rows_of(catalog: Catalog) -> tuple[tuple[str, ...], ...]:
    """A row of cells for each item and task, in the order of `COLUMNS`."""
    rows = [*map(_item_cells, catalog.items), *map(_task_cells, catalog.tasks)]
    return tuple(tuple(row.get(column, "") for column in COLUMNS) for row in rows)


def with_fields(
    catalog: Catalog, name: str, fields: Mapping[str, str], today: date | None = None
) -> Catalog:
    """The catalog with some fields of an item or task changed, or with a new one of that name.

    Fields are the columns; an empty value takes the field's value away. An item that costs
    something else now is priced `today` where the fields do not say when. Raises ValueError.
    """
    named = spelled(catalog, name)
    given = {_column(field): value.strip() for field, value in fields.items()}
    for field in given:
        if field not in COLUMNS or field == "name":
            raise ValueError(f"there is no field {field!r}; fields are {', '.join(COLUMNS)}")
    wants_task = given.get("line", "").lower() == "task"
    cells: dict[str, str] = {"line": "task" if "per hour" in given else "item", "name": named}
    for task in catalog.tasks:
        if task.name == named:
            cells = _task_cells(task)
    for item in catalog.items:
        if item.name == named and not wants_task:
            cells = _item_cells(item)
    if cells["line"] == "item" and given.get("cost", cells.get("cost", "")) != cells.get(
        "cost", ""
    ):
        cells["priced"] = today.isoformat() if today and given["cost"] else ""
    put = _line(catalog, {**cells, **given}, _AS_TYPED)
    return with_item(catalog, put) if isinstance(put, Item) else with_task(catalog, put)


def merged(catalog: Catalog, other: Catalog) -> Catalog:
    """The catalog with the other's items and tasks added, or in the place of those so named."""
    items = {item.name: item for item in (*catalog.items, *other.items)}
    tasks = {task.name: task for task in (*catalog.tasks, *other.tasks)}
    return Catalog(tuple(items.values()), tuple(tasks.values()))


# --- out --------------------------------------------------------------------------------------


def _item_cells(item: Item) -> dict[str, str]:
    return {
        "line": "item",
        "name": item.name,
        "unit": item.unit,
        "said": "; ".join(item.spoken),
        "also": "; ".join(f"{unit} = {tape(count)}" for unit, count in item.also),
        "variant of": item.variant_of,
        "size": item.size,
        "profile": item.profile,
        "color": item.colour,
        "length": _length(item.stock_length),
        "other lengths": "; ".join(map(_length, item.other_lengths)),
        "sold by": _pack(item),
        "covers": f"{tape(item.covers.quantity)} {item.covers.unit}" if item.covers else "",
        "kerf": _inches(item.kerf),
        "least offcut": _inches(item.least_offcut),
        "cost": _shown(item.unit_cost),
        "priced": item.priced.isoformat() if item.priced else "",
        "per pound": tape(item.per_pound) if item.per_pound else "",
        "open area": tape(item.open_area) if item.open_area else "",
        "counted": "yes" if item.counted else "",
        "length costs": "; ".join(f"{_length(one)} = {cost:f}" for one, cost in item.length_costs),
        "supplier": item.supplier,
        "least order": _shown(item.least_order),
        "sales tax": "" if item.tax is None else f"{tape(item.tax * 100)}%",
    }


def _task_cells(task: Task) -> dict[str, str]:
    return {
        "line": "task",
        "name": task.name,
        "unit": task.unit,
        "said": "; ".join(task.spoken),
        "cost": _shown(task.hourly_cost),
        "per hour": tape(task.per_hour) if task.per_hour else "",
        "crew": str(task.crew),
    }


def _length(inches: Fraction | None) -> str:
    if inches is None:
        return ""
    return f"{inches // 12} ft" if inches % 12 == 0 else _inches(inches)


def _inches(inches: Fraction | None) -> str:
    return "" if inches is None else f"{tape(inches)} in"


def _pack(item: Item) -> str:
    if item.pack == 1 and not item.pack_name:
        return ""
    return f"{item.pack_name or 'pack'} of {tape(item.pack)}"


def _shown(cost: Decimal | None) -> str:
    return "" if cost is None else f"{cost:f}"


# --- in ---------------------------------------------------------------------------------------


def _column(text: str) -> str:
    column = _words(text.replace("_", " "))
    return "color" if column == "colour" else column


def _line(catalog: Catalog, cells: Mapping[str, str], how: _How) -> Item | Task:
    """The line of a row, under its name as the catalog spells it. Raises ValueError."""
    line = cells["line"].lower()
    if line not in ("item", "task"):
        raise ValueError(f"line is {cells['line']!r}; it must be item or task")
    for column in _NOT_FOR[line]:
        if cells.get(column):
            raise ValueError(f"{column} is not for {'an item' if line == 'item' else 'a task'}")
    if not cells.get("name"):
        raise ValueError(f"this {line} has no name")
    named = {column: spelled(catalog, cells.get(column, "")) for column in ("name", "variant of")}
    cells = {**cells, **named}
    return _item(cells, how) if line == "item" else _task(cells, how)


_NOT_FOR = {
    "item": ("per hour", "crew"),
    "task": (
        "also", "variant of", "size", "profile", "color", "length", "other lengths", "sold by",
        "covers", "kerf", "least offcut", "priced", "per pound", "open area", "counted",
        "length costs", "supplier", "least order", "sales tax",
    ),
}  # fmt: skip


def _item(cells: Mapping[str, str], how: _How) -> Item:
    unit = _unit(cells)
    if not unit:
        raise ValueError(f"needs a unit: one of {', '.join(UNITS)}")
    pack, pack_name = _pack_of(cells.get("sold by", ""), how)
    per_pound = _number(cells, "per pound", how)
    if per_pound and unit != "lb":
        raise ValueError(f"per pound is for what is counted in lb, and this is in {unit}")
    length = _stock_length(cells.get("length", ""), how)
    variant_of = cells.get("variant of", "")
    if variant_of == _name(cells):
        raise ValueError("is no variant of itself; name what it is one of, like fascia")
    parts = _parts(cells.get("other lengths", ""))
    if cells.get("priced") and not cells.get("cost"):
        raise ValueError("has a day on which it was priced, but no cost")
    others = tuple(filter(None, (_stock_length(part, how) for part in parts)))
    if others and length is None:
        raise ValueError("has other lengths, but no length")
    by_length = tuple(_length_cost(part, how) for part in _parts(cells.get("length costs", "")))
    if by_length and (length is None or not cells.get("cost")):
        raise ValueError("has length costs, but no length or no cost of it")
    if length in dict(by_length):
        raise ValueError(f"costs what cost says in its length, {_length(length)}; name others")
    others = (*others, *dict(by_length))
    return Item(
        name=_name(cells),
        unit=unit,
        spoken=_names(cells),
        also=tuple(_also(part, how) for part in _parts(cells.get("also", ""))),
        stock_length=length,
        other_lengths=tuple(dict.fromkeys(other for other in others if other != length)),
        pack=pack,
        pack_name=pack_name,
        covers=_covers(cells.get("covers", ""), how),
        kerf=_small(cells, "kerf", how),
        least_offcut=_small(cells, "least offcut", how),
        unit_cost=_cost(cells, "price", how),
        priced=_day(cells.get("priced", "")) if cells.get("cost") else None,
        per_pound=per_pound,
        open_area=_number(cells, "open area", how),
        counted=_yes(cells, "counted"),
        length_costs=tuple(dict(by_length).items()),
        supplier=" ".join(cells.get("supplier", "").split()),
        least_order=_cost({"cost": cells.get("least order", "")}, "price", how),
        tax=_tax(cells.get("sales tax", ""), how),
        variant_of=variant_of,
        size=size_of(cells.get("size", "")),
        profile=_words(cells.get("profile", "")),
        colour=_words(cells.get("color", "")),
    )


def _task(cells: Mapping[str, str], how: _How) -> Task:
    unit, rate = _unit(cells), _number(cells, "per hour", how)
    if rate is not None and not unit:
        raise ValueError(f"per hour needs a unit: one of {', '.join(UNITS)}")
    crew = fraction_of(cells.get("crew") or "1", decimal=how.decimal)
    if crew.denominator != 1 or not 1 <= crew <= 99:
        raise ValueError(f"crew is {cells['crew']!r}; it must be a number of people")
    return Task(
        _name(cells), _names(cells), unit, rate, int(crew), _cost(cells, "hourly cost", how)
    )


def _name(cells: Mapping[str, str]) -> str:
    return cells["name"]


def _words(text: str) -> str:
    return " ".join(text.lower().split())


def _names(cells: Mapping[str, str]) -> tuple[str, ...]:
    names = map(_words, _parts(cells.get("said", "")))
    return tuple(dict.fromkeys(names))


def _unit(cells: Mapping[str, str]) -> str:
    text = cells.get("unit", "")
    unit = unit_defined(text) if text else ""
    if unit is None:
        raise ValueError(
            f"there is no unit {text!r}; units are {', '.join(UNITS)}, or any"
            " one word for what you count"
        )
    return unit


def _also(text: str, how: _How) -> tuple[str, Fraction]:
    word, equals, count = text.partition("=")
    unit = unit_defined(word)
    if not equals or unit is None:
        raise ValueError(f"also is {text!r}; write a unit and its number, like each = 1/94")
    return unit, _positive(count, "also", how)


def _pack_of(text: str, how: _How) -> tuple[Fraction, str]:
    if not text:
        return Fraction(1), ""
    called, _, count = text.rpartition(" of ")
    return _positive(count, "sold by", how), " ".join(called.lower().split()) or "pack"


def _length_cost(text: str, how: _How) -> tuple[Fraction, Decimal]:
    """What one of another length costs: "16 ft = 24.10"."""
    length, equals, cost = text.partition("=")
    inches = _stock_length(length.strip(), how)
    money = _cost({"cost": cost.strip()}, "price", how)
    if not equals or inches is None or not money:
        raise ValueError(f"length costs is {text!r}; write it like 16 ft = 24.10")
    return inches, money


def _tax(text: str, how: _How) -> Fraction | None:
    if not text:
        return None
    share = fraction_of(text.removesuffix("%"), decimal=how.decimal) / 100
    if not 0 <= share <= HIGHEST_TAX:
        raise ValueError(f"sales tax is {text}; it must be from 0 to {tape(HIGHEST_TAX * 100)}%")
    return share


def _covers(text: str, how: _How) -> Amount | None:
    if not text:
        return None
    number, _, unit = text.rpartition(" ")
    named = unit_named(unit)
    if named is None or not number.strip():
        raise ValueError(f"covers is {text!r}; write it like 900 ft2 or 50 ft")
    return Amount(_positive(number, "covers", how), named)


def _stock_length(text: str, how: _How) -> Fraction | None:
    if not text:
        return None
    inches = amount_of(text, "ft", decimal=how.decimal).quantity * 12
    if not 0 < inches <= LONGEST:
        raise ValueError(f"length {text} is no length of a stick; a bare number is in feet")
    check("stock length", inches, "in", sure=how.sure)
    return inches


def _small(cells: Mapping[str, str], column: str, how: _How) -> Fraction | None:
    text = cells.get(column, "")
    if not text:
        return None
    inches = amount_of(text, "in", decimal=how.decimal).quantity
    if inches < 0:
        raise ValueError(f"{column} {text} is below zero")
    check(column, inches, "in", sure=how.sure)
    return inches


def _number(cells: Mapping[str, str], column: str, how: _How) -> Fraction | None:
    text = cells.get(column, "")
    return _positive(text, column, how) if text else None


def _yes(cells: Mapping[str, str], column: str) -> bool:
    answer = cells.get(column, "").strip().lower()
    if answer not in ("yes", "no", ""):
        raise ValueError(f"{column} is {answer[:40]!r}; it must be yes or no")
    return answer == "yes"


def _positive(text: str, column: str, how: _How) -> Fraction:
    number = fraction_of(text, decimal=how.decimal)
    if not 0 < number <= MOST:
        raise ValueError(
            f"{column} is {text.strip()[:40]}; it must be more than zero, up to {MOST:,}"
        )
    if column in _BOUND:
        check(_BOUND[column], number, sure=how.sure)
    return number


_BOUND = {"sold by": "pack", "per pound": "per pound", "per hour": "per hour"}
"""By the column the name of its bound in `reason`."""


def _cost(cells: Mapping[str, str], what: str, how: _How) -> Decimal | None:
    text = cells.get("cost", "")
    if not text:
        return None
    cost = money_of(text, decimal=how.decimal)
    if not 0 <= cost <= MOST:
        raise ValueError(f"cost is {text[:40]}; it must be from zero to {MOST:,}")
    check(what, cost, sure=how.sure)
    return cost


def _day(text: str) -> date | None:
    if not text:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise ValueError(f"priced is {text[:40]!r}; write the day like 2026-10-05") from None


def _parts(text: str) -> list[str]:
    return [part.strip() for part in text.split(";") if part.strip()]
