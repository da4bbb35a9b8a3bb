"""One day: its entries, the doubtful ones first, and one key for each decision."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Horizontal
from textual.content import Content
from textual.events import Key
from textual.message import Message
from textual.screen import Screen
from textual.widgets import OptionList, Static

from joblog.form import plain
from joblog.model import BookEntry
from joblog.report.sheets import of_other_days
from joblog.service import decide, record
from joblog.service.desk import Desk
from joblog.service.reading import reader_at, reader_for
from joblog.service.record import Day, heard, photos_of, read_day, recording_of
from joblog.service.rereading import Choice, Revision, other_choices
from joblog.service.taking_in import keep_typed
from joblog_tui.card import Case, card
from joblog_tui.correct import CorrectScreen
from joblog_tui.photo import PhotoScreen, tie_line
from joblog_tui.trouble import trouble_shown
from joblog_tui.widgets.entry_list import EntryList
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.picture import Picture
from joblog_tui.widgets.sheet import Sheet
from joblog_tui.widgets.tally import Tally
from joblog_tui.wording import clock, counted, day_name, in_doubt

_CHANGES = {"accepted", "corrected", "dropped"}


class DayScreen(Screen[None]):
    DEFAULT_CSS = """
    DayScreen {
        #others { height: auto; max-height: 3; padding: 0 1; color: $foreground-muted;
            text-wrap: nowrap; text-overflow: ellipsis; display: none; }
        &.-told-elsewhere #others { display: block; }
        #chosen { height: 1fr; border-top: solid $panel; }
        Sheet { width: 1fr; }
        KeyBar { min-height: 2; }
        Picture { width: 28; display: none; }
        &.-pictured Picture { display: block; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("a", "accept", "accept"),
        Binding("1", "choose(1)", "choose", key_display="1-9"),
        Binding("c", "correct", "correct"),
        Binding("d", "drop", "drop"),
        Binding("u", "undo", "undo"),
        Binding("n", "next_doubt", "next doubt"),
        Binding("p", "previous_doubt", "previous"),
        Binding("t", "type", "type one in"),
        Binding("v", "photo", "photo"),
        Binding("space", "turn", "more", key_display="space"),
        Binding("escape", "app.pop_screen", "back", key_display="esc"),
        *(Binding(str(n), f"choose({n})", "choose", show=False) for n in range(2, 10)),
    ]

    def __init__(self, desk: Desk, day: date, entry: int | None = None) -> None:
        super().__init__()
        self._desk = desk
        self._day = Day(day)
        self._first = entry
        self._choices: tuple[Choice, ...] = ()
        self._done: list[int] = []
        # The entry of each decision made here, the latest last.
        self._moved_to: int | None = None
        # Where the cursor was put after the last decision; a person may have moved on since.
        self._asked_at: float | None = None
        # When the question in sight was shown, by the clock that keys are stamped with; None while
        # it is not in sight yet.

    def compose(self) -> ComposeResult:
        yield Tally()
        yield Static(id="others", markup=False)
        yield EntryList(self._desk.job.zone)
        with Horizontal(id="chosen"):
            yield Sheet()
            yield Picture()
        yield KeyBar()

    def on_screen_resume(self) -> None:
        entry = self._chosen()
        with trouble_shown(self):
            self._read(entry.id if entry else self._first)
        self._ask_anew()

    # --- what is shown ------------------------------------------------------------------------

    def _read(self, choose: int | None = None) -> None:
        self._day = read_day(self._desk, self._day.day)
        self._lay_out(choose)

    def _lay_out(self, choose: int | None) -> None:
        tally = self.query_one(Tally)
        tally.about = self._about()
        tally.left = self._day.doubts
        tally.beyond = self._day.doubts_in_job - self._day.doubts
        others = of_other_days(self._desk.job, self._day.due, self._day.told_later)
        self.query_one("#others", Static).update(Content("\n".join(map(plain, others))))
        self.set_class(bool(others), "-told-elsewhere")
        self.query_one(EntryList).show(self._day, choose)
        self._show()

    def _about(self) -> Content:
        entries = counted(len(self._day.entries), "entry", "entries")
        return Content("\n").join(
            [
                Content.styled(day_name(self._day.day), "bold"),
                Content(plain(self._desk.job.name)),
                Content.assemble(
                    f"{entries}, {counted(len(self._day.photos), 'photo')}  ",
                    in_doubt("; ".join(filter(None, (self._unanswered(), *self._day.troubles)))),
                ),
            ]
        )

    def _unanswered(self) -> str:
        """Said while the photo can still be taken."""
        without = len(self._day.unanswered)
        if without == 1:
            return "1 lacks its photo: take it now"
        return f"{without} lack their photos: take them now" if without else ""

    def on_option_list_option_highlighted(self, _moved: OptionList.OptionHighlighted) -> None:
        with trouble_shown(self):
            self._show()

    def _show(self) -> None:
        self._show_entry(self._chosen())
        self.refresh_bindings()

    def _show_entry(self, entry: BookEntry | None) -> None:
        self._choices = ()
        if entry is None:
            self.query_one(Sheet).show(Content("There is nothing on this day."))
            self.set_class(False, "-pictured")
            return
        said = heard(self._day, entry)
        # No doubt, no question: what is decided, or what nobody doubted, has no other readings on
        # offer, so that a digit too many cannot change it.
        if said is not None and entry.open:
            read = reader_for(self._desk, self._day, entry)
            self._choices = other_choices(entry, said.utterance, read)
        versions = record.versions(self._desk, entry.id) if entry.version > 1 else ()
        recording = recording_of(self._day, entry)
        case = Case(entry, self._desk.job.zone, said, self._choices, versions, recording)
        self.query_one(Sheet).show(card(case))
        pictures = photos_of(self._day, entry)
        self.set_class(bool(pictures), "-pictured")
        if pictures:
            photo, tie = pictures[0]
            more = f" (+{len(pictures) - 1})" if pictures[1:] else ""
            self.query_one(Picture).show(
                record.original(self._desk, photo.sha256), f"{tie_line(tie)}{more}"
            )

    def _chosen(self) -> BookEntry | None:
        chosen = self.query_one(EntryList).chosen
        return next((entry for entry in self._day.entries if str(entry.id) == chosen), None)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        if action == "choose":
            return parameters[0] in range(1, len(self._choices) + 1)
        return action != "turn" or self.query_one(Sheet).longer

    # --- decisions ----------------------------------------------------------------------------

    def action_accept(self) -> None:
        entry = self._chosen()
        if entry is None:
            return
        if not entry.open:
            self.action_next_doubt()
            return
        with trouble_shown(self):
            decide.accept(self._desk, entry.id)
            self._decided(entry)

    def action_drop(self) -> None:
        entry = self._chosen()
        if entry is None or entry.standing == "dropped":
            return
        with trouble_shown(self):
            decide.drop(self._desk, entry.id)
            self._decided(entry)

    def action_choose(self, number: int) -> None:
        entry = self._chosen()
        if entry is not None and number <= len(self._choices):
            self._save(entry, self._choices[number - 1].revision)

    def action_correct(self) -> None:
        entry = self._chosen()
        if entry is not None:
            said = heard(self._day, entry)
            self._ask(
                entry,
                CorrectScreen(
                    f"{day_name(self._day.day)} {clock(entry.at, self._desk.job.zone)}",
                    reader_for(self._desk, self._day, entry),
                    entry,
                    said,
                ),
            )

    def on_option_list_option_selected(self, _selected: OptionList.OptionSelected) -> None:
        self.action_correct()

    def _ask(self, entry: BookEntry, screen: CorrectScreen) -> None:
        def save(revision: Revision | None) -> None:
            if revision is None:
                return
            if revision.reading.entries == (entry.entry,):
                self.action_accept()
            else:
                self._save(entry, revision)

        self.app.push_screen(screen, save)

    def _save(self, entry: BookEntry, revision: Revision) -> None:
        with trouble_shown(self):
            decide.correct(self._desk, entry, revision)
            self._decided(entry)

    def action_undo(self) -> None:
        entry = self._chosen()
        with trouble_shown(self):
            if self._done and (entry is None or entry.id == self._moved_to):
                self._take_back(self._done[-1])
            elif entry is not None and entry.change in _CHANGES:
                self._take_back(entry.id)
            elif self._done:
                self._take_back(self._done[-1])
            else:
                self.notify("Nothing to undo here.")

    def _take_back(self, entry: int) -> None:
        decide.undo_entry(self._desk, entry)
        if entry in self._done:
            # The latest of that entry.
            del self._done[-1 - self._done[::-1].index(entry)]
        self._moved_to = entry
        self._read(entry)
        self._ask_anew()

    def _decided(self, entry: BookEntry) -> None:
        waited = [other.id for other in self._day.entries if other.open]
        self._day = read_day(self._desk, self._day.day)
        waiting = {other.id for other in self._day.entries if other.open}
        here = waited.index(entry.id) if entry.id in waited else None
        after = [] if here is None else waited[here + 1 :] + waited[: here + 1]
        self._moved_to = next((other for other in after if other in waiting), entry.id)
        self._done.append(entry.id)
        self._lay_out(self._moved_to)
        self._ask_anew()

    def _ask_anew(self) -> None:
        """Another question is on its way to the screen: keys pressed before it is there meant the
        one before, and are not taken."""
        self._asked_at = None
        self.call_after_refresh(self._asked)

    def _asked(self) -> None:
        self._asked_at = Message().time

    def takes(self, key: Key) -> bool:
        """Whether a key was pressed in sight of the question that it would answer."""
        return self._asked_at is not None and key.time >= self._asked_at

    # --- moving about -------------------------------------------------------------------------

    def action_next_doubt(self) -> None:
        self._step(1)

    def action_previous_doubt(self) -> None:
        self._step(-1)

    def _step(self, way: int) -> None:
        doubtful = [entry.id for entry in self._day.entries if entry.open]
        entry = self._chosen()
        if doubtful:
            at = doubtful.index(entry.id) if entry and entry.id in doubtful else None
            place = (0 if way > 0 else -1) if at is None else (at + way) % len(doubtful)
            self.query_one(EntryList).choose(str(doubtful[place]))
        elif self._day.doubts_elsewhere:
            days = [day for day, _ in self._day.doubts_elsewhere]
            later = [day for day in days if day > self._day.day]
            following = (later or days)[0] if way > 0 else days[-1]
            self.app.switch_screen(DayScreen(self._desk, following))
        else:
            self.notify("Nothing left to decide.")

    def action_turn(self) -> None:
        self.query_one(Sheet).turn()

    def action_photo(self) -> None:
        entry = self._chosen()
        if not self._day.photos:
            self.notify("There are no photos on this day.")
            return
        tied = photos_of(self._day, entry) if entry is not None else ()
        self.app.push_screen(PhotoScreen(self._desk, self._day, tied[0][0] if tied else None))

    # --- typing one in ------------------------------------------------------------------------

    def action_type(self) -> None:
        at = self._typed_at()

        def save(revision: Revision | None) -> None:
            if revision is None:
                return
            with trouble_shown(self):
                added = keep_typed(self._desk, revision.reading, revision.text, at)
                self._read(added[0].id if added else None)

        self.app.push_screen(
            CorrectScreen(day_name(self._day.day), reader_at(self._desk, at)), save
        )

    def _typed_at(self) -> datetime:
        """Now, when the day is today; else right after the last words of that day."""
        zone = ZoneInfo(self._desk.job.zone)
        now = datetime.now(zone)
        if now.date() == self._day.day:
            return now
        said = [entry.at for entry in self._day.entries]
        return (
            max(said) + timedelta(seconds=1)
            if said
            else datetime.combine(self._day.day, time(12), zone)
        )
