"""The lines of one page of the squared-up job."""

from __future__ import annotations

from textual.content import Content
from textual.reactive import reactive

from joblog_tui.squared_row import SquaredRow
from joblog_tui.widgets.headed_list import HeadedList, Row
from joblog_tui.widgets.lines import Lines
from joblog_tui.wording import DOUBT


class BalanceList(HeadedList):
    lines: reactive[tuple[SquaredRow, ...]] = reactive(())

    def __init__(self) -> None:
        super().__init__("entries behind the line")

    def watch_lines(self, lines: tuple[SquaredRow, ...]) -> None:
        self.show(
            Row(f" {line.head}", _marked(line), str(place)) for place, line in enumerate(lines)
        )

    def start_anew(self) -> None:
        """The lines that come next are others: the cursor goes to the first of them."""
        self.query_one(Lines).highlighted = None

    @property
    def chosen(self) -> SquaredRow | None:
        """The line under the cursor."""
        chosen = self.chosen_id
        return self.lines[int(chosen)] if chosen else None


def _marked(line: SquaredRow) -> Content:
    """The line after its mark: "?" where it is in doubt, which no colour alone says."""
    if line.doubtful:
        return Content.styled(f"?{line.shown}", DOUBT)
    return Content(f" {line.shown}")
