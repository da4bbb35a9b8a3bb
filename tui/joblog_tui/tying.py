"""What belongs to what, on a list: each line is tied or untied with one key."""

from __future__ import annotations

from datetime import date

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Horizontal
from textual.events import Key
from textual.widgets import OptionList, Static

from joblog.model import BookEntry, Photo
from joblog.service import decide
from joblog.service.desk import Desk
from joblog.service.record import Day, original
from joblog_tui.evidence import EvidenceScreen
from joblog_tui.guard import Guard
from joblog_tui.trouble import trouble_shown
from joblog_tui.widgets.evidence_line import EvidenceLine
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.lines import Lines
from joblog_tui.widgets.picture import Picture
from joblog_tui.wording import DONE


class TyingScreen(EvidenceScreen):
    """An entry and the photos of its day, or a photo and the entries of its day.

    A tie is made or cut at once, and taken back with the key that takes back anything.
    """

    DEFAULT_CSS = """
    TyingScreen {
        #head { background: $panel; padding: 0 1; height: auto; text-style: bold; }
        #tied { height: 1fr; }
        Lines { width: 1fr; height: 1fr; }
        Picture { width: 28; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("space", "turn_tie", "tie or untie", key_display="space"),
        Binding("escape", "app.pop_screen", "back", key_display="esc"),
    ]
    enter = ""
    """What the key bar says that enter does."""

    def __init__(self, desk: Desk, day: date) -> None:
        super().__init__(desk)
        self._guard = Guard(self, ("space", "enter"))
        self._day = Day(day)

    def head(self) -> str:
        raise NotImplementedError

    def read(self) -> None:
        """Reads the day anew and fills the list."""
        raise NotImplementedError

    def compose(self) -> ComposeResult:
        yield Static(self.head(), id="head", markup=False)
        with Horizontal(id="tied"):
            yield Lines(self.enter)
            yield Picture()
        yield EvidenceLine()
        yield KeyBar()

    def on_screen_resume(self) -> None:
        self._read()
        self.call_after_refresh(self.show)

    def takes(self, key: Key) -> bool:
        """Whether the key was pressed by somebody who saw what it ties."""
        return self._guard.takes(key)

    def _read(self) -> None:
        with trouble_shown(self):
            self.read()
            self._guard.renew()

    def show(self) -> None:
        """Draws the photo in sight."""
        photo = self.photo_in_sight()
        if photo is not None:
            with trouble_shown(self):
                self.query_one(Picture).show(original(self._desk, photo.sha256))

    def is_tied(self, photo: Photo, entry: BookEntry) -> bool:
        pair = (photo.sha256, entry.id)
        return any((tie.photo, tie.entry) == pair for tie in self._day.ties)

    def mark(self, photo: Photo, entry: BookEntry) -> tuple[str, str]:
        """The beginning of a line, with its style."""
        return ("[x] ", f"bold {DONE}") if self.is_tied(photo, entry) else ("[ ] ", "")

    def on_option_list_option_selected(self, _chosen: OptionList.OptionSelected) -> None:
        self.action_turn_tie()

    def action_turn_tie(self) -> None:
        photo, entry = self.photo_in_sight(), self.in_sight()
        if photo is not None and entry is not None:
            with trouble_shown(self):
                turn = decide.untie if self.is_tied(photo, entry) else decide.tie
                turn(self._desk, photo.sha256, entry.id)
                self._read()
