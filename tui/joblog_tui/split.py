"""One entry made into two: an amount of it, or both facts in words."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Input, Static

from joblog.form import describe, plain
from joblog.model import BookEntry, Entry
from joblog.service import ServiceError, decide
from joblog.service.desk import Desk
from joblog.service.parting import in_all, parts_of
from joblog.service.reading import reader_instead
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.words_line import WordsLine
from joblog_tui.wording import DONE, FAINT, in_doubt


class SplitScreen(Screen[None]):
    """What enter keeps is in sight before it is pressed; an empty line keeps nothing."""

    DEFAULT_CSS = """
    SplitScreen {
        #head { background: $panel; padding: 0 1; height: auto; text-style: bold; }
        #ask { padding: 1 1 0 1; color: $foreground-muted; }
        Input { margin: 0 1; }
        #would { padding: 1 1 0 1; height: 1fr; overflow-y: auto; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("escape", "app.pop_screen", "leave it as it was", key_display="esc"),
    ]

    def __init__(self, desk: Desk, entry: BookEntry) -> None:
        super().__init__()
        self._desk = desk
        self._entry = entry
        self._reader = reader_instead(desk, entry)

    def compose(self) -> ComposeResult:
        yield Static(f"split: {describe(self._entry.entry)}", id="head", markup=False)
        yield Static(_ASK, id="ask", markup=False)
        yield WordsLine("")
        yield Static(id="would", markup=False)
        yield KeyBar()

    def on_input_changed(self, _changed: Input.Changed) -> None:
        shown = Content("")
        if self._text:
            try:
                shown = _would(self._entry.entry, self._parts())
            except ServiceError as wrong:
                shown = in_doubt(str(wrong))
        self.query_one("#would", Static).update(shown)

    def on_input_submitted(self, _submitted: Input.Submitted) -> None:
        try:
            decide.split(self._desk, self._entry.id, self._parts())
        except ServiceError as wrong:
            self.query_one("#would", Static).update(in_doubt(str(wrong)))
        else:
            self.app.pop_screen()
            self.app.notify("Split in two; the other one comes right after it.")

    def _parts(self) -> tuple[Entry, ...]:
        return parts_of(self._entry.entry, self._text, self._reader)

    @property
    def _text(self) -> str:
        return self.query_one(WordsLine).value.strip()


_ASK = "How much goes into the first? The rest makes the second. Or say both facts in words:"


def _would(entry: Entry, parts: tuple[Entry, ...]) -> Content:
    shown = [
        Content.assemble((f"{place}: ", FAINT), (describe(part), f"bold {DONE}"))
        for place, part in enumerate(parts, 1)
    ]
    whole = in_all(parts)
    if whole is None:
        return Content("\n").join([*shown, Content.styled("of different things", FAINT)])
    if whole == entry:
        return Content("\n").join([*shown, Content.styled("in all as before", FAINT)])
    return Content("\n").join([*shown, in_doubt(f"in all: {plain(describe(whole))}")])
