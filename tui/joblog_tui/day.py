"""One day as a time line; what is under the cursor is told below, and opened by enter."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from zoneinfo import ZoneInfo

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Horizontal
from textual.content import Content
from textual.events import Key
from textual.widgets import OptionList, Static

from joblog.form import plain
from joblog.model import BookEntry, Photo
from joblog.service import record
from joblog.service.desk import Desk
from joblog.service.questions import questions
from joblog.service.signing import sign_off
from joblog.service.timeline import Mark, Timeline, missing_counts, read_timeline, with_missing
from joblog_tui.card import Heard, heard_lines, source_lines
from joblog_tui.entry import EntryScreen
from joblog_tui.evidence import EvidenceScreen
from joblog_tui.fill_in import FillInScreen
from joblog_tui.guard import Guard
from joblog_tui.photo import PhotoScreen, tie_line
from joblog_tui.polled import read_on_change
from joblog_tui.questions import ROOM, QuestionsScreen
from joblog_tui.trouble import trouble_shown
from joblog_tui.type_in import TypeScreen
from joblog_tui.widgets.evidence_line import EvidenceLine
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.picture import Picture
from joblog_tui.widgets.sheet import Sheet
from joblog_tui.widgets.timeline_list import TimelineList
from joblog_tui.wording import DONE, FAINT, clock, counted, day_name, doubt_lines, in_doubt


class DayScreen(EvidenceScreen):
    """Begins at `entry`, else at the first line."""

    DEFAULT_CSS = """
    DayScreen {
        #head { background: $panel; padding: 0 1; height: auto; max-height: 4; }
        #chosen { height: 30%; min-height: 5; border-top: solid $panel; }
        Sheet { width: 1fr; }
        KeyBar { min-height: 2; }
        Picture { width: 28; display: none; }
        &.-pictured Picture { display: block; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("n", "questions", "next question"),
        Binding("w", "words", "write one in"),
        Binding("o", "sign_off", "sign off"),
        Binding("space", "turn", "more", key_display="space"),
        Binding("escape", "app.pop_screen", "back", key_display="esc"),
    ]

    def __init__(self, desk: Desk, day: date, entry: int | None = None) -> None:
        super().__init__(desk)
        self._first = None if entry is None else f"entry {entry}"
        self._date = day
        self._day = Timeline(day, (), 0, 0, 0, (), (), 0, None)
        self._asked = 0
        # Questions of this day: doubts, and records that want a look.
        self._shown = self._day
        # With the counts that are missing, which are found out afterwards.
        self._guard = Guard(self, ("o",))

    def compose(self) -> ComposeResult:
        yield Static(id="head", markup=False)
        yield TimelineList(self._desk.job.zone)
        with Horizontal(id="chosen"):
            yield Sheet()
            yield Picture()
        yield EvidenceLine()
        yield KeyBar()

    def on_mount(self) -> None:
        read_on_change(self, self._desk, self._read)

    def on_screen_resume(self) -> None:
        self._read()

    def takes(self, key: Key) -> bool:
        return self._guard.takes(key)

    # --- what is shown ------------------------------------------------------------------------

    def _read(self) -> None:
        with trouble_shown(self):
            before, self._day = self._day, read_timeline(self._desk, self._date)
            self._asked = len(questions(self._desk, self._date))
            record.changed_since(self._desk)
            missing = [mark for mark in before.marks if mark.what == "missing"]
            self._lay_out(with_missing(self._day, missing))
            # It takes a look at the whole job, so the day is shown before.
            self.call_after_refresh(self._add_missing)

    def _add_missing(self) -> None:
        with trouble_shown(self):
            whole = with_missing(self._day, missing_counts(self._desk, self._date))
            if whole != self._shown:
                self._lay_out(whole)

    def _lay_out(self, day: Timeline) -> None:
        self._shown = day
        self.query_one("#head", Static).update(self._head())
        lines = self.query_one(TimelineList)
        lines.show(day, self._first)
        self._first = None
        self._show()
        self._guard.renew()

    def _head(self) -> Content:
        day = self._day
        lines = [
            Content.assemble(
                (day_name(day.day), "bold"), (f"  {plain(self._desk.job.name)}", FAINT)
            ),
            Content.assemble(
                f"{counted(day.entries, 'entry', 'entries')}, "
                f"{counted(len(day.photos), 'photo')}  ",
                self._standing(),
            ),
        ]
        lacking = "; ".join(filter(None, (_unanswered(day.unanswered), *day.troubles)))
        return Content("\n").join([*lines, *([in_doubt(lacking)] if lacking else [])])

    def _standing(self) -> Content:
        """Whether it is done with: what is to decide, or that it was signed off and when."""
        day = self._day
        if self._asked:
            return in_doubt(f"? {self._asked} to decide")
        if day.signed is None:
            return Content.styled("nothing to decide", FAINT)
        at = day.signed.at
        zone = self._desk.job.zone
        when = f"{day_name(at.astimezone(ZoneInfo(zone)).date())}, {clock(at, zone)}"
        if day.signed.changed:
            more = len(day.signed.changed) - 1
            others = f" (+{more})" if more else ""
            changed = f"{plain(day.signed.changed[0])}{others}"
            return in_doubt(f"? signed off {when}, but since then: {changed}")
        return Content.styled(f"✓ signed off {when}", DONE)

    def on_option_list_option_highlighted(self, _moved: OptionList.OptionHighlighted) -> None:
        with trouble_shown(self):
            self._show()

    def on_resize(self) -> None:
        with trouble_shown(self):
            self._show()

    def _show(self) -> None:
        mark = self._mark
        if mark is None:
            self.query_one(Sheet).show(Content("There is nothing on this day."))
            self.set_class(False, "-pictured")
        else:
            self.query_one(Sheet).show(self._told(mark))
            self._show_picture(mark)
        self.refresh_bindings()

    def _told(self, mark: Mark) -> Content:
        if mark.entry is None:
            return Content("\n").join(_ABOUT[mark.what](mark))
        found = record.sound_of(self._desk, mark.entry)
        heard = Heard(mark.entry) if found is None else Heard(mark.entry, found[0], found[1].name)
        return Content("\n").join(
            [*doubt_lines(mark.entry), *heard_lines(heard), *source_lines(heard)]
        )

    def _show_picture(self, mark: Mark) -> None:
        caption, photo = "", next(iter(mark.photos), None)
        if mark.entry is not None and photo is not None:
            [(photo, tie), *others] = record.pictures(self._desk, mark.entry.id)
            caption = tie_line(tie) + (f" (+{len(others)})" if others else "")
        self.set_class(photo is not None and self.app.size.width >= ROOM, "-pictured")
        if photo is not None:
            self.query_one(Picture).show(record.original(self._desk, photo.sha256), caption)

    @property
    def _mark(self) -> Mark | None:
        return self.query_one(TimelineList).mark

    def in_sight(self) -> BookEntry | None:
        """The entry of the line under the cursor; of a recording the first that it holds."""
        mark = self._mark
        if mark is None:
            return None
        if mark.entry is not None:
            return mark.entry
        rests_on = _rests_on(mark)
        entries = [one.entry for one in self._day.marks if one.what == "entry" and one.entry]
        if mark.recording is not None and mark.until is not None:
            return next((one for one in entries if mark.at <= one.at <= mark.until), None)
        return next((one for one in reversed(entries) if one.id in rests_on), None)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        if action == "quiet":
            return self.player.state != "silent"
        if action == "sound":
            return self.in_sight() is not None
        if action == "sign_off":
            day, signed = self._day, self._day.signed
            return bool(day.marks) and (signed is None or bool(signed.changed))
        if action == "questions":
            return bool(self._asked or self._day.doubts_elsewhere)
        return action != "turn" or self.query_one(Sheet).longer

    # --- keys ---------------------------------------------------------------------------------

    def on_option_list_option_selected(self, _selected: OptionList.OptionSelected) -> None:
        mark, entry = self._mark, self.in_sight()
        if mark is not None and mark.what == "photos":
            self._open_photo(mark.photos[0])
        elif mark is not None and mark.missing is not None:
            self.app.push_screen(FillInScreen(self._desk, mark.missing), self._filled_in)
        elif entry is not None:
            self.app.push_screen(EntryScreen(self._desk, entry.id))

    def _open_photo(self, photo: Photo) -> None:
        with trouble_shown(self):
            day = record.read_day(self._desk, self._date)
            self.app.push_screen(PhotoScreen(self._desk, day, photo))

    def action_photo(self) -> None:
        mark = self._mark
        if mark is not None and mark.what == "photos":
            self._open_photo(mark.photos[0])
        else:
            super().action_photo()

    def action_questions(self) -> None:
        """Those of this day, else those of the job."""
        entry = self.in_sight()
        day = self._date if self._asked else None
        chosen = entry.id if entry is not None and entry.open else None
        self.app.push_screen(QuestionsScreen(self._desk, day, chosen))

    def action_sign_off(self) -> None:
        if self._asked:
            self.notify(f"{self._asked} to decide first: n asks.")
            return
        with trouble_shown(self):
            sign_off(self._desk, self._date)
            self._read()

    def action_turn(self) -> None:
        self.query_one(Sheet).turn()

    # --- writing one in -----------------------------------------------------------------------

    def action_words(self) -> None:
        self.app.push_screen(TypeScreen(self._desk, self._date), self._written)

    def _written(self, entry: int | None) -> None:
        if entry is not None:
            self._first = f"entry {entry}"
            self._read()

    def _filled_in(self, entries: tuple[BookEntry, ...] | None) -> None:
        self._written(entries[0].id if entries else None)


def _unanswered(many: int) -> str:
    """Said while the photo can still be taken."""
    if many == 1:
        return "1 lacks its photo: take it now"
    return f"{many} lack their photos: take them now" if many else ""


def _rests_on(mark: Mark) -> tuple[int, ...]:
    """Entries that a line about no single one stands on."""
    if mark.hours is not None:
        return mark.hours.entries
    return mark.gap.entries if mark.gap is not None else ()


def _of_recording(mark: Mark) -> list[Content]:
    assert mark.recording is not None
    trouble = mark.recording.trouble
    known = Content.assemble(("when by: ", FAINT), plain(mark.recording.made.source))
    return [
        Content.styled(plain(mark.recording.name), "bold"),
        *([in_doubt(trouble)] if trouble else []),
        known,
    ]


def _of_photos(mark: Mark) -> list[Content]:
    names = ", ".join(plain(photo.name) for photo in mark.photos[:20])
    return [Content(names + (" ..." if mark.photos[20:] else ""))]


def _of_work(mark: Mark) -> list[Content]:
    assert mark.hours is not None
    if mark.hours.crew_hours is None:
        return [Content("Enter: when did work start and stop?")]
    return [Content.styled("from what was said of start, stop and break", FAINT)]


def _of_gap(mark: Mark) -> list[Content]:
    assert mark.gap is not None
    return [
        Content(plain(mark.gap.text)),
        Content.styled("Enter: how much is left?", FAINT),
    ]


_ABOUT: dict[str, Callable[[Mark], list[Content]]] = {
    "recording": _of_recording,
    "photos": _of_photos,
    "work": _of_work,
    "missing": _of_gap,
    "silence": lambda _: [Content.styled("Nothing was said or photographed.", FAINT)],
}
