"""The lines of the reconciliation, in parts: materials, task hours, days, what is missing."""

from __future__ import annotations

from textual.reactive import reactive

from tui.balance import Line
from tui.widgets.headed_list import HeadedList, Row
from tui.wording import in_doubt


class BalanceList(HeadedList):
    lines: reactive[tuple[Line, ...]] = reactive(())

    def __init__(self) -> None:
        super().__init__("entries behind the line")

    def watch_lines(self, lines: tuple[Line, ...]) -> None:
        self.show(
            Row(line.head, in_doubt(line.shown) if line.doubtful else line.shown, str(place))
            for place, line in enumerate(lines)
        )

    @property
    def chosen(self) -> Line | None:
        """The line under the cursor."""
        chosen = self.chosen_id
        return self.lines[int(chosen)] if chosen else None
