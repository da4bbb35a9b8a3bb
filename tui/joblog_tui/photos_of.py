"""The photos of an entry's day: which of them belong to it."""

from __future__ import annotations

from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from joblog.form import describe, plain
from joblog.model import BookEntry, Photo
from joblog.service.desk import Desk
from joblog.service.editing import day_of
from joblog.service.record import gallery, read_day
from joblog_tui.tying import TyingScreen
from joblog_tui.widgets.lines import Lines
from joblog_tui.wording import FAINT, clock


class PhotosOfScreen(TyingScreen):
    """Each is tied or untied at once."""

    def __init__(self, desk: Desk, entry: BookEntry) -> None:
        super().__init__(desk, day_of(desk, entry))
        self._entry = entry
        self._entries: dict[int, BookEntry] = {}
        # The others of its day.

    def head(self) -> str:
        return f"photos of: {describe(self._entry.entry)}"

    def read(self) -> None:
        self._day = read_day(self._desk, self._day.day)
        others = (one for one in self._day.entries if one.id != self._entry.id)
        self._entries = {one.id: one for one in others}
        self.query_one(Lines).fill(
            Option(self._line(photo), photo.sha256) for photo in gallery(self._day)
        )
        if not self._day.photos:
            self.query_one("#head", Static).update("There are no photos on this day.")

    def _line(self, photo: Photo) -> Content:
        right = self._day.put_right.get(photo.sha256)
        at = clock(right[0] if right else photo.taken.at, self._desk.job.zone)
        others = [
            describe(self._entries[tie.entry].entry)
            for tie in self._day.ties
            if tie.photo == photo.sha256 and tie.entry in self._entries
        ]
        belongs = f"  now: {'; '.join(others)}" if others else ""
        mark = self.mark(photo, self._entry)
        return Content.assemble(mark, f"{at} {plain(photo.name)}", (belongs, FAINT))

    def on_option_list_option_highlighted(self, _moved: OptionList.OptionHighlighted) -> None:
        self.show()

    # --- what its keys are about ----------------------------------------------------------------

    def in_sight(self) -> BookEntry:
        return self._entry

    def photo_in_sight(self) -> Photo | None:
        chosen = self.query_one(Lines).chosen
        return next((one for one in self._day.photos if one.sha256 == chosen), None)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        return action != "quiet" or self.player.state != "silent"
