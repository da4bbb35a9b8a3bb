"""The entries of a day, one line each; those that wait for a person stand first."""

from __future__ import annotations

from textual.widgets.option_list import Option

from joblog.service.record import Day, photos_of
from joblog_tui.widgets.lines import Lines
from joblog_tui.wording import entry_line


class EntryList(Lines):
    DEFAULT_CSS = """
    EntryList { height: 30%; min-height: 7; }
    """

    def __init__(self, zone: str) -> None:
        super().__init__("")
        self._zone = zone

    def show(self, day: Day, choose: int | None = None) -> None:
        """Shows a day's entries with the cursor on one of them, else on the first."""
        without = {entry.id for entry in day.unanswered}
        self.fill(
            Option(
                entry_line(
                    entry,
                    self._zone,
                    len(photos_of(day, entry)),
                    unanswered=entry.id in without,
                ),
                str(entry.id),
            )
            for entry in day.entries
        )
        if day.entries:
            self.choose(str(day.entries[0].id if choose is None else choose))
