"""What the contractor buys and does: every item and task of the book's catalog, to be changed."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.screen import Screen
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from joblog.form import plain
from joblog.plan.catalog import without
from joblog.plan.catalog_csv import COLUMNS, rows_of
from tui.catalog_line import CatalogLineScreen
from tui.desk import Desk
from tui.new_line import NewLineScreen
from tui.told import trouble_told
from tui.widgets.keybar import KeyBar
from tui.widgets.lines import Lines
from tui.wording import FAINT, counted

_HEAD = f"  {'name':<24}{'unit':<8}{'cost':>9}  more"
_MORE = ("length", "sold by", "covers", "per pound", "per hour", "crew")


class CatalogScreen(Screen[None]):
    DEFAULT_CSS = """
    CatalogScreen {
        #head { background: $panel; padding: 0 1; height: 1; text-style: bold; }
        #columns { color: $foreground-muted; padding: 0 1; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("a", "add", "add one"),
        Binding("d", "drop", "drop it"),
        Binding("escape", "app.pop_screen", "back", key_display="esc"),
    ]

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._asked: str | None = None
        """The line that would go if "d" were pressed once more."""

    def compose(self) -> ComposeResult:
        yield Static(id="head", markup=False)
        yield Static(_HEAD, id="columns", markup=False)
        yield Lines("change it")
        yield KeyBar()

    def on_screen_resume(self) -> None:
        self._read()

    def _read(self) -> None:
        with trouble_told(self):
            catalog = self._desk.book.catalog()
            rows = [dict(zip(COLUMNS, cells, strict=True)) for cells in rows_of(catalog)]
            self.query_one("#head", Static).update(
                f"catalog: {counted(len(catalog.items), 'item')}, "
                f"{counted(len(catalog.tasks), 'task')}"
            )
            self.query_one(Lines).fill(Option(_line(row), row["name"]) for row in rows)

    def on_option_list_option_highlighted(self, _moved: OptionList.OptionHighlighted) -> None:
        self._asked = None

    def on_option_list_option_selected(self, _selected: OptionList.OptionSelected) -> None:
        name = self.query_one(Lines).chosen
        if name is not None:
            self.app.push_screen(CatalogLineScreen(self._desk, name))

    def action_add(self) -> None:
        self.app.push_screen(NewLineScreen(self._desk), self._choose)

    def _choose(self, name: str | None) -> None:
        if name is not None:
            self._read()
            self.query_one(Lines).choose(name)

    def action_drop(self) -> None:
        name = self.query_one(Lines).chosen
        if name is None:
            return
        if self._asked != name:
            self._asked = name
            self.notify(f"{plain(name)}: press d once more to drop it.", markup=False)
            return
        with trouble_told(self):
            self._desk.book.change_catalog(lambda now: without(now, name))
            self._asked = None
            self._read()


def _line(row: dict[str, str]) -> Content:
    more = ", ".join(f"{field} {row[field]}" for field in _MORE if row[field])
    return Content.assemble(
        ("· " if row["line"] == "item" else "h ", FAINT),
        f"{plain(row['name']):<24.24}{row['unit']:<8.8}{row['cost'] or '-':>9}  ",
        (plain(more), FAINT),
    )
