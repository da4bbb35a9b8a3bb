"""One item or task of the catalog with all its fields, to be written in and kept."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.events import DescendantFocus
from textual.widgets import Input, Static

from joblog.form import plain
from joblog.quantity import UNITS
from joblog.service.catalog import keep_line
from joblog.service.desk import Desk
from joblog.service.errors import FieldError
from joblog_tui.catalog_lines import FIELDS, CatalogLine, id_of
from joblog_tui.closed_once import ClosedOnce
from joblog_tui.trouble import trouble_shown
from joblog_tui.widgets.field import Field
from joblog_tui.widgets.keybar import KeyBar

_WRITTEN = {
    "name": "What it is called everywhere. It cannot be changed later.",
    "unit": f"What it is counted in: {', '.join(UNITS)}.",
    "sold by": "How many come together, and in what: box of 20. Empty: sold singly.",
    "length": "The usual length of one: 12 ft. A bare number is in feet.",
    "other lengths": "Lengths it also comes in, with ; between them: 10 ft; 16 ft.",
    "covers": "What one of them covers: 900 ft2, or 50 ft.",
    "per pound": "How many are in a pound, of what is counted in lb.",
    "kerf": "What one cut takes away: 1/8 in.",
    "least offcut": "The shortest remainder that is worth keeping: 12 in.",
    "open area": "Square inches that one foot of it is open, of what is vented.",
    "counted": "yes for what is counted whole, like end caps: no allowance buys one more.",
    "length costs": "What one of other lengths costs, with ; between them: 16 ft = 24.10.",
    "supplier": "Where you buy it; an order is summed up for each.",
    "least order": "The least that its supplier takes an order for, before tax: 250.",
    "sales tax": "On its price: 8.25%; 0% where it bears none.",
    "said": "What else you say for it, with ; between the names.",
    "also": "Other units you say it in, and how many of its own one is: bundle = 6; each = 1/94.",
    "variant of": "What it is one of, where several differ in size: fascia, of fascia 1x8.",
    "size": "What tells it from the others of its name: 1x8; 5 in; 8d; #8.",
    "profile": "The same of its shape: vented; solid; dutch lap.",
    "color": "The same of its color: white.",
    "per hour": "How much of the unit one person does in an hour: 8, or 7 1/2.",
    "crew": "How many people usually do it.",
}
_COST = {"item": "Of one unit, not of a pack: 14.90.", "task": "Of one person's hour: 48.00."}


class CatalogFormScreen(ClosedOnce[str | None]):
    """Gives back the id of the line that was kept, or None when nothing was. Without one, a new."""

    DEFAULT_CSS = """
    CatalogFormScreen {
        #head { background: $panel; padding: 0 1; height: 1; text-style: bold; }
        VerticalScroll { height: 1fr; padding: 1 0 0 0; scrollbar-size-vertical: 1; }
        #written { height: 3; padding: 0 1; color: $foreground-muted; border-top: solid $panel; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("escape", "leave", "leave it as it was", key_display="esc"),
    ]

    def __init__(self, desk: Desk, line: str, known: CatalogLine | None = None) -> None:
        super().__init__()
        self._desk = desk
        self._line = line
        self._known = known

    def compose(self) -> ComposeResult:
        if self._known is None:
            yield Static(f"catalog: add {_ARTICLED[self._line]}", id="head", markup=False)
        else:
            yield Static(f"catalog: {plain(self._known.name)}", id="head", markup=False)
        cells = self._known.cells if self._known else {}
        with VerticalScroll(can_focus=False):
            if self._known is None:
                yield Field("name", "")
            for field in FIELDS[self._line]:
                yield Field(field, cells.get(field, ""))
        yield Static(id="written", markup=False)
        yield KeyBar()

    def on_mount(self) -> None:
        self.query(Field).first().enter()

    def on_descendant_focus(self, focused: DescendantFocus) -> None:
        field = focused.widget.query_ancestor(Field).called
        how = _COST[self._line] if field == "cost" else _WRITTEN[field]
        self.query_one("#written", Static).update(how)

    def on_input_submitted(self, _submitted: Input.Submitted) -> None:
        self.action_save()

    def action_save(self) -> None:
        fields = {
            field.called: field.text
            for field in self.query(Field)
            if self._known is None or field.changed
        }
        if not fields:
            self.dismiss(None)
            return
        name = " ".join(fields.pop("name", "").lower().split())
        if self._known is not None:
            name = self._known.name
        fields = {"line": self._line, **fields}
        with trouble_shown(self):
            try:
                keep_line(self._desk, name, fields, new=self._known is None)
            except FieldError as error:
                self._complain(error)
            else:
                self.dismiss(id_of(self._line, name))

    def _complain(self, error: FieldError) -> None:
        asked = list(self.query(Field))
        wrong = next((field for field in asked if field.called == error.field), asked[0])
        for field in asked:
            field.trouble = str(error) if field is wrong else ""
        wrong.enter()

    def action_leave(self) -> None:
        self.dismiss(None)


_ARTICLED = {"item": "an item", "task": "a task"}
