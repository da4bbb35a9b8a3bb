"""The entries behind one line of the squared-up job, each with what else there is of it."""

from __future__ import annotations

from zoneinfo import ZoneInfo

from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from joblog.form import plain
from joblog.model import BookEntry, Photo
from joblog.service.desk import Desk
from joblog.service.record import Evidence, local_day, read_evidence
from joblog_tui.evidence import EvidenceScreen
from joblog_tui.squared_row import SquaredRow
from joblog_tui.trouble import trouble_shown
from joblog_tui.widgets.evidence_line import EvidenceLine
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.lines import Lines
from joblog_tui.widgets.sheet import Sheet
from joblog_tui.wording import DOUBT, FAINT, clock, counted, day_name, entry_line


class BehindScreen(EvidenceScreen):
    DEFAULT_CSS = """
    BehindScreen {
        #head { background: $panel; padding: 0 1; height: auto; max-height: 8; }
        Sheet { height: 5; border-top: solid $panel; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("space", "turn", "more", key_display="space"),
        Binding("escape", "app.pop_screen", "back", key_display="esc"),
    ]

    def __init__(self, desk: Desk, line: SquaredRow) -> None:
        super().__init__(desk)
        self._line = line
        self._evidence: dict[int, Evidence] = {}

    def compose(self) -> ComposeResult:
        yield Static(self._line.meaning, id="head", markup=False)
        yield Lines("open it")
        yield Sheet()
        yield EvidenceLine()
        yield KeyBar()

    def on_screen_resume(self) -> None:
        self._read()

    def on_resize(self) -> None:
        self._lay_out()

    # --- what is shown ------------------------------------------------------------------------

    def _read(self) -> None:
        with trouble_shown(self):
            ids = dict.fromkeys((*self._line.entries, *self._line.left_out))
            self._evidence = read_evidence(self._desk, tuple(ids))
            self._lay_out()

    def _lay_out(self) -> None:
        self.query_one(Lines).fill(
            Option(self._shown(one), str(id)) for id, one in self._evidence.items()
        )
        self._show()

    def _shown(self, one: Evidence) -> Content:
        zone = self._desk.job.zone
        day = day_name(local_day(one.entry.at, ZoneInfo(zone)))
        left_out = "  not counted" if one.entry.id in self._line.left_out else ""
        marks = f"  [{_marks(one)}]"
        # What there is of an entry is said on its line whatever it says, and however narrow it is.
        line = Content.assemble((f"{day} ", FAINT), entry_line(one.entry, zone))
        room = max(40, (self.size.width or 80) - 3 - len(marks) - len(left_out))
        line = line.truncate(room, ellipsis=True, pad=True)
        return Content.assemble(line, (left_out, DOUBT), (marks, FAINT))

    def on_option_list_option_highlighted(self, _moved: OptionList.OptionHighlighted) -> None:
        self._show()

    def _show(self) -> None:
        chosen = self._chosen
        self.query_one(Sheet).show(self._words(chosen) if chosen else Content(""))
        self.refresh_bindings()

    def _words(self, one: Evidence) -> Content:
        said = "said" if one.recording else "typed"
        parts = [Content.assemble((f"{said}: ", FAINT), plain(one.entry.said))]
        if one.recording:
            at = clock(one.entry.at, self._desk.job.zone)
            parts.append(
                Content.assemble(("recording: ", FAINT), f"{plain(one.recording)}, at {at}")
            )
        if one.photos:
            names = ", ".join(plain(photo.name) for photo in one.photos)
            parts.append(Content.assemble(("photo: ", FAINT), names))
        return Content("\n").join(parts)

    @property
    def _chosen(self) -> Evidence | None:
        chosen = self.query_one(Lines).chosen
        return self._evidence.get(int(chosen)) if chosen else None

    def in_sight(self) -> BookEntry | None:
        return self._chosen.entry if self._chosen else None

    def photo_in_sight(self) -> Photo | None:
        return next(iter(self._chosen.photos), None) if self._chosen else None

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        if action in ("photo", "original"):
            return self.photo_in_sight() is not None
        if action == "sound":
            return self._chosen is not None and self._chosen.recording is not None
        return action != "turn" or self.query_one(Sheet).longer

    # --- keys ---------------------------------------------------------------------------------

    def action_turn(self) -> None:
        self.query_one(Sheet).turn()

    def on_option_list_option_selected(self, _selected: OptionList.OptionSelected) -> None:
        self._open_chosen()

    def _open_chosen(self) -> None:
        from joblog_tui.entry import EntryScreen

        if self._chosen is not None:
            self.app.push_screen(EntryScreen(self._desk, self._chosen.entry.id))


def _marks(one: Evidence) -> str:
    said = "recording" if one.recording else "typed"
    return f"{said}, {counted(len(one.photos), 'photo')}" if one.photos else said
