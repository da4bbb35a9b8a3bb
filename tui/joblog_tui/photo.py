"""One photo as large as the terminal allows, and the other photos of its day beside it."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.widgets import Static

from joblog.form import describe, plain
from joblog.model import BookEntry, Photo, Tie
from joblog.service import record
from joblog.service.desk import Desk
from joblog.service.record import Day
from joblog.service.whereabouts import Whereabouts, where_taken
from joblog_tui.entries_of import EntriesOfScreen
from joblog_tui.evidence import EvidenceScreen
from joblog_tui.trouble import trouble_shown
from joblog_tui.widgets.evidence_line import EvidenceLine
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.picture import Picture
from joblog_tui.wording import FAINT, clock


class PhotoScreen(EvidenceScreen):
    DEFAULT_CSS = """
    PhotoScreen {
        #head { background: $panel; padding: 0 1; height: 1; text-wrap: nowrap;
                text-overflow: ellipsis; }
        Picture { height: 1fr; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("right,space", "turn(1)", "next photo", key_display="→"),
        Binding("left", "turn(-1)", "previous photo", key_display="←"),
        Binding("enter", "gallery", "all of its day", key_display="enter"),
        Binding("t", "tie", "tie"),
        Binding("V", "original", "in your viewer"),
        Binding("y", "place", "where it was"),
        Binding("v", "app.pop_screen", show=False),
        Binding("escape", "app.pop_screen", "back", key_display="esc"),
    ]

    def __init__(self, desk: Desk, day: Day, first: Photo | None = None) -> None:
        super().__init__(desk)
        self._day = day
        self._photos = record.gallery(day)
        self._at = self._photos.index(first) if first in self._photos else 0

    def compose(self) -> ComposeResult:
        yield Static(id="head", markup=False)
        yield Picture()
        yield EvidenceLine()
        yield KeyBar()

    def on_screen_resume(self) -> None:
        with trouble_shown(self):
            photo = self.photo
            self._day = record.read_day(self._desk, self._day.day)
            shown = record.gallery(self._day)
            if not shown:
                self.app.pop_screen()  # the last one was moved or withdrawn
                return
            self._photos = shown
            self._at = shown.index(photo) if photo in shown else min(self._at, len(shown) - 1)
        # The picture is drawn to fit, so it waits until the screen knows its size.
        self.call_after_refresh(self._show)

    @property
    def photo(self) -> Photo:
        """The one that is shown."""
        return self._photos[self._at]

    def action_turn(self, way: int) -> None:
        self._at = (self._at + way) % len(self._photos)
        self.quiet()
        self._show()

    def action_tie(self) -> None:
        self.app.push_screen(EntriesOfScreen(self._desk, self.photo))

    def action_gallery(self) -> None:
        """Back to the gallery that it was opened from, else to that of its day."""
        from joblog_tui.gallery import GalleryScreen

        if isinstance(self.app.screen_stack[-2], GalleryScreen):
            self.app.pop_screen()
        else:
            self.app.push_screen(GalleryScreen(self._desk, self._day.day, self.photo))

    # --- what its keys are about ----------------------------------------------------------------

    def in_sight(self) -> BookEntry | None:
        tie = self._tie()
        return next((e for e in self._day.entries if tie and e.id == tie.entry), None)

    def photo_in_sight(self) -> Photo:
        return self.photo

    def whereabouts(self) -> Whereabouts:
        return where_taken(self._desk, self.photo)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        return action != "sound" or self.in_sight() is not None

    # --- what is shown --------------------------------------------------------------------------

    def _show(self) -> None:
        with trouble_shown(self):
            self.query_one("#head", Static).update(self._head(self.photo))
            original = record.original(self._desk, self.photo.sha256)
            self.query_one(Picture).show(original, self._caption(self.photo))
        self.refresh_bindings()

    def _tie(self) -> Tie | None:
        return next((tie for tie in self._day.ties if tie.photo == self.photo.sha256), None)

    def _head(self, photo: Photo) -> Content:
        alike = record.place_among_alike(self._day, photo)
        right = self._day.put_right.get(photo.sha256)
        moved = f", put right to {clock(right[0], self._desk.job.zone)}" if right else ""
        return Content.assemble(
            (plain(photo.name), "bold"),
            (f"  {alike}" if alike else "", ""),
            (
                f"  {clock(photo.taken.at, self._desk.job.zone)} by {photo.taken.source}{moved}"
                f"  {self._at + 1} of {len(self._photos)}",
                FAINT,
            ),
        )

    def _caption(self, photo: Photo) -> Content:
        tie, entry = self._tie(), self.in_sight()
        known = "; ".join(filter(None, (*photo.remarks, photo.trouble)))
        about = f"\n{plain(known)}" if known else ""
        if tie is None or entry is None:
            return Content(f"belongs to nothing that was said{about}")
        right = self._day.put_right.get(photo.sha256)
        why = f"\n{plain(right[1].reason)}" if right else ""
        return Content.assemble(describe(entry.entry), f"\n{tie_line(tie)}{why}{about}")


def tie_line(tie: Tie) -> str:
    """Why a photo is shown here, such as "said 'photo' 20 s before"; "?" where it asks."""
    return f"{'' if tie.sure else '? '}{plain(tie.reason)}"
