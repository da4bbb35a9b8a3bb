"""A screen with an entry in sight: its sound under `p`, its photo under `v`, its place under `y`.

A screen that shows entries derives from `EvidenceScreen` instead of `Screen[None]`, says in
`in_sight` which entry that is, and puts an `EvidenceLine` above its keys. A sound stops as soon as
another entry is in sight; where a decision leaves the same one there, call `quiet`.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from threading import Thread
from zoneinfo import ZoneInfo

from textual.actions import SkipAction
from textual.binding import Binding
from textual.content import Content
from textual.message import Message
from textual.screen import Screen

from joblog.form import plain
from joblog.model import BookEntry, Photo
from joblog.service import ServiceError
from joblog.service.desk import Desk
from joblog.service.pictures import copy_to_show
from joblog.service.record import local_day, pictures, read_day
from joblog.service.sound import Stretch, stretch_of
from joblog.service.whereabouts import Whereabouts, where_said
from joblog_tui.opening import open_outside
from joblog_tui.sound import Player
from joblog_tui.trouble import trouble_shown
from joblog_tui.widgets.evidence_line import EvidenceLine
from joblog_tui.wording import DOUBT, FAINT

LOOK = 0.2
"""Seconds between two looks at whether the sound is still of what is in sight."""


class EvidenceScreen(Screen[None]):
    BINDINGS = [  # noqa: RUF012
        Binding("p", "sound", "play"),
        Binding("v", "photo", "photo"),
        Binding("V", "original", "photo in your viewer", show=False),
        Binding("y", "place", "where it was", show=False),
    ]

    class SoundChanged(Message):
        """The sound came, ended or failed."""

    class NotOpened(Message):
        """No program outside shows a photo."""

        def __init__(self, why: str) -> None:
            super().__init__()
            self.why = why

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self.player = Player(desk, lambda: self.post_message(self.SoundChanged()))
        self._told_of: int | None = None
        # Id of the entry that the line above the keys is about.
        self._times = 0
        # How often it was played.
        self._stretch: Stretch | None = None
        # While a sound plays this key only stops it; else it does what it does on the screen, and
        # is shown as that.
        own = self._bindings.key_to_bindings.pop("escape", [])
        quiet = [replace(one, action="quiet") for one in own[:1]]
        self._bindings.key_to_bindings["escape"] = [*quiet, *own]

    # --- what a screen says of itself -----------------------------------------------------------

    def in_sight(self) -> BookEntry | None:
        """The entry that the keys are about."""
        raise NotImplementedError

    def photo_in_sight(self) -> Photo | None:
        """The photo that the keys are about: the first that belongs to the entry, unless the screen
        knows better."""
        entry = self.in_sight()
        tied = pictures(self._desk, entry.id) if entry else ()
        return tied[0][0] if tied else None

    def whereabouts(self) -> Whereabouts | None:
        """Where that was what is in sight; None where nothing is."""
        entry = self.in_sight()
        return where_said(self._desk, entry) if entry else None

    # --- sound ----------------------------------------------------------------------------------

    def action_sound(self) -> None:
        """Plays it; pressed again slower, a third time with the seconds around, then anew."""
        entry = self.in_sight()
        if entry is None:
            return
        if entry.id != self._told_of or self._stretch is None:
            self.quiet()
        self._told_of = entry.id
        way = _WAYS[self._times % len(_WAYS)]
        try:
            self._stretch = stretch_of(self._desk, entry, around=way == "around")
        except ServiceError as trouble:
            self._tell(Content.styled(plain(str(trouble)), DOUBT))
            return
        self._times += 1
        self.player.play(self._stretch, slower=way == "slower")
        self._show_sound()

    def action_quiet(self) -> None:
        if self.player.state == "silent":
            raise SkipAction()
        self.quiet()

    def quiet(self) -> None:
        """Stops what plays, takes the line away, and begins anew at the next `p`."""
        self.player.stop()
        self._told_of, self._times, self._stretch = None, 0, None
        self._tell(Content(""))

    def on_evidence_screen_sound_changed(self, _changed: SoundChanged) -> None:
        if self._stretch is not None:
            self._show_sound()

    def on_mount(self) -> None:
        self.set_interval(LOOK, self._look)

    def _look(self) -> None:
        if self._told_of is not None and self is self.app.screen:
            entry = self.in_sight()
            if entry is None or entry.id != self._told_of:
                self.quiet()

    def on_screen_suspend(self) -> None:
        self.quiet()

    def on_unmount(self) -> None:
        self.player.stop()

    def _show_sound(self) -> None:
        assert self._stretch is not None
        if self.player.why_not:
            self._tell(Content.styled(plain(self.player.why_not), DOUBT))
            return
        way = _WAYS[(self._times - 1) % len(_WAYS)]
        following = _WAYS[self._times % len(_WAYS)]
        stops = () if self.player.state == "silent" else ("  ", ("esc", "bold $accent"), " stop")
        self._tell(
            Content.assemble(
                f"{_STATES[self.player.state]} {_minutes(self._stretch.start)} to "
                f"{_minutes(self._stretch.end)}{_WAY[way]}  ",
                ("p", "bold $accent"),
                f" {_NEXT[following]}",
                *stops,
                (f"  {plain(self._stretch.name)}", FAINT),
            )
        )

    def _tell(self, line: Content) -> None:
        for shown in self.query(EvidenceLine):
            shown.say(line)

    # --- photo ----------------------------------------------------------------------------------

    def action_photo(self) -> None:
        """Opens the photo large, among the others of its day."""
        from joblog_tui.photo import PhotoScreen

        with trouble_shown(self):
            entry, photo = self.in_sight(), self.photo_in_sight()
            moment = photo.taken.at if photo else entry.at if entry else None
            if moment is None:
                return
            day = read_day(self._desk, local_day(moment, ZoneInfo(self._desk.job.zone)))
            if day.photos:
                self.app.push_screen(PhotoScreen(self._desk, day, photo))
            else:
                self.notify("There are no photos on this day.")

    def action_original(self) -> None:
        """Opens a copy of the photo's original in the system's viewer."""
        with trouble_shown(self):
            photo = self.photo_in_sight()
            if photo is None:
                self.notify("No photo belongs to this.")
                return
            # A copy, for a viewer may turn a picture and save it; the original stays as it is.
            copy = copy_to_show(self._desk, photo)
            self.notify(f"Opening {plain(photo.name)} in your viewer.", markup=False)
            # Not a worker: the app would wait for an opener that stays as long as its viewer.
            Thread(target=self._open, args=(copy, photo), daemon=True).start()

    def _open(self, copy: Path, photo: Photo) -> None:
        why = open_outside(copy)
        if why:
            self.post_message(self.NotOpened(f"{plain(photo.name)} is not shown: {why}"))

    def on_evidence_screen_not_opened(self, not_opened: NotOpened) -> None:
        self.notify(not_opened.why, severity="error", timeout=12, markup=False)

    # --- place ----------------------------------------------------------------------------------

    def action_place(self) -> None:
        """Copies latitude and longitude, and shows them: not every terminal takes a copy."""
        with trouble_shown(self):
            where = self.whereabouts()
            if where is None:
                return
            self.quiet()
            entry = self.in_sight()
            self._told_of = entry.id if entry else None
            self.app.copy_to_clipboard(where.text)
            self._tell(Content.assemble((where.text, "bold"), f"  copied; {where.how}"))


_WAYS = ("plain", "slower", "around")
_WAY = {"plain": "", "slower": ", slower", "around": ", with the seconds around"}
_NEXT = {"plain": "again", "slower": "again, slower", "around": "with 10 s around it"}
_STATES = {"coming": "finding", "playing": "playing", "silent": "played"}


def _minutes(seconds: float) -> str:
    return f"{int(seconds) // 60}:{int(seconds) % 60:02}"
