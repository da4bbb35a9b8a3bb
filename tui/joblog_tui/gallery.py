"""The photos of a day, or of the job, as many small ones as fit, and the entries that lack one."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from zoneinfo import ZoneInfo

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Grid
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.widgets import Static

from joblog.form import describe, plain
from joblog.local import clock_written, moment_written
from joblog.model import BookEntry, Photo
from joblog.service import record
from joblog.service.desk import Desk
from joblog.service.gallery import Shown, gallery
from joblog.service.record import changed_since, local_day, read_day
from joblog.service.whereabouts import Whereabouts, where_said, where_taken
from joblog_tui.entries_of import EntriesOfScreen
from joblog_tui.entry import EntryScreen
from joblog_tui.evidence import EvidenceScreen
from joblog_tui.photo import PhotoScreen, tie_line
from joblog_tui.polled import read_on_change
from joblog_tui.trouble import trouble_shown
from joblog_tui.widgets.evidence_line import EvidenceLine
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.lines import CURSOR
from joblog_tui.widgets.photo_cell import PhotoCell
from joblog_tui.widgets.thumbnails import Thumbnails
from joblog_tui.wording import DOUBT, FAINT, counted, day_name

WIDE, HIGH = 19, 7
"""Cells that a small picture takes at least, with its two lines."""
LARGE = 40
"""Cells that it is wide at most, where there are few."""
PIXELS = (240, 160)
"""What a small picture is decoded to: enough for the graphics of a terminal."""


class GalleryScreen(EvidenceScreen):
    """Of one day, or of the whole job for None."""

    DEFAULT_CSS = """
    GalleryScreen {
        #head { background: $panel; padding: 0 1; height: auto; max-height: 2; }
        Grid { height: 1fr; padding: 0 0 0 1; overflow: hidden; }
        #about { height: 2; padding: 0 1; border-top: none; background: $panel;
                 text-wrap: nowrap; text-overflow: ellipsis; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("enter", "photo", show=False),
        Binding("n", "next_loose", "next untied"),
        Binding("t", "tie", "tie"),
        Binding("V", "original", "in your viewer"),
        Binding("y", "place", "where it was"),
        Binding("right", "move(1)", "move", key_display="← ↑ ↓ →"),
        Binding("left", "move(-1)", show=False),
        Binding("down", "row(1)", show=False),
        Binding("up", "row(-1)", show=False),
        Binding("pagedown,space", "page(1)", show=False),
        Binding("pageup", "page(-1)", show=False),
        Binding("home", "end(0)", show=False),
        Binding("end", "end(-1)", show=False),
        Binding("escape", "app.pop_screen", "back", key_display="esc"),
    ]

    class Ready(Message):
        """One more picture can be drawn."""

        def __init__(self, path: Path) -> None:
            super().__init__()
            self.path = path

    def __init__(self, desk: Desk, day: date | None = None, first: Photo | None = None) -> None:
        super().__init__(desk)
        self._first = first
        self._day = day
        self._shown: tuple[Shown, ...] = ()
        self._at = 0
        self._columns = self._rows = 0
        self._thumbnails = Thumbnails(lambda path: self.post_message(self.Ready(path)), PIXELS)
        self._opened: PhotoScreen | None = None

    def compose(self) -> ComposeResult:
        yield Static(id="head", markup=False)
        yield Grid()
        yield Static(id="about", markup=False)
        yield EvidenceLine()
        yield KeyBar()

    def on_mount(self) -> None:
        read_on_change(self, self._desk, self.on_screen_resume)

    def on_screen_resume(self) -> None:
        with trouble_shown(self):
            before = self._chosen.photo if self._chosen else self._first
            changed_since(self._desk)  # what is read now is no news a second later
            self._shown = gallery(self._desk, self._day)
            opened, self._opened = self._opened, None
            self._choose(opened.photo if opened else before)
        self.call_after_refresh(self._lay_out)

    def on_screen_suspend(self) -> None:
        self._thumbnails.want(())

    async def on_resize(self) -> None:
        self.call_after_refresh(self._lay_out)

    # --- what its keys are about ----------------------------------------------------------------

    @property
    def _chosen(self) -> Shown | None:
        return self._shown[self._at] if self._at < len(self._shown) else None

    def _choose(self, photo: Photo | None) -> None:
        """Puts the cursor on a photo; on the last one where it is not there any more."""
        if photo is not None:
            names = [one.photo.sha256 if one.photo else "" for one in self._shown]
            if photo.sha256 in names:
                self._at = names.index(photo.sha256)
        self._at = max(0, min(self._at, len(self._shown) - 1))

    def in_sight(self) -> BookEntry | None:
        return self._chosen.entry if self._chosen else None

    def photo_in_sight(self) -> Photo | None:
        return self._chosen.photo if self._chosen else None

    def whereabouts(self) -> Whereabouts | None:
        chosen = self._chosen
        if chosen is None:
            return None
        if chosen.photo is not None:
            return where_taken(self._desk, chosen.photo)
        return where_said(self._desk, chosen.entry) if chosen.entry else None

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        chosen = self._chosen
        if action == "sound":
            return chosen is not None and chosen.entry is not None
        if action in ("tie", "original"):
            return chosen is not None and chosen.photo is not None
        return action != "next_loose" or any(not one.settled for one in self._shown)

    # --- what is shown --------------------------------------------------------------------------

    async def _lay_out(self) -> None:
        """As many pictures as fit; they are put anew only where that is another number."""
        grid = self.query_one(Grid)
        columns, rows = fitting(len(self._shown), grid.content_size)
        if (columns, rows) != (self._columns, self._rows):
            self._columns, self._rows = columns, rows
            grid.styles.grid_size_columns, grid.styles.grid_size_rows = columns, rows
            async with self.batch():
                await grid.remove_children()
                await grid.mount_all(PhotoCell() for _ in range(columns * rows))
        self._show()

    def _show(self) -> None:
        cells = list(self.query(PhotoCell))
        if not cells:
            return
        page = self._at // len(cells) * len(cells)
        sight = self._shown[page : page + len(cells)]
        self.query_one("#head", Static).update(self._head(page, len(sight)))
        self.query_one("#about", Static).update(self._about())
        paths = []
        for place, cell in enumerate(cells):
            shown = sight[place] if place < len(sight) else None
            cell.tell(self._lines(shown, page + place == self._at), page + place == self._at)
            paths += self._draw(cell, shown)
        self._thumbnails.want(paths)
        self.refresh_bindings()

    def _draw(self, cell: PhotoCell, shown: Shown | None) -> list[Path]:
        """The file that the cell shows, if any."""
        if shown is None or shown.photo is None:
            cell.draw(None, "no photo was taken" if shown else "")
            return []
        path = record.original(self._desk, shown.photo.sha256)
        found = self._thumbnails.found(path)
        if found is None or isinstance(found, str):
            cell.draw(None, plain(found) if found else "…")
        else:
            cell.draw(found)
        return [path]

    def on_gallery_screen_ready(self, ready: Ready) -> None:
        self._show()

    def _head(self, first: int, count: int) -> Content:
        loose = sum(one.photo is not None and one.loose for one in self._shown)
        lacking = sum(one.lacking for one in self._shown)
        photos = len(self._shown) - lacking
        parts = [counted(photos, "photo")]
        if loose:
            parts.append(f"{loose} tied to nothing")
        if lacking:
            parts.append(f"{counted(lacking, 'entry', 'entries')} without a photo")
        whose = day_name(self._day) if self._day else plain(self._desk.job.name)
        range_ = f"{first + 1}-{first + count} of {len(self._shown)}" if self._shown else ""
        return Content.assemble((whose, "bold"), f"  {', '.join(parts)}  ", (range_, FAINT))

    def _lines(self, shown: Shown | None, chosen: bool) -> Content:
        if shown is None:
            return Content("")
        cursor = (f"{CURSOR if chosen else ' '} ", "bold")
        among = f"{shown.among[0]}/{shown.among[1]} " if shown.among else ""
        return Content("\n").join(
            [
                Content.assemble(cursor, self._moment(shown)),
                Content.assemble("  ", (among, FAINT), _belongs(shown)),
            ]
        )

    def _moment(self, shown: Shown) -> str:
        at = shown.at.astimezone(ZoneInfo(self._desk.job.zone))
        return moment_written(at) if self._day is None else clock_written(at)

    def _about(self) -> Content:
        chosen = self._chosen
        if chosen is None:
            return Content("There are no photos here.")
        if chosen.photo is None:
            said = plain(chosen.entry.said) if chosen.entry else ""
            return Content.assemble(_belongs(chosen), (f"\nsaid: {said}", FAINT))
        alike = f"  {chosen.among[0]} of {chosen.among[1]} alike" if chosen.among else ""
        known = "; ".join(filter(None, (*chosen.photo.remarks, chosen.photo.trouble)))
        more = (
            f" and {counted(chosen.others, 'other entry', 'other entries')}"
            if chosen.others
            else ""
        )
        why = f"  {tie_line(chosen.tie)}" if chosen.tie else ""
        return Content.assemble(
            (plain(chosen.photo.name), "bold"),
            alike,
            (f"  {plain(known)}" if known else "", DOUBT),
            "\n",
            _belongs(chosen),
            more,
            (why, FAINT),
        )

    # --- keys -----------------------------------------------------------------------------------

    def action_move(self, way: int) -> None:
        self._go(self._at + way)

    def action_row(self, way: int) -> None:
        self._go(self._at + way * max(1, self._columns))

    def action_page(self, way: int) -> None:
        self._go(self._at + way * max(1, self._columns * self._rows))

    def action_end(self, place: int) -> None:
        self._go(0 if place == 0 else len(self._shown) - 1)

    def action_next_loose(self) -> None:
        """On to the next one that belongs to nothing, or only perhaps, or lacks its photo."""
        order = [*range(self._at + 1, len(self._shown)), *range(self._at + 1)]
        found = next((at for at in order if not self._shown[at].settled), None)
        if found is not None:
            self._go(found)

    def _go(self, at: int) -> None:
        self._at = max(0, min(at, len(self._shown) - 1))
        self.quiet()
        self._show()

    def action_photo(self) -> None:
        """The photo large; of an entry that lacks one, the entry."""
        chosen = self._chosen
        if chosen is None:
            return
        with trouble_shown(self):
            if chosen.photo is not None:
                day = local_day(chosen.photo.taken.at, ZoneInfo(self._desk.job.zone))
                self._opened = PhotoScreen(self._desk, read_day(self._desk, day), chosen.photo)
                self.app.push_screen(self._opened)
            elif chosen.entry is not None:
                self.app.push_screen(EntryScreen(self._desk, chosen.entry.id))

    def action_tie(self) -> None:
        if self._chosen is not None and self._chosen.photo is not None:
            self.app.push_screen(EntriesOfScreen(self._desk, self._chosen.photo))


def fitting(count: int, room: Size) -> tuple[int, int]:
    """In how many columns and rows so many pictures are drawn: the fewest that hold them all, so
    that they are large, and as many as there is room for where that is not enough."""
    most = max(1, room.width // WIDE)
    for columns in range(max(1, min(most, room.width // LARGE)), most + 1):
        # A photo is as 4 to 3, a cell as 1 to 2.
        high = max(HIGH, room.width // columns * 3 // 8 + 2)
        rows = max(1, room.height // high)
        if columns * rows >= count:
            return columns, rows
    return most, max(1, room.height // HIGH)


def _belongs(shown: Shown) -> Content:
    if shown.entry is None:
        return Content.styled("tied to nothing", DOUBT)
    said = describe(shown.entry.entry)
    if shown.photo is None:
        return Content.styled(f"lacks its photo: {said}", DOUBT)
    if shown.tie is not None and not shown.tie.sure:
        return Content.styled(f"? {said}", DOUBT)
    return Content(said)
