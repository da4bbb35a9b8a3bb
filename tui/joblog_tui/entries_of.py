"""The entries of a photo's day: which of them it belongs to."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Horizontal
from textual.content import Content
from textual.events import Key
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from joblog.form import plain
from joblog.model import BookEntry, Photo
from joblog.service import decide, record
from joblog.service.desk import Desk
from joblog.service.record import Day, local_day, read_day
from joblog.service.whereabouts import Whereabouts, where_taken
from joblog_tui.evidence import EvidenceScreen
from joblog_tui.guard import Guard
from joblog_tui.trouble import trouble_shown
from joblog_tui.widgets.evidence_line import EvidenceLine
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.lines import Lines
from joblog_tui.widgets.picture import Picture
from joblog_tui.wording import DONE, clock, entry_line


class EntriesOfScreen(EvidenceScreen):
    """The photo is tied or untied at once, and that is taken back with the key that takes back
    anything. The entries nearest in time come first."""

    DEFAULT_CSS = """
    EntriesOfScreen {
        #head { background: $panel; padding: 0 1; height: auto; text-style: bold; }
        #entries { height: 1fr; }
        Lines { width: 1fr; height: 1fr; }
        Picture { width: 28; }
        &.-narrow Picture { display: none; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("space", "turn_tie", "tie or untie", key_display="space"),
        Binding("escape", "app.pop_screen", "back", key_display="esc"),
    ]

    def __init__(self, desk: Desk, photo: Photo) -> None:
        super().__init__(desk)
        self._photo = photo
        self._guard = Guard(self, ("space", "enter"))
        self._day = Day(local_day(photo.taken.at, ZoneInfo(desk.job.zone)))
        self._entries: tuple[BookEntry, ...] = ()

    def compose(self) -> ComposeResult:
        at = clock(self._photo.taken.at, self._desk.job.zone)
        yield Static(f"{plain(self._photo.name)}, {at}, belongs to", id="head", markup=False)
        with Horizontal(id="entries"):
            yield Lines("tie or untie")
            yield Picture()
        yield EvidenceLine()
        yield KeyBar()

    def on_screen_resume(self) -> None:
        self._read()
        self.call_after_refresh(self._show)

    def on_resize(self) -> None:
        # What was said is what is chosen from; the photo is a key away.
        self.set_class(self.size.width < 76, "-narrow")

    def takes(self, key: Key) -> bool:
        """Whether the key was pressed by somebody who saw which entry it ties."""
        return self._guard.takes(key)

    def _read(self) -> None:
        with trouble_shown(self):
            self._day = read_day(self._desk, self._day.day)
            right = self._day.put_right.get(self._photo.sha256)
            taken = right[0] if right else self._photo.taken.at
            standing = [one for one in self._day.entries if one.standing != "dropped"]
            self._entries = tuple(sorted(standing, key=lambda one: abs(one.at - taken)))
            self.query_one(Lines).fill(
                Option(self._line(entry), str(entry.id)) for entry in self._entries
            )
            if not self._entries:
                self.query_one("#head", Static).update("Nothing was said on the day of this photo.")
            self._guard.renew()

    def _show(self) -> None:
        with trouble_shown(self):
            self.query_one(Picture).show(record.original(self._desk, self._photo.sha256))

    def _line(self, entry: BookEntry) -> Content:
        mark = ("[x] ", f"bold {DONE}") if self._is_tied(entry) else ("[ ] ", "")
        return Content.assemble(mark, entry_line(entry, self._desk.job.zone))

    def _is_tied(self, entry: BookEntry) -> bool:
        pair = (self._photo.sha256, entry.id)
        return any((tie.photo, tie.entry) == pair for tie in self._day.ties)

    def on_option_list_option_selected(self, _chosen: OptionList.OptionSelected) -> None:
        self.action_turn_tie()

    def action_turn_tie(self) -> None:
        entry = self.in_sight()
        if entry is not None:
            with trouble_shown(self):
                turn = decide.untie if self._is_tied(entry) else decide.tie
                turn(self._desk, self._photo.sha256, entry.id)
                self._read()

    # --- what its keys are about ----------------------------------------------------------------

    def in_sight(self) -> BookEntry | None:
        chosen = self.query_one(Lines).chosen
        return next((one for one in self._entries if str(one.id) == chosen), None)

    def photo_in_sight(self) -> Photo:
        return self._photo

    def whereabouts(self) -> Whereabouts:
        return where_taken(self._desk, self._photo)
