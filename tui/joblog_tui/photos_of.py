"""The photos of an entry's day: which of them belong to it."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Horizontal
from textual.content import Content
from textual.events import Key
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from joblog.form import describe, plain
from joblog.model import BookEntry, Photo
from joblog.service import decide, record
from joblog.service.desk import Desk
from joblog.service.editing import day_of
from joblog.service.record import Day, gallery, read_day
from joblog_tui.evidence import EvidenceScreen
from joblog_tui.guard import Guard
from joblog_tui.trouble import trouble_shown
from joblog_tui.widgets.evidence_line import EvidenceLine
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.lines import Lines
from joblog_tui.widgets.picture import Picture
from joblog_tui.wording import DONE, FAINT, clock


class PhotosOfScreen(EvidenceScreen):
    """Each is tied or untied at once, and taken back with the key that takes back anything."""

    DEFAULT_CSS = """
    PhotosOfScreen {
        #head { background: $panel; padding: 0 1; height: auto; text-style: bold; }
        #photos { height: 1fr; }
        Lines { width: 1fr; height: 1fr; }
        Picture { width: 28; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("space", "turn_tie", "tie or untie", key_display="space"),
        Binding("escape", "app.pop_screen", "back", key_display="esc"),
    ]

    def __init__(self, desk: Desk, entry: BookEntry) -> None:
        super().__init__(desk)
        self._entry = entry
        self._guard = Guard(self, ("space", "enter"))
        self._day = Day(day_of(desk, entry))

    def compose(self) -> ComposeResult:
        yield Static(f"photos of: {describe(self._entry.entry)}", id="head", markup=False)
        with Horizontal(id="photos"):
            yield Lines("")
            yield Picture()
        yield EvidenceLine()
        yield KeyBar()

    def on_screen_resume(self) -> None:
        self._read()
        self.call_after_refresh(self._show)

    def takes(self, key: Key) -> bool:
        """Whether the key was pressed by somebody who saw which photo it ties."""
        return self._guard.takes(key)

    def _read(self) -> None:
        with trouble_shown(self):
            self._day = read_day(self._desk, self._day.day)
            self.query_one(Lines).fill(
                Option(self._line(photo), photo.sha256) for photo in gallery(self._day)
            )
            if not self._day.photos:
                self.query_one("#head", Static).update("There are no photos on this day.")
            self._guard.renew()

    def _line(self, photo: Photo) -> Content:
        right = self._day.put_right.get(photo.sha256)
        at = clock(right[0] if right else photo.taken.at, self._desk.job.zone)
        mark = ("[x] ", f"bold {DONE}") if self._is_tied(photo) else ("[ ] ", "")
        others = [
            describe(entry.entry)
            for tie in self._day.ties
            for entry in self._day.entries
            if (tie.photo, tie.entry) == (photo.sha256, entry.id) and entry.id != self._entry.id
        ]
        belongs = f"  now: {'; '.join(others)}" if others else ""
        return Content.assemble(mark, f"{at} {plain(photo.name)}", (belongs, FAINT))

    def _is_tied(self, photo: Photo) -> bool:
        pair = (photo.sha256, self._entry.id)
        return any((tie.photo, tie.entry) == pair for tie in self._day.ties)

    def on_option_list_option_highlighted(self, _moved: OptionList.OptionHighlighted) -> None:
        self._show()

    def _show(self) -> None:
        photo = self._chosen
        if photo is not None:
            with trouble_shown(self):
                self.query_one(Picture).show(record.original(self._desk, photo.sha256))

    @property
    def _chosen(self) -> Photo | None:
        chosen = self.query_one(Lines).chosen
        return next((one for one in self._day.photos if one.sha256 == chosen), None)

    def on_option_list_option_selected(self, _chosen: OptionList.OptionSelected) -> None:
        self.action_turn_tie()

    def action_turn_tie(self) -> None:
        photo = self._chosen
        if photo is not None:
            with trouble_shown(self):
                turn = decide.untie if self._is_tied(photo) else decide.tie
                turn(self._desk, photo.sha256, self._entry.id)
                self._read()

    def in_sight(self) -> BookEntry:
        return self._entry

    def photo_in_sight(self) -> Photo | None:
        return self._chosen

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        return action != "quiet" or self.player.state != "silent"
