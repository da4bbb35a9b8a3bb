"""A table on its way to a file, and what happens to it on that way."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from random import Random

import openpyxl

from tests.bench.tables.kinds import Kind, Row, Value
from tests.bench.tables.spelled import NO_MEANING, otherwise, slip, usual


@dataclass
class Table:
    kind: Kind
    rows: list[Row]
    """What it means."""
    header: list[str]
    grid: list[list[str]]
    decimal: str = "."
    separator: str = ","
    encoding: str = "utf-8"
    line_end: str = "\n"
    quoting: int = csv.QUOTE_MINIMAL
    before: str = ""
    behind: str = ""
    workbook: bool = False
    meant: bool = True
    """Whether the rows are what anybody may take it for; else it can only be refused."""
    unsure: bool = False
    """Whether what was meant no longer stands there: only the strict reader counts."""
    done: list[str] = field(default_factory=list)
    """What was done to it, in words."""
    slips: set[tuple[int, int]] = field(default_factory=set)
    """Where there is one already."""
    raw: Callable[[bytes], bytes] | None = None

    @property
    def columns(self) -> list[str]:
        return self._columns

    def __post_init__(self) -> None:
        self._columns = list(self.header)

    def bytes(self) -> tuple[bytes, str]:
        """The file and how its name ends."""
        if self.workbook:
            return self._as_workbook(), ".xlsx"
        out = io.StringIO(newline="")
        writer = csv.writer(
            out, delimiter=self.separator, lineterminator=self.line_end, quoting=self.quoting
        )
        writer.writerow(self.header)
        writer.writerows(self.grid)
        text = self.before + out.getvalue() + self.behind
        found = text.encode(self.encoding, "strict")
        return (self.raw(found) if self.raw else found), ".csv"

    def _as_workbook(self) -> bytes:
        book = openpyxl.Workbook()
        sheet = book.active
        sheet.append(self.header)
        for cells, row in zip(self.grid, self._meanings(), strict=True):
            beyond = [""] * (len(cells) - len(self._columns))
            columns = [*self._columns, *beyond]
            sheet.append(
                [_typed(c, row.get(name)) for c, name in zip(cells, columns, strict=False)]
            )
        out = io.BytesIO()
        book.save(out)
        return out.getvalue()

    def _meanings(self) -> list[Row]:
        return self.rows if len(self.rows) == len(self.grid) else [{}] * len(self.grid)


def _typed(cell: str, value: Value | None) -> object:
    """As a spreadsheet keeps what was typed: bare decimals as floats, days as days."""
    if isinstance(value, date) and cell == value.isoformat():
        return value
    if cell.replace(".", "", 1).isdigit() and cell.isascii():
        return float(cell) if "." in cell else int(cell)
    return cell or None


Doing = Callable[["Table", Random], None]


def table_of(kind: Kind, random: Random) -> Table:
    """A valid table, as most people would write it."""
    rows = kind.rows(random)
    used = [column for column in kind.columns if any(column in row for row in rows)]
    header = [column for column in kind.columns if column in used or column in kind.required]
    if random.random() < 0.3:
        random.shuffle(header)
    grid = [
        [usual(kind.columns[c], row[c], ".", random) if c in row else "" for c in header]
        for row in rows
    ]
    return Table(kind, rows, header, grid)


def spoilt(table: Table, random: Random) -> Table:
    """The table with up to three things done to it."""
    chosen: list[Doing] = []
    for _ in range(random.choice((0, 1, 1, 1, 2, 2, 3))):
        doing = random.choice(DOINGS)
        if not (doing in OF_TEXT and set(chosen) & OF_WORKBOOKS) and not (
            doing in OF_WORKBOOKS and set(chosen) & OF_TEXT
        ):
            chosen.append(doing)
    # Spelling before slips, so that no slip is written over.
    for doing in sorted(chosen, key=lambda doing: FIRST.get(doing, len(FIRST))):
        doing(table, random)
    return table


# --- what may be done ---------------------------------------------------------------------------


def separate(table: Table, random: Random) -> None:
    table.separator = random.choice((";", "\t"))
    table.done.append({";": "semicolons", "\t": "tabs"}[table.separator])


def pipe(table: Table, random: Random) -> None:
    table.separator = random.choice(("|", ":"))
    table.done.append(f"{table.separator} between the cells")


def encode(table: Table, random: Random) -> None:
    table.encoding = random.choice(("utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "cp1252"))
    try:
        table.bytes()
    except UnicodeEncodeError:
        table.encoding = "utf-8-sig"
    table.done.append(table.encoding)


def comma_decimals(table: Table, random: Random) -> None:
    """All of it as written where commas part the decimals."""
    if table.decimal == ",":
        return
    table.decimal = ","
    if random.random() < 0.8:
        table.separator = random.choice((";", "\t"))
    for cells, row in zip(table.grid, table.rows, strict=False):
        for at, column in enumerate(table.columns):
            if (
                at < len(cells)
                and column in row
                and table.kind.columns[column] not in ("word", "list", "day")
            ):
                cells[at] = usual(table.kind.columns[column], row[column], ",", random)
    table.done.append("decimal commas")


def a_place(table: Table, random: Random, *, numbers: bool) -> tuple[int, int] | None:
    places = [
        (y, x)
        for y, row in enumerate(table.rows)
        for x, column in enumerate(table.columns)
        if y < len(table.grid) and x < len(table.grid[y]) and column in row
        and (not numbers or table.kind.columns[column] not in ("word", "list"))
    ]  # fmt: skip
    return random.choice(places) if places else None


def spell(table: Table, random: Random) -> None:
    for _ in range(random.randint(1, 4)):
        if place := a_place(table, random, numbers=True):
            y, x = place
            column = table.columns[x]
            name, text = otherwise(
                table.kind.columns[column], table.rows[y][column], table.decimal, random
            )
            table.grid[y][x] = text
            table.done.append(f"{name} in {column}")


def err(table: Table, random: Random) -> None:
    place = a_place(table, random, numbers=True)
    if place and place not in table.slips:
        y, x = place
        table.slips.add(place)
        column = table.columns[x]
        name, text, meant = slip(
            table.kind.columns[column], table.rows[y][column], table.decimal, random
        )
        table.grid[y][x] = text
        table.done.append(f"{name} in {column}")
        if meant is NO_MEANING:
            table.meant = False
        elif meant == "unclear":
            table.unsure = True
        else:
            table.rows[y] = {**table.rows[y], column: meant}


def head_spelt(table: Table, random: Random) -> None:
    x = random.randrange(len(table.header))
    name = table.header[x]
    table.header[x] = random.choice(
        (name.upper(), name.title(), f" {name} ", name.replace(" ", "_"), name.replace(" ", "-"))
    )
    table.done.append(f"header {table.header[x]!r}")


SYNONYMS = {
    "quantity": ("qty", "count", "amount of it", "pieces"), "cost": ("price", "unit cost", "rate"),
    "pieces": ("quantity", "qty", "count", "number"), "length": ("len", "size", "lenght"),
    "name": ("item", "description"), "depth": ("deep", "width"), "width": ("wide", "wdith"),
    "opening": ("on hand", "openings"), "unit": ("uom", "units"), "gone": ("used", "consumed"),
    "work": ("net", "kind"), "job": ("project", "jobs"), "date": ("day", "when"),
    "label": ("mark", "place"), "height": ("high", "hieght"), "pitch": ("slope", "ptich"),
    "man-hours": ("hours", "crew hours"), "priced": ("priced on", "as of"), "run": ("runs", "rise"),
    "per hour": ("rate", "per hours"), "kerf": ("blade", "cut"),
}  # fmt: skip


def head_renamed(table: Table, random: Random) -> None:
    """Another name for a column: refused, or taken for what it is."""
    known = [x for x, name in enumerate(table.header) if name in SYNONYMS]
    if known:
        x = random.choice(known)
        other = random.choice(SYNONYMS[table.header[x]])
        table.done.append(f"header {table.header[x]!r} is called {other!r}")
        if other in table.kind.columns:
            table.unsure = True
        table.header[x] = other


def head_lost(table: Table, random: Random) -> None:
    x = random.randrange(len(table.header))
    table.done.append(f"header {table.header[x]!r} is empty")
    if all(not cells[x] for cells in table.grid if x < len(cells)):
        return
    table.meant = False
    table.header[x] = ""


def head_twice(table: Table, random: Random) -> None:
    x = random.randrange(len(table.header))
    other = random.choice([n for n in range(len(table.header)) if n != x] or [x])
    if other != x:
        table.done.append(f"header {table.header[x]!r} twice")
        table.header[other] = table.header[x]
        table.meant = False


def heads_swapped(table: Table, random: Random) -> None:
    if len(table.header) > 1:
        x, y = random.sample(range(len(table.header)), 2)
        table.done.append(f"headers {table.header[x]!r} and {table.header[y]!r} swapped")
        table.header[x], table.header[y] = table.header[y], table.header[x]
        table.unsure = True


def column_moved(table: Table, random: Random) -> None:
    """Its header and its cells together, which changes nothing."""
    if len(table.header) < 2 or any(len(cells) != len(table.header) for cells in table.grid):
        return
    x, y = random.sample(range(len(table.header)), 2)
    for line in (table.header, *table.grid):
        line.insert(y, line.pop(x))
    table._columns.insert(y, table._columns.pop(x))
    table.done.append("a column moved")


def column_more(table: Table, random: Random) -> None:
    name, filled = random.choice(("notes", "color?", "x", "remark", "")), random.random() < 0.6
    table.header.append(name)
    table._columns.append("")
    for cells in table.grid:
        cells.append("call first" if filled else "")
    table.done.append(f"{'a' if filled else 'an empty'} column {name!r} more")
    if filled:
        table.meant = False


def column_less(table: Table, random: Random) -> None:
    x = random.randrange(len(table.header))
    name = table._columns[x] if x < len(table._columns) else ""
    if len(table.header) < 2 or any(len(cells) != len(table.header) for cells in table.grid):
        return
    for line in (table.header, table._columns, *table.grid):
        line.pop(x)
    table.done.append(f"no column {name!r}")
    table.unsure = True


def cell_more(table: Table, random: Random) -> None:
    y = random.randrange(len(table.grid))
    table.grid[y] = [
        *table.grid[y],
        *[""] * random.randint(0, 1),
        random.choice(("7", "x", "12 ft")),
    ]
    table.done.append("a cell beyond the last column")
    table.meant = False


def cell_between(table: Table, random: Random) -> None:
    y = random.randrange(len(table.grid))
    x = random.randrange(len(table.grid[y]) + 1)
    table.grid[y].insert(x, random.choice(("", "7")))
    table.done.append("a cell between")
    if any(table.grid[y][x:]):
        table.meant, table.unsure = True, True


def cells_short(table: Table, random: Random) -> None:
    y = random.randrange(len(table.grid))
    while len(table.grid[y]) > 1 and not table.grid[y][-1]:
        table.grid[y].pop()
    table.done.append("empty cells at the end left out")


def lines_blank(table: Table, random: Random) -> None:
    if len(table.grid) != len(table.rows):
        return
    y = random.randrange(len(table.grid) + 1)
    table.grid.insert(y, random.choice(([], [""] * len(table.header), [" "])))
    table.rows.insert(y, {})
    table.done.append("a blank line")


def row_twice(table: Table, random: Random) -> None:
    if len(table.grid) == len(table.rows) and table.kind.name != "house":
        y = random.randrange(len(table.grid))
        table.grid.append(list(table.grid[y]))
        table.rows.append(dict(table.rows[y]))
        table.done.append("a row twice")


def line_before(table: Table, random: Random) -> None:
    line = random.choice(("\n", "Materials for the porch\n", "# list\n", "\n\n"))
    table.before += line
    table.done.append(f"{line!r} before the header")
    if line.strip():
        table.meant = False


def sep_line(table: Table, random: Random) -> None:
    table.before = f"sep={table.separator}\n{table.before}"
    table.done.append("a line with the separator first")


def total_behind(table: Table, random: Random) -> None:
    table.behind = random.choice(
        ("Total\n", f"total{table.separator}12\n", "end of list\n", "\x1a")
    )
    table.done.append(f"{table.behind!r} at the end")
    table.meant = False


def quote_all(table: Table, random: Random) -> None:
    table.quoting = csv.QUOTE_ALL
    table.done.append("all cells in quotes")


def ends(table: Table, random: Random) -> None:
    table.line_end = random.choice(("\r\n", "\r"))
    table.done.append(f"lines end with {table.line_end!r}")


def apostrophe(table: Table, random: Random) -> None:
    if place := a_place(table, random, numbers=True):
        y, x = place
        table.grid[y][x] = "'" + table.grid[y][x]
        table.done.append(f"an apostrophe before {table.columns[x]}")


def line_end_inside(table: Table, random: Random) -> None:
    """A label of two lines moves the row numbers, and nothing else."""
    words = [
        (y, x)
        for y, cells in enumerate(table.grid)
        for x, cell in enumerate(cells)
        if x < len(table.columns) and table.columns[x] in ("label", "place", "source")
        and " " in cell
    ]  # fmt: skip
    if words:
        y, x = random.choice(words)
        table.grid[y][x] = table.grid[y][x].replace(" ", "\n", 1)
        table.done.append("a line end inside a cell")


def damage(table: Table, random: Random) -> None:
    """Bytes that went wrong on the way."""
    name, change = random.choice(DAMAGES)
    at = random.random()
    table.raw = lambda found: change(found, int(at * len(found)))
    table.done.append(name)
    table.unsure = True


DAMAGES: list[tuple[str, Callable[[bytes, int], bytes]]] = [
    ("cut off", lambda found, at: found[: max(at, 1)]),
    ("a NUL in it", lambda found, at: found[:at] + b"\0" + found[at:]),
    ("a byte that is no letter", lambda found, at: found[:at] + b"\x81" + found[at:]),
    ("half a letter", lambda found, at: found[:at] + b"\xe2\x82" + found[at:]),
    ("a quote in it", lambda found, at: found[:at] + b'"' + found[at:]),
    ("a mark in the middle", lambda found, at: found[:at] + b"\xef\xbb\xbf" + found[at:]),
    ("nothing in it", lambda found, at: b""),
    ("a byte gone", lambda found, at: found[:at] + found[at + 1 :]),
]


def workbook(table: Table, random: Random) -> None:
    table.workbook = True
    table.done.append("a workbook")


def formula(table: Table, random: Random) -> None:
    """One that no program has worked out yet: there is no number to read."""
    workbook(table, random)
    if place := a_place(table, random, numbers=True):
        y, x = place
        table.grid[y][x] = "=2*3"
        table.done.append(f"a formula in {table.columns[x]}")
        table.meant = False


DOINGS = (
    separate, separate, pipe, encode, encode, comma_decimals, comma_decimals, spell, spell, spell,
    spell, err, err, err, err, err, head_spelt, head_renamed, head_renamed, head_lost, head_twice,
    heads_swapped, column_moved, column_more, column_less, cell_more, cell_between, cells_short,
    lines_blank, row_twice, line_before, sep_line, total_behind, quote_all, ends, apostrophe,
    line_end_inside, damage, damage, workbook, formula,
)  # fmt: skip
OF_TEXT = {
    separate, pipe, encode, line_before, sep_line, total_behind, quote_all, ends, line_end_inside,
    damage,
}  # fmt: skip
FIRST = {comma_decimals: 0, spell: 1, err: 2, apostrophe: 3, formula: 4, line_end_inside: 5}
OF_WORKBOOKS = {workbook, formula}
