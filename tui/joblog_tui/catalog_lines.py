"""The catalog in lines that fit 80 columns, and each line's other fields in words."""

from __future__ import annotations

from dataclasses import dataclass

from textual.content import Content

from joblog.form import plain
from joblog.model import Catalog
from joblog.service.catalog import written
from joblog_tui.columns import fitted, in_columns
from joblog_tui.wording import FAINT

HEADS = {
    "item": ("unit", "sold by", "length", "cost"),
    "task": ("unit", "per hour", "crew", "cost"),
}
"""The fields that have a column in the list."""

FIELDS = {
    "item": (
        "unit", "cost", "sold by", "length", "other lengths", "covers", "per pound", "kerf",
        "least offcut", "said", "also", "variant of", "size", "profile", "color", "supplier",
        "least order", "sales tax", "length costs", "open area", "counted",
    ),
    "task": ("unit", "per hour", "crew", "cost", "said"),
}  # fmt: skip
"""All fields besides the name, those first that are changed most."""

CALLED = {"least offcut": "least cutoff"}
"""What a field is called on the screen, where its column in CSV keeps another name."""

WIDEST = 16
"""Columns of the screen for one cell; a longer one is whole in the field itself."""


@dataclass(frozen=True, slots=True)
class CatalogLine:
    """One item or task. `head` names the columns of `shown`; `meaning` holds its other fields."""

    line: str
    """Whether it is an "item" or a "task"."""
    name: str
    cells: dict[str, str]
    """Its fields as they are written."""
    head: str
    shown: str
    meaning: Content

    @property
    def id(self) -> str:
        return id_of(self.line, self.name)


def catalog_lines(catalog: Catalog, width: int = 78) -> tuple[CatalogLine, ...]:
    """The items and then the tasks; no line is wider than `width`."""
    lines = written(catalog)
    return (
        *_part("item", [cells for cells in lines if cells["line"] == "item"], width),
        *_part("task", [cells for cells in lines if cells["line"] == "task"], width),
    )


def found(lines: tuple[CatalogLine, ...], words: str) -> tuple[CatalogLine, ...]:
    """Those lines in whose names, the spoken ones too, all of the words stand."""
    wanted = words.lower().split()
    return tuple(
        line
        for line in lines
        if all(word in f"{line.name} {line.cells['said']}".lower() for word in wanted)
    )


def id_of(line: str, name: str) -> str:
    # An item and a task may have the same name.
    return f"{line} {name}"


def _part(line: str, written: list[dict[str, str]], width: int) -> list[CatalogLine]:
    names = [plain(cells["name"]) for cells in written]
    rows = [
        tuple(fitted(plain(cells[field]) or "-", WIDEST) for field in HEADS[line])
        for cells in written
    ]
    head, shown = in_columns(line, HEADS[line], names, rows, width)
    return [
        CatalogLine(line, cells["name"], cells, head, text, _meaning(cells))
        for cells, text in zip(written, shown, strict=True)
    ]


def _meaning(cells: dict[str, str]) -> Content:
    parts: list[str | Content | tuple[str, str]] = [(plain(cells["name"]), "bold")]
    for field in (*FIELDS[cells["line"]], "priced"):
        if cells[field]:
            called = CALLED.get(field, field)
            parts += [(f"  {called} ", FAINT), plain(cells[field])]
    return Content.assemble(*parts)
