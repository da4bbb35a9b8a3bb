"""The lines of the catalog: the items, then the tasks."""

from __future__ import annotations

from textual.reactive import reactive

from joblog_tui.catalog_lines import CatalogLine
from joblog_tui.widgets.headed_list import HeadedList, Row


class CatalogList(HeadedList):
    lines: reactive[tuple[CatalogLine, ...]] = reactive(())

    def __init__(self) -> None:
        super().__init__("change it")

    def watch_lines(self, lines: tuple[CatalogLine, ...]) -> None:
        self.show(Row(line.head, line.shown, line.id) for line in lines)

    @property
    def chosen(self) -> CatalogLine | None:
        """The line under the cursor."""
        chosen = self.chosen_id
        return next((line for line in self.lines if line.id == chosen), None)
