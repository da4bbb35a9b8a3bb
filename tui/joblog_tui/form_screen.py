"""A few lines to fill in: what they come to is shown before it is kept."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Generic, TypeVar

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from joblog.form import plain
from joblog.service import ServiceError
from joblog.service.errors import FieldError
from joblog_tui.closed_once import ClosedOnce
from joblog_tui.widgets.completing import Completing
from joblog_tui.widgets.field_row import FieldRow
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.wording import in_doubt

Kept = TypeVar("Kept")


class FormScreen(ClosedOnce[Kept | None], Generic[Kept]):
    """Closes with what was kept, or None. Enter keeps from any line; a line at fault says so and
    nothing is lost."""

    DEFAULT_CSS = """
    FormScreen {
        #head { background: $panel; padding: 0 1; height: auto; text-style: bold; }
        #rows { height: 1fr; padding: 1 0 0 0; scrollbar-size-vertical: 1; }
        #would { height: auto; min-height: 2; padding: 0 1; border-top: solid $panel; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("escape", "leave", "leave it as it was", key_display="esc"),
    ]

    def head(self) -> str:
        """What is filled in."""
        raise NotImplementedError

    def rows(self) -> Iterable[FieldRow]:
        """The lines, each `stay_open`."""
        raise NotImplementedError

    def would(self, values: Mapping[str, str]) -> Content:
        """What would be kept. Raises `ServiceError`, `FieldError` where it knows the line."""
        raise NotImplementedError

    def keep(self, values: Mapping[str, str]) -> Kept:
        """Keeps it. Raises as `would`."""
        raise NotImplementedError

    def compose(self) -> ComposeResult:
        yield Static(plain(self.head()), id="head", markup=False)
        with VerticalScroll(id="rows", can_focus=False):
            yield from self.rows()
        yield Static(id="would", markup=False)
        yield KeyBar()

    def on_mount(self) -> None:
        self.query(FieldRow).first().enter()
        self._preview()

    def on_completing_typed(self, _typed: Completing.Typed) -> None:
        self._preview()

    def on_completing_passed(self, passed: Completing.Passed) -> None:
        rows = list(self.query(FieldRow))
        at = next(place for place, row in enumerate(rows) if row.line is passed.line)
        rows[(at + passed.way) % len(rows)].enter()

    def on_completing_given(self, given: Completing.Given) -> None:
        if given.line.picked:
            given.line.take()
            self.on_completing_passed(Completing.Passed(given.line, 1))
            return
        try:
            kept = self.keep(self._values)
        except ServiceError as wrong:
            self._complain(wrong)
        else:
            self.dismiss(kept)

    def _preview(self) -> None:
        for row in self.query(FieldRow):
            row.complain("")
        try:
            shown = self.would(self._values)
        except ServiceError as wrong:
            shown = in_doubt(str(wrong))
        self.query_one("#would", Static).update(shown)

    def _complain(self, wrong: ServiceError) -> None:
        field = wrong.field if isinstance(wrong, FieldError) else None
        row = next((row for row in self.query(FieldRow) if row.field == field), None)
        if row is not None:
            row.complain(plain(str(wrong)))
            row.enter()
        self.query_one("#would", Static).update(in_doubt(str(wrong)))

    @property
    def _values(self) -> dict[str, str]:
        return {row.field: row.value for row in self.query(FieldRow)}

    def action_leave(self) -> None:
        self.dismiss(None)
