"""A list in parts, each with columns of its own; the line above always names those in sight."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Static
from textual.widgets.option_list import Option

from joblog_tui.widgets.lines import Lines


@dataclass(frozen=True, slots=True)
class Row:
    """One line of the list. `head` names its columns; `id` is what its owner knows it by."""

    head: str
    shown: Content | str
    id: str


class HeadedList(Vertical):
    DEFAULT_CSS = """
    HeadedList {
        height: 1fr;
        #columns { color: $foreground-muted; padding: 0 1; height: 1; text-wrap: nowrap; }
        Lines > .option-list--option { padding: 0 0 0 1; }
    }
    """

    def __init__(self, enter: str) -> None:
        super().__init__()
        self._enter = enter
        self._waiting: tuple[Row, ...] = ()
        self._heads: list[str] = []
        # For every line that is shown, the names of its columns.

    def compose(self) -> ComposeResult:
        yield Static(id="columns", markup=False)
        yield Lines(self._enter)

    def on_mount(self) -> None:
        if self._waiting:
            self.show(self._waiting)
        self.watch(self.query_one(Lines), "scroll_y", self._name_columns)

    def show(self, rows: Iterable[Row]) -> None:
        """Puts these rows in the place of those before; the cursor stays where it was."""
        if not self.query(Lines):
            # A screen may know its rows before its parts are there.
            self._waiting = tuple(rows)
            return
        options: list[Option] = []
        self._heads = []
        for row in rows:
            if self._heads and row.head != self._heads[-1]:
                # A new part of the list: its own column names, not a line to stop at.
                options.append(Option(row.head, disabled=True))
                self._heads.append(row.head)
            options.append(Option(row.shown, row.id))
            self._heads += [row.head] * (1 + str(row.shown).count("\n"))
        lines = self.query_one(Lines)
        lines.fill(options)
        if options and lines.chosen is None:
            lines.action_cursor_up()
        self._name_columns()

    @property
    def chosen_id(self) -> str | None:
        """Id of the row under the cursor."""
        return next((lines.chosen for lines in self.query(Lines)), None)

    def choose(self, id: str | None) -> None:
        """Puts the cursor on a row; one that is not there changes nothing."""
        if id is not None:
            self.query_one(Lines).choose(id)

    def _name_columns(self) -> None:
        top = int(self.query_one(Lines).scroll_y)
        self.query_one("#columns", Static).update(
            self._heads[top] if top < len(self._heads) else ""
        )
