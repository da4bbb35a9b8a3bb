"""The list of days, one line each."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.content import Content
from textual.reactive import reactive
from textual.widgets import Static
from textual.widgets.option_list import Option

from joblog.form import WORDS, amount
from joblog.model import Signed
from joblog.service.record import DayLine
from joblog_tui.columns import in_columns
from joblog_tui.widgets.lines import Lines
from joblog_tui.wording import DONE, DOUBT, day_name

_HEADS = ("to decide", "entries", "photos", WORDS["crew_hours"], "signed off")


class DayList(Vertical):
    DEFAULT_CSS = """
    DayList {
        height: 1fr;
        padding: 1 0;
        #columns { color: $foreground-muted; padding: 0 1; height: 1; text-wrap: nowrap; }
    }
    """

    days: reactive[tuple[DayLine, ...]] = reactive(())
    signed: reactive[Mapping[date, Signed]] = reactive({})

    def compose(self) -> ComposeResult:
        yield Static(id="columns", markup=False)
        yield Lines("open the day")

    def watch_days(self) -> None:
        self._lay_out()

    def watch_signed(self) -> None:
        self._lay_out()

    def on_resize(self) -> None:
        self._lay_out()

    def _lay_out(self) -> None:
        # A mark and a blank stand before every line, a blank and the scroll bar beside it.
        heads, lines = day_lines(self.days, self.signed, self.app.size.width - 5)
        self.query_one("#columns", Static).update(f"  {heads}")
        self.query_one(Lines).fill(
            Option(line, day.day.isoformat()) for day, line in zip(self.days, lines, strict=True)
        )

    @property
    def chosen(self) -> date | None:
        """The day under the cursor."""
        chosen = self.query_one(Lines).chosen
        return date.fromisoformat(chosen) if chosen else None


def day_lines(
    days: tuple[DayLine, ...], signed: Mapping[date, Signed], width: int
) -> tuple[str, list[Content]]:
    """The names of the columns, and one line a day."""
    names = [day_name(line.day) for line in days]
    heads, lines = in_columns(
        "day",
        _HEADS,
        names,
        [(*_cells(line), _signed(signed.get(line.day))) for line in days],
        width,
    )
    return heads, [
        Content.assemble(("? ", f"bold {DOUBT}"), (text, "bold"))
        if line.doubts
        else Content.assemble(("✓ ", f"bold {DONE}"), text)
        for text, line in zip(lines, days, strict=True)
    ]


def _cells(line: DayLine) -> tuple[str, ...]:
    return (
        str(line.doubts) if line.doubts else "-",
        str(line.entries),
        str(line.photos),
        amount(line.crew_hours),
    )


def _signed(signed: Signed | None) -> str:
    if signed is None:
        return "-"
    return "changed" if signed.changed else "yes"
