"""Something nobody said at the time, typed in: in words as one would say them, or line by line."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date, datetime

from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from joblog.form import describe
from joblog.model import BookEntry, Entry, Kind
from joblog.service.desk import Desk
from joblog.service.editing import called, kinds, names, offered
from joblog.service.filling_in import filled_in, keep_filled_in
from joblog.service.moments import after_all_said
from joblog.service.reading import reader_at
from joblog.service.rereading import Revision
from joblog.service.taking_in import keep_typed
from joblog_tui.closed_once import ClosedOnce
from joblog_tui.field_names import field_name
from joblog_tui.form_screen import FormScreen
from joblog_tui.saying import SayingScreen, preview
from joblog_tui.trouble import trouble_shown
from joblog_tui.widgets.completing import Choices
from joblog_tui.widgets.field_row import FieldRow
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.lines import Lines
from joblog_tui.wording import DONE, FAINT, day_name


class TypeScreen(SayingScreen[int | None]):
    """Closes with the number of the first entry that was kept, or None. It is told of that day."""

    BINDINGS = [  # noqa: RUF012
        Binding("tab", "by_lines", "line by line instead", key_display="tab", priority=True),
        Binding("escape", "leave", "leave it", key_display="esc"),
    ]

    def __init__(self, desk: Desk, day: date) -> None:
        super().__init__()
        self._desk = desk
        self._day = day
        self._at = after_all_said(desk, day)
        self._read = reader_at(desk, self._at)

    def head(self) -> str:
        return f"{day_name(self._day)}: type one in"

    def would(self) -> Content:
        return preview(self._revision(), None)

    def save(self) -> None:
        said = self._revision()
        if not said.reading.entries:
            self.notify("These words say nothing to keep. Esc leaves it.")
            return
        with trouble_shown(self):
            kept = keep_typed(self._desk, said.reading, said.text, self._at)
            self.dismiss(kept[0].id)

    def action_by_lines(self) -> None:
        def fill(kind: Kind | None) -> None:
            if kind is not None:
                screen = NewEntryScreen(self._desk, kind, self._at)
                self.app.push_screen(screen, self._kept)

        self.app.push_screen(KindScreen(), fill)

    def _kept(self, entry: BookEntry | None) -> None:
        if entry is not None:
            self.dismiss(entry.id)

    def _revision(self) -> Revision:
        return Revision(self.words, self._read(self.words))


class KindScreen(ClosedOnce[Kind | None]):
    """Closes with the kind of fact that was picked, or None."""

    DEFAULT_CSS = """
    KindScreen {
        #head { background: $panel; padding: 0 1; text-style: bold; height: 1; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("escape", "dismiss(None)", "back", key_display="esc"),
    ]

    def compose(self) -> ComposeResult:
        yield Static("What is it?", id="head", markup=False)
        yield Lines("fill it in")
        yield KeyBar()

    def on_mount(self) -> None:
        named = dict(kinds())
        self.query_one(Lines).fill(
            Option(named[kind], kind) for kind in dict.fromkeys((*_USUAL, *named))
        )

    def on_option_list_option_selected(self, chosen: OptionList.OptionSelected) -> None:
        self.dismiss(next(kind for kind, _ in kinds() if kind == chosen.option.id))


_USUAL: tuple[Kind, ...] = ("used", "delivered", "spoiled", "measure", "labor")


class NewEntryScreen(FormScreen[BookEntry]):
    """The lines of one kind of fact, all empty."""

    def __init__(self, desk: Desk, kind: Kind, at: datetime) -> None:
        super().__init__()
        self._desk = desk
        self._kind = kind
        self._at = at

    def head(self) -> str:
        return f"{called(self._kind)}: fill in what you know"

    def rows(self) -> Iterable[FieldRow]:
        for field in names(self._kind):
            if field != "kind":
                yield FieldRow(field, field_name(field), "", self._choices(field), stay_open=True)

    def _choices(self, field: str) -> Choices:
        return lambda: offered(self._desk, Entry(self._kind, item=self._item), field)

    @property
    def _item(self) -> str | None:
        return self._values.get("item") or None

    def would(self, values: Mapping[str, str]) -> Content:
        if not any(values.values()):
            return Content.styled("nothing is told until you type", FAINT)
        told = filled_in(self._desk, self._kind, values, self._at)
        return Content.assemble(("adds: ", FAINT), (describe(told), f"bold {DONE}"))

    def keep(self, values: Mapping[str, str]) -> BookEntry:
        told = filled_in(self._desk, self._kind, values, self._at)
        return keep_filled_in(self._desk, [told], self._at)[0]
