"""The lines of the reconciliation; the line above them always names their columns."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.reactive import reactive
from textual.widgets import Static
from textual.widgets.option_list import Option

from tui.balance import Line
from tui.widgets.lines import Lines
from tui.wording import in_doubt


class BalanceList(Vertical):
    DEFAULT_CSS = """
    BalanceList {
        height: 1fr;
        #columns { color: $foreground-muted; padding: 0 1; text-wrap: nowrap; }
        Lines > .option-list--option { padding: 0 0 0 1; }
    }
    """

    lines: reactive[tuple[Line, ...]] = reactive(())

    def __init__(self) -> None:
        super().__init__()
        self._heads: list[str] = []
        # For every row that is shown, the names of its columns.

    def compose(self) -> ComposeResult:
        yield Static(id="columns", markup=False)
        yield Lines("entries behind the line")

    def on_mount(self) -> None:
        self.watch(self.query_one(Lines), "scroll_y", self._name_columns)

    def watch_lines(self, lines: tuple[Line, ...]) -> None:
        options: list[Option] = []
        self._heads = []
        for place, line in enumerate(lines):
            if self._heads and line.head != self._heads[-1]:
                # A new part of the list: its own column names, not a line to stop at.
                options.append(Option(line.head, disabled=True))
                self._heads.append(line.head)
            options.append(
                Option(in_doubt(line.shown) if line.doubtful else line.shown, str(place))
            )
            self._heads.append(line.head)
        self.query_one(Lines).fill(options)
        self._name_columns()

    @property
    def chosen(self) -> Line | None:
        """The line under the cursor."""
        chosen = self.query_one(Lines).chosen
        return self.lines[int(chosen)] if chosen else None

    def _name_columns(self) -> None:
        top = int(self.query_one(Lines).scroll_y)
        self.query_one("#columns", Static).update(
            self._heads[top] if top < len(self._heads) else ""
        )
