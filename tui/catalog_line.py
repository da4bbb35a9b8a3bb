"""One item or task of the catalog: its fields, and one of them at a time to be changed."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Input, OptionList, Static
from textual.widgets.option_list import Option

from joblog.form import plain
from joblog.plan.catalog_csv import COLUMNS, rows_of, with_fields
from tui.desk import Desk
from tui.told import trouble_told
from tui.widgets.keybar import KeyBar
from tui.widgets.lines import Lines
from tui.wording import DOUBT, FAINT

_TASK_ONLY = ("per hour", "crew")
_FIELDS = tuple(field for field in COLUMNS if field not in ("line", "name"))
_HINTS = {
    "said": "other names for it, with ; between them",
    "also": "each = 1/94; box = 5",
    "length": "12 ft or 144 in",
    "other lengths": "8 ft; 16 ft",
    "sold by": "box of 20",
    "covers": "900 ft2",
    "kerf": "1/8 in",
    "least offcut": "24 in",
    "cost": "of one unit, or of one person's hour",
    "per hour": "units that one crew does in an hour",
}


class CatalogLineScreen(Screen[None]):
    DEFAULT_CSS = """
    CatalogLineScreen {
        #head { background: $panel; padding: 0 1; height: 1; text-style: bold; }
        #ask { padding: 0 1; height: 1; color: $foreground-muted; }
        #trouble { padding: 0 1; height: auto; max-height: 3; }
        Input { margin: 0 1; display: none; }
        &.-typing Input { display: block; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("escape", "leave", "back", key_display="esc"),
    ]

    def __init__(self, desk: Desk, name: str) -> None:
        super().__init__()
        self._desk = desk
        self._called = name
        self._field: str | None = None
        self._row: dict[str, str] = {}

    def compose(self) -> ComposeResult:
        yield Static(plain(self._called), id="head", markup=False)
        yield Lines("change this field")
        yield Static(id="ask", markup=False)
        yield Input()
        yield Static(id="trouble", markup=False)
        yield KeyBar()

    def on_mount(self) -> None:
        self._read()

    def _read(self) -> None:
        with trouble_told(self):
            rows = (
                dict(zip(COLUMNS, cells, strict=True))
                for cells in rows_of(self._desk.book.catalog())
            )
            self._row = next((row for row in rows if row["name"] == self._called), {})
            task = self._row.get("line") == "task"
            fields = ("unit", "said", "cost", *_TASK_ONLY) if task else _ITEM_FIELDS
            self.query_one(Lines).fill(Option(self._shown(field), field) for field in fields)

    def _shown(self, field: str) -> Content:
        value = self._row.get(field, "")
        return Content.assemble((f"{field:<15}", FAINT), plain(value) if value else ("-", FAINT))

    def on_option_list_option_selected(self, _selected: OptionList.OptionSelected) -> None:
        self._field = self.query_one(Lines).chosen
        if self._field is None:
            return
        hint = _HINTS.get(self._field, "")
        words = f"{self._field}{': ' + hint if hint else ''}. Enter keeps it, empty takes it away."
        self.query_one("#ask", Static).update(words)
        self.add_class("-typing")
        line = self.query_one(Input)
        line.value = self._row.get(self._field, "")
        line.focus()

    def on_input_submitted(self, submitted: Input.Submitted) -> None:
        field, value = self._field, submitted.value
        if field is None:
            return
        try:
            with trouble_told(self):
                self._desk.book.change_catalog(
                    lambda now: with_fields(now, self._called, {field: value})
                )
        except ValueError as error:
            # What was typed stays, so that it can be put right.
            words = Content.styled(plain(f"{field} {error}"), DOUBT)
            self.query_one("#trouble", Static).update(words)
            return
        self._close_field()
        self._read()

    def action_leave(self) -> None:
        if self.has_class("-typing"):
            self._close_field()
        else:
            self.dismiss()

    def _close_field(self) -> None:
        self._field = None
        self.remove_class("-typing")
        for id in ("#ask", "#trouble"):
            self.query_one(id, Static).update("")
        self.query_one(Lines).focus()


_ITEM_FIELDS = tuple(field for field in _FIELDS if field not in _TASK_ONLY)
