"""The entries of a photo's day: which of them it belongs to."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from textual.content import Content
from textual.widgets import Static
from textual.widgets.option_list import Option

from joblog.form import plain
from joblog.model import BookEntry, Photo
from joblog.service.desk import Desk
from joblog.service.record import local_day, read_day
from joblog.service.whereabouts import Whereabouts, where_taken
from joblog_tui.tying import TyingScreen
from joblog_tui.widgets.lines import Lines
from joblog_tui.wording import clock, entry_line


class EntriesOfScreen(TyingScreen):
    """The entries nearest in time come first."""

    DEFAULT_CSS = """
    EntriesOfScreen.-narrow Picture { display: none; }
    """
    enter = "tie or untie"

    def __init__(self, desk: Desk, photo: Photo) -> None:
        super().__init__(desk, local_day(photo.taken.at, ZoneInfo(desk.job.zone)))
        self._photo = photo
        self._entries: tuple[BookEntry, ...] = ()

    def head(self) -> str:
        at = clock(self._photo.taken.at, self._desk.job.zone)
        return f"{plain(self._photo.name)}, {at}, belongs to"

    def on_resize(self) -> None:
        # What was said is what is chosen from; the photo is a key away.
        self.set_class(self.size.width < 76, "-narrow")

    def read(self) -> None:
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

    def _line(self, entry: BookEntry) -> Content:
        mark = self.mark(self._photo, entry)
        return Content.assemble(mark, entry_line(entry, self._desk.job.zone))

    # --- what its keys are about ----------------------------------------------------------------

    def in_sight(self) -> BookEntry | None:
        chosen = self.query_one(Lines).chosen
        return next((one for one in self._entries if str(one.id) == chosen), None)

    def photo_in_sight(self) -> Photo:
        return self._photo

    def whereabouts(self) -> Whereabouts:
        return where_taken(self._desk, self._photo)
