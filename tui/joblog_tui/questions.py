"""One question at a time, over the whole job or one day, the dearest first."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from zoneinfo import ZoneInfo

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Horizontal
from textual.content import Content
from textual.events import Key
from textual.widgets import Static

from joblog.form import plain
from joblog.local import day_written
from joblog.model import BookEntry, Step
from joblog.service import decide, record
from joblog.service import questions as asking
from joblog.service.desk import Desk
from joblog.service.questions import Question
from joblog.service.reading import reader_instead
from joblog.service.rereading import Revision
from joblog.service.signing import sign_off, signed
from joblog_tui.card import MOST_ENTRIES, Heard, left_card, question_card
from joblog_tui.evidence import EvidenceScreen
from joblog_tui.guard import Guard
from joblog_tui.polled import read_on_change
from joblog_tui.trouble import trouble_shown
from joblog_tui.widgets.evidence_line import EvidenceLine
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.picture import Picture
from joblog_tui.widgets.sheet import Sheet
from joblog_tui.wording import FAINT, clock, counted, day_name

PICTURE, ROOM = 28, 76
"""Columns of the picture, and from how many on there is room for it beside the words."""
DECIDING = ("a", "A", "d", "e", "w", "l", "o", *"123456789")


class QuestionsScreen(EvidenceScreen):
    """Of one day, or of the whole job for None; begins with the question about `entry`.

    The questions are listed whenever the book has changed, but what is in sight stays in sight
    until it is decided, or is asked otherwise: a key never finds another question than its reader.
    """

    DEFAULT_CSS = """
    QuestionsScreen {
        #head { background: $panel; padding: 0 1; height: 1; text-wrap: nowrap;
                text-overflow: ellipsis; }
        #asked { height: 1fr; padding: 1 0 0 0; }
        Sheet { width: 1fr; }
        KeyBar { min-height: 2; }
        Picture { width: 28; display: none; }
        &.-pictured Picture { display: block; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("1", "answer(1)", "answer", key_display="1-9"),
        Binding("a", "keep", "keep"),
        Binding("A", "keep_cheap", "keep all"),
        Binding("d", "drop", "drop"),
        Binding("e", "edit", "edit"),
        Binding("w", "words", "other words"),
        Binding("l", "later", "later"),
        Binding("o", "sign_off", "sign off"),
        Binding("space", "turn", "more", key_display="space"),
        Binding("escape", "app.pop_screen", "back", key_display="esc"),
        *(Binding(str(n), f"answer({n})", "answer", show=False) for n in range(2, 10)),
    ]

    def __init__(self, desk: Desk, day: date | None = None, entry: int | None = None) -> None:
        super().__init__(desk)
        self._day = day
        self._first: frozenset[int] = frozenset() if entry is None else frozenset({entry})
        # Entries whose question is to be shown next, wherever it stands.
        self._waiting: list[Question] = []
        self._shown: Question | None = None
        self._later: list[frozenset[int]] = []
        self._decided = 0
        self._warm = False
        self._rest = 0
        # Entries that nobody doubted and nobody looked at; known when nothing else is left.
        self._unsigned: tuple[date, ...] = ()
        self._guard = Guard(self, DECIDING)

    def compose(self) -> ComposeResult:
        yield Static(id="head", markup=False)
        with Horizontal(id="asked"):
            yield Sheet()
            yield Picture()
        yield EvidenceLine()
        yield KeyBar()

    def on_mount(self) -> None:
        read_on_change(self, self._desk, self._list_anew)

    def on_screen_resume(self) -> None:
        self._list_anew(anew=True)

    def takes(self, key: Key) -> bool:
        return self._guard.takes(key)

    def in_sight(self) -> BookEntry | None:
        return self._shown.entries[0] if self._shown else None

    # --- what is shown ------------------------------------------------------------------------

    def _list_anew(self, *, anew: bool = False) -> None:
        """Lists the questions again. What is in sight stays, unless it is asked otherwise."""
        with trouble_shown(self):
            self._waiting = self._in_turn(asking.questions(self._desk, self._day))
            record.changed_since(self._desk)
            wanted, self._first = self._first or _ids(self._shown), frozenset()
            found = next((one for one in self._waiting if _ids(one) & wanted), None)
            self._show(found or next(iter(self._waiting), None), anew=anew)

    def _list_when_drawn(self) -> None:
        self.refresh()
        self.call_after_refresh(self._list_anew, anew=True)

    def _in_turn(self, listed: Iterable[Question]) -> list[Question]:
        """The dearest first, but those that were put off after all others, in that order."""
        asked = list(listed)
        put_off = [one for ids in self._later for one in asked if _ids(one) & ids]
        return [one for one in asked if one not in put_off] + list(dict.fromkeys(put_off))

    def _show(self, question: Question | None, *, anew: bool = False) -> None:
        if question is not None and not self._warm:
            # What finds answers takes a moment to load: the question can be read meanwhile.
            self._warm, self._first = True, _ids(question)
            self._show_question(question)
            self.query_one("#head", Static).update(self._head(question))
            # While the app starts nothing is drawn yet; this waits until it has started.
            self.app.call_later(self._list_when_drawn)
            return
        asked = question and asking.with_answers(self._desk, question)
        # In one go: nobody is to see one question under the head of another.
        with self.app.batch_update():
            if anew or asked is None or asked != self._shown:
                if _ids(asked) != _ids(self._shown):
                    self.quiet()
                self._shown = asked
                if asked is None:
                    self._show_what_is_left()
                else:
                    self._show_question(asked)
                self._guard.renew()
            self.query_one("#head", Static).update(self._head(asked))
            self.refresh_bindings()

    def _head(self, question: Question | None) -> Content:
        job = f"  {plain(self._desk.job.name)}"
        if question is None:
            of = day_name(self._day) if self._day else "all days"
            return Content.assemble((of, "bold"), (job, FAINT))
        zone, at = self._desk.job.zone, question.entries[0].at
        day = day_written(at.astimezone(ZoneInfo(zone)).date(), year=False)
        when = f"{day}, {clock(at, zone)}"
        number = f"{self._decided + 1} of {self._decided + len(self._waiting)}"
        return Content.assemble((f"{number} · {when}", "bold"), (job, FAINT))

    def _show_question(self, question: Question) -> None:
        heard = [self._heard(entry) for entry in question.entries[:MOST_ENTRIES]]
        pictures = record.pictures(self._desk, question.entries[0].id)
        # On a narrow terminal the words need the room; the picture is under its key.
        pictured = bool(pictures) and self.app.size.width >= ROOM
        self.set_class(pictured, "-pictured")
        width = self.app.size.width - 3 - (PICTURE if pictured else 0)
        cheap = len(self._cheap) if self._all_cheap(question) else 0
        card = question_card(question, heard, self._desk.job.zone, width, cheap)
        self.query_one(Sheet).show(card)
        if pictures:
            from joblog_tui.photo import tie_line

            photo, tie = pictures[0]
            more = f" (+{len(pictures) - 1})" if pictures[1:] else ""
            original = record.original(self._desk, photo.sha256)
            self.query_one(Picture).show(original, f"{tie_line(tie)}{more}")

    def on_resize(self) -> None:
        if self._shown is not None:
            with trouble_shown(self):
                self._show_question(self._shown)

    def _heard(self, entry: BookEntry) -> Heard:
        found = record.sound_of(self._desk, entry)
        return Heard(entry) if found is None else Heard(entry, found[0], found[1].name)

    def _show_what_is_left(self) -> None:
        self.set_class(False, "-pictured")
        self._rest = len(record.not_looked_at(self._desk, self._day))
        days = [self._day] if self._day else record.days(self._desk)
        now = signed(self._desk)
        self._unsigned = tuple(day for day in days if day not in now or now[day].changed)
        of = day_name(self._day) if self._day else counted(len(days), "day")
        names = [day_written(day, year=False) for day in self._unsigned]
        self.query_one(Sheet).show(left_card(of, self._rest, names))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        question = self._shown
        if action == "quiet":
            return self.player.state != "silent"
        if action == "answer":
            return question is not None and parameters[0] in range(1, len(question.answers) + 1)
        if action == "keep":
            return question.keep if question is not None else bool(self._rest)
        if action == "keep_cheap":
            return question is not None and self._all_cheap(question)
        if action in ("drop", "edit", "later"):
            return question is not None and (action != "later" or len(self._waiting) > 1)
        if action in ("sound", "photo"):
            return question is not None
        if action == "words":
            return question is not None and len(question.entries) == 1
        if action == "sign_off":
            return question is None and bool(self._unsigned)
        return action != "turn" or self.query_one(Sheet).longer

    def _all_cheap(self, question: Question) -> bool:
        """Whether it is one of several that can be kept in one go."""
        return question.keep and not question.cost and len(self._cheap) > 1

    @property
    def _cheap(self) -> list[Question]:
        return [one for one in self._waiting if one.keep and not one.cost]

    # --- decisions ----------------------------------------------------------------------------

    def action_answer(self, number: int) -> None:
        self._decide(self._shown, lambda asked: asking.answer(self._desk, asked, number))

    def action_keep(self) -> None:
        if self._shown is not None:
            self._decide(self._shown, lambda asked: asking.keep(self._desk, asked))
            return
        with trouble_shown(self):
            kept = asking.keep_rest(self._desk, self._day)
            self.notify(f"{counted(kept, 'entry', 'entries')} accepted; u takes it back.")
            self._list_anew(anew=True)

    def action_keep_cheap(self) -> None:
        with trouble_shown(self):
            kept = asking.keep_cheap(self._desk, self._cheap)
            self._decided += len(self._cheap)
            self.notify(f"{counted(kept, 'entry', 'entries')} kept; u takes it back.")
            self._shown = None
            self._list_anew(anew=True)

    def action_drop(self) -> None:
        self._decide(self._shown, lambda asked: asking.drop(self._desk, asked))

    def _decide(self, asked: Question | None, deed: Callable[[Question], object]) -> None:
        """Does what was decided of a question, and goes on to the next."""
        if asked is None:
            return
        with trouble_shown(self):
            if not self._as_shown(asked):
                self.notify("This was changed meanwhile; here it is as it stands now.")
                self._list_anew(anew=True)
                return
            deed(asked)
            self._decided += 1
            self._go_on(asked)

    def _go_on(self, decided: Question) -> None:
        """Shows the next of those listed before at once; then lists them again, since what was
        decided may have settled others, or raised some."""
        self._waiting = [one for one in self._waiting if not _ids(one) & _ids(decided)]
        following = next(iter(self._waiting), None)
        if following is None or not self._as_shown(following):
            self._shown = None
            self._list_anew(anew=True)
            return
        self._show(following, anew=True)
        self.call_after_refresh(self._list_anew)

    def _as_shown(self, question: Question) -> bool:
        """Whether nobody changed its entries since they were listed."""
        return all(
            record.versions(self._desk, one.id)[-1].version == one.version
            for one in question.entries
        )

    def action_later(self) -> None:
        if self._shown is not None:
            put_off = _ids(self._shown)
            self._later = [*(ids for ids in self._later if not ids & put_off), put_off]
            self._waiting = self._in_turn(self._waiting)
            with trouble_shown(self):
                self._show(self._waiting[0], anew=True)

    def action_edit(self) -> None:
        # Loaded when it is asked for, as every screen behind this one: it is the first to be seen.
        from joblog_tui.entry import EntryScreen

        if self._shown is not None:
            self.app.push_screen(EntryScreen(self._desk, self._shown.entries[0].id, answering=True))

    def action_words(self) -> None:
        from joblog_tui.correct import CorrectScreen

        asked = self._shown
        if asked is None:
            return
        [entry] = asked.entries

        def save(revision: Revision | None) -> None:
            if revision is None:
                return
            if revision.reading.entries == (entry.entry,):
                self._decide(asked, lambda same: asking.keep(self._desk, same))
            else:
                self._decide(asked, lambda _: decide.correct(self._desk, entry, revision))

        with trouble_shown(self):
            found = record.sound_of(self._desk, entry)
            reader = reader_instead(self._desk, entry)
            utterance = None if found is None else found[0]
            where = f"{day_name(self._local(entry))}, {clock(entry.at, self._desk.job.zone)}"
            self.app.push_screen(CorrectScreen(where, reader, entry, utterance), save)

    def _local(self, entry: BookEntry) -> date:
        return entry.at.astimezone(ZoneInfo(self._desk.job.zone)).date()

    def action_sign_off(self) -> None:
        with trouble_shown(self):
            for day in self._unsigned:
                sign_off(self._desk, day)
            self._list_anew(anew=True)

    # --- moving about -------------------------------------------------------------------------

    def turned(self, steps: tuple[Step, ...]) -> None:
        """Something was taken back or done again: its question comes back into sight."""
        self._first = frozenset(id for step in steps for id in step.entries)
        before = len(self._waiting)
        self._list_anew(anew=True)
        self._decided = max(0, self._decided + before - len(self._waiting))
        self.query_one("#head", Static).update(self._head(self._shown))

    def action_turn(self) -> None:
        self.query_one(Sheet).turn()


def _ids(question: Question | None) -> frozenset[int]:
    return frozenset(one.id for one in question.entries) if question else frozenset()
