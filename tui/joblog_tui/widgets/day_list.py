"""The list of days, one line each."""

from __future__ import annotations

from datetime import date

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.content import Content
from textual.reactive import reactive
from textual.widgets import Static
from textual.widgets.option_list import Option

from joblog.form import amount
from joblog.service.record import DayLine
from joblog_tui.widgets.lines import Lines
from joblog_tui.wording import DONE, DOUBT, FAINT, day_name

_HEAD = f"  {'day':<17}{'to decide':>10}{'entries':>10}{'photos':>9}{'crew hours':>13}"


class DayList(Vertical):
    DEFAULT_CSS = """
    DayList {
        height: 1fr;
        padding: 1 0;
        #columns { color: $foreground-muted; padding: 0 1; }
    }
    """

    days: reactive[tuple[DayLine, ...]] = reactive(())

    def compose(self) -> ComposeResult:
        yield Static(_HEAD, id="columns", markup=False)
        yield Lines("open the day")

    def watch_days(self, days: tuple[DayLine, ...]) -> None:
        self.query_one(Lines).fill(Option(day_line(line), line.day.isoformat()) for line in days)

    @property
    def chosen(self) -> date | None:
        """The day under the cursor."""
        chosen = self.query_one(Lines).chosen
        return date.fromisoformat(chosen) if chosen else None


def day_line(line: DayLine) -> Content:
    doubts = f"{line.doubts}" if line.doubts else "-"
    return Content.assemble(
        ("? ", f"bold {DOUBT}") if line.doubts else ("✓ ", f"bold {DONE}"),
        f"{day_name(line.day):<17}",
        (f"{doubts:>10}", f"bold {DOUBT}" if line.doubts else FAINT),
        f"{line.entries:>10}{line.photos:>9}{amount(line.crew_hours):>13}",
    )
