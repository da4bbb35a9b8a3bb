"""What many screens are: a head, a list in parts, and what the line under the cursor means."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.events import Key
from textual.screen import Screen
from textual.widgets import OptionList, Static

from joblog.service.desk import Desk
from joblog.service.record import changed_since
from joblog_tui.guard import Guard
from joblog_tui.polled import read_on_change
from joblog_tui.trouble import trouble_shown
from joblog_tui.widgets.headed_list import HeadedList, Row
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.lines import Lines
from joblog_tui.widgets.panes import Panes, list_width
from joblog_tui.widgets.sheet import Sheet


@dataclass(frozen=True, slots=True)
class ListLine:
    """`head` names its columns or its part of the list, `meaning` says all there is of it."""

    head: str
    shown: Content | str
    id: str
    """What its screen knows it by; the cursor stays on it whatever comes or goes around it."""
    meaning: Content
    entry: int | None = None
    """The entry that it is, where it is one."""


class ListedScreen(Screen[None]):
    """A kind of it says what is asked of the service (`read`), and what is shown of that."""

    AUTO_FOCUS = ""
    ENTER: ClassVar[str] = "open it"
    DEFAULT_CSS = """
    ListedScreen {
        #head { background: $panel; padding: 0 1; height: auto; max-height: 4; }
        #empty { padding: 1 2; height: 1fr; display: none; }
        &.-empty #empty { display: block; }
        &.-empty Panes { display: none; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("space", "turn", "more", key_display="space"),
        Binding("escape", "app.pop_screen", "back", key_display="esc"),
    ]

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._shown: tuple[ListLine, ...] = ()

    # --- what a kind of it says ---------------------------------------------------------------

    def read(self) -> None:
        """Asks the service for what is to be shown."""
        raise NotImplementedError

    def head(self) -> Content:
        raise NotImplementedError

    def lines(self, width: int) -> Sequence[ListLine]:
        """The list, none of it wider than `width`."""
        raise NotImplementedError

    def empty(self) -> str:
        """What is said where there is no line."""
        raise NotImplementedError

    def open(self, line: ListLine) -> None:
        """What enter does on a line; the entry that it is, unless a kind of screen knows better."""
        if line.entry is None:
            self.notify("No entry stands behind this line.")
            return
        from joblog_tui.entry import EntryScreen

        self.app.push_screen(EntryScreen(self._desk, line.entry))

    # --- the same for all ---------------------------------------------------------------------

    def compose(self) -> ComposeResult:
        yield Static(id="head", markup=False)
        yield from self.above()
        yield Panes(self.ENTER)
        yield Static(id="empty", markup=False)
        yield KeyBar()

    def above(self) -> ComposeResult:
        """What stands between head and list; mostly nothing."""
        yield from ()

    def on_mount(self) -> None:
        read_on_change(self, self._desk, self.read_anew)

    def on_screen_resume(self) -> None:
        self.read_anew()

    def read_anew(self) -> None:
        """Reads and shows anew; the cursor stays where it was."""
        with trouble_shown(self):
            # What was written until here is read now; what comes while it is read comes after.
            changed_since(self._desk)
            self.read()
            self.lay_out()

    def on_resize(self) -> None:
        if self._shown:
            self.lay_out()

    def lay_out(self) -> None:
        # A blank stands before a line, another and the scroll bar after it.
        self._shown = tuple(self.lines(list_width(self.app.size.width) - 3))
        self.set_class(not self._shown, "-empty")
        if not self._shown:
            self.set_focus(None)
        elif self.focused is None:
            self.query_one(Lines).focus()
        self.query_one("#head", Static).update(self.head())
        self.query_one("#empty", Static).update(self.empty())
        listed = self.query_one(HeadedList)
        before = listed.chosen_id
        listed.show(Row(line.head, line.shown, line.id) for line in self._shown)
        listed.choose(before)
        self._explain()

    @property
    def chosen(self) -> ListLine | None:
        """The line under the cursor."""
        id = self.query_one(HeadedList).chosen_id
        return next((line for line in self._shown if line.id == id), None)

    def choose(self, id: str) -> None:
        self.query_one(HeadedList).choose(id)

    def on_option_list_option_highlighted(self, _moved: OptionList.OptionHighlighted) -> None:
        self._explain()

    def _explain(self) -> None:
        chosen = self.chosen
        self.query_one(Sheet).show(chosen.meaning if chosen else Content(""))
        self.refresh_bindings()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        return action != "turn" or self.query_one(Sheet).longer

    def action_turn(self) -> None:
        self.query_one(Sheet).turn()

    def on_option_list_option_selected(self, _selected: OptionList.OptionSelected) -> None:
        if self.chosen is not None:
            with trouble_shown(self):
                self.open(self.chosen)


class DecidingList(ListedScreen):
    """One where keys decide: of those in `DECIDE` only what was in sight is decided."""

    DECIDE: ClassVar[tuple[str, ...]]

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._guard = Guard(self, self.DECIDE)

    def takes(self, key: Key) -> bool:
        return self._guard.takes(key)

    def lay_out(self) -> None:
        super().lay_out()
        self._guard.renew()
