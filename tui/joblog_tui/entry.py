"""Everything of one entry, a line for each field, to be put right field by field."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from itertools import takewhile

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.events import Key
from textual.widgets import Static

from joblog.form import describe, plain
from joblog.model import BookEntry, BookUtterance
from joblog.service import ServiceError, decide, editing, record
from joblog.service.desk import Desk
from joblog.service.editing import (
    NAMES,
    can_count,
    change_of,
    fields_in_doubt,
    lines,
    offered,
)
from joblog.service.reading import reader_instead
from joblog.service.record import Evidence
from joblog.service.rereading import Revision
from joblog_tui.correct import CorrectScreen
from joblog_tui.entry_story import story
from joblog_tui.evidence import EvidenceScreen
from joblog_tui.field_names import field_name
from joblog_tui.guard import Guard
from joblog_tui.merge import MergeScreen
from joblog_tui.move import MoveScreen
from joblog_tui.photos_of import PhotosOfScreen
from joblog_tui.split import SplitScreen
from joblog_tui.trouble import trouble_shown
from joblog_tui.versions import VersionsScreen
from joblog_tui.widgets.completing import Choices, Completing
from joblog_tui.widgets.evidence_line import EvidenceLine
from joblog_tui.widgets.field_row import FieldRow
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.picture import Picture
from joblog_tui.widgets.sheet import Sheet
from joblog_tui.wording import DONE, DOUBT, FAINT, clock, day_name, doubt_lines, in_doubt


class EntryScreen(EvidenceScreen):
    """What is decided on it is kept at once; leaving it loses nothing.

    `answering` a question, the line of what is doubted is open at once, and the screen leaves by
    itself as soon as nothing is in doubt.
    """

    DEFAULT_CSS = """
    EntryScreen {
        #head { background: $panel; padding: 0 1; height: auto; max-height: 7; }
        #fields { height: 1fr; scrollbar-size-vertical: 1; }
        #middle { height: 1fr; min-height: 6; }
        Picture { width: 28; display: none; }
        &.-pictured Picture { display: block; }
        Sheet { height: auto; max-height: 33%; border-top: solid $panel; }
        #would { height: auto; padding: 0 1; border-top: solid $panel; display: none; }
        &.-editing #would { display: block; }
        &.-editing Sheet { display: none; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("e", "edit", "edit the line", show=False),
        Binding("a", "accept", "right as it is"),
        Binding("d", "drop", "drop"),
        Binding("w", "words", "other words"),
        Binding("m", "move", "move"),
        Binding("x", "split", "split"),
        Binding("j", "join", "join with another"),
        Binding("t", "tie", "tie photos"),
        Binding("h", "versions", "what it was"),
        Binding("space", "turn", "more", key_display="space"),
        Binding("escape", "back", "back", key_display="esc"),
    ]

    def __init__(self, desk: Desk, entry: int, *, answering: bool = False) -> None:
        super().__init__(desk)
        self._answering = answering
        # Fields that were kept with enter since it was opened, and those that were changed.
        self._looked_at: set[str] = set()
        self._changed: set[str] = set()
        self._asked = False
        self._number = entry
        self._evidence: Evidence | None = None
        self._said: BookUtterance | None = None
        self._guard = Guard(self, ("a", "d"))
        self._line_guard = Guard(self, ("enter",))
        self._opening: Key | None = None
        # What opens a line that has not the cursor yet; the letters typed meanwhile go there.
        self._ahead: list[Key] = []
        self._turning = False

    def compose(self) -> ComposeResult:
        yield Static(id="head", markup=False)
        with Horizontal(id="middle"):
            yield VerticalScroll(id="fields", can_focus=False)
            yield Picture()
        yield Static(id="would", markup=False)
        yield Sheet()
        yield EvidenceLine()
        yield KeyBar()

    async def on_screen_resume(self) -> None:
        await self._read()

    # --- what is shown ------------------------------------------------------------------------

    async def _read(self) -> None:
        with trouble_shown(self):
            self._evidence = record.read_evidence(self._desk, [self._number]).get(self._number)
            if self._evidence is None:
                # It was moved into another job, or what brought it was taken back elsewhere.
                self.app.pop_screen()
                return
            found = record.sound_of(self._desk, self._evidence.entry)
            self._said = found and found[0]
            await self._lay_out(self._evidence)
            if self._answering and not self._asked:
                self._asked = True
                await self._open_doubted()

    async def _lay_out(self, shown: Evidence) -> None:
        entry = shown.entry
        versions = record.versions(self._desk, entry.id)
        self.query_one("#head", Static).update(self._head(entry))
        self.query_one(Sheet).show(story(shown, self._said, versions, self._desk.job.zone))
        await self._fill(entry)
        self.set_class(bool(shown.photos) and self.app.size.width >= _ROOM, "-pictured")
        if shown.photos:
            more = f" (+{len(shown.photos) - 1})" if shown.photos[1:] else ""
            original = record.original(self._desk, shown.photos[0].sha256)
            self.query_one(Picture).show(original, plain(shown.photos[0].name) + more)
        self.refresh_bindings()
        self._guard.renew()

    def takes(self, key: Key) -> bool:
        """Whether a key was pressed by somebody who saw what it decides; one that writes is. What
        is typed before the line is in sight that it is meant for goes into it, and never acts."""
        if self._turning:
            return False
        line = self._row.line if self._row else None
        if line is not None and line.has_cursor:
            keeps = self._answering and key.key == "enter" and line.untouched
            return not keeps or self._line_guard.takes(key)
        if self._opening is not None:
            if key.time == self._opening.time:
                # On its way up again, where it opens the line; if it does not, nothing waits.
                self.app.call_later(self._opened_or_not)
                return True
            self._ahead.append(key)
            return False
        if line is not None:
            # A click elsewhere took the cursor away: it comes back, and no key acts meanwhile.
            line.enter()
            return key.key == "escape"
        if not self._guard.takes(key):
            return False
        opens = key.key == "enter" or (key.key == "e" and self.check_action("edit", ()))
        if opens and isinstance(self.focused, FieldRow):
            self._opening = key
        return True

    def _opened_or_not(self) -> None:
        if self._row is None:
            self._opening, self._ahead = None, []

    def _head(self, entry: BookEntry) -> Content:
        zone = self._desk.job.zone
        state = {"dropped": "  (dropped: it does not count)", "accepted": "  (accepted)"}
        day = day_name(editing.day_of(self._desk, entry))
        return Content("\n").join(
            [
                Content.assemble(
                    (describe(entry.entry), "bold"), (state.get(entry.standing, ""), FAINT)
                ),
                Content.styled(f"{day}, {clock(entry.at, zone)}", FAINT),
                *doubt_lines(entry),
            ]
        )

    async def _fill(self, entry: BookEntry) -> None:
        """Puts what the fields hold on their lines, which stay where they are while one edits."""
        fields = self.query_one("#fields")
        held = {line.field: line.typed for line in lines(entry.entry)}
        rows = {row.field: row for row in self.query(FieldRow)}
        if {*rows} != {*held}:
            await fields.remove_children()
            await fields.mount_all(
                FieldRow(name, field_name(name), text, self._choices(name), names=name in NAMES)
                for name, text in held.items()
            )
            for row in self.query(FieldRow)[:1]:
                row.focus()
            return
        for name, row in rows.items():
            row.show(held[name])

    def _choices(self, field: str) -> Choices:
        return lambda: offered(self._desk, self._entry.entry, field)

    @property
    def _entry(self) -> BookEntry:
        assert self._evidence is not None
        return self._evidence.entry

    def in_sight(self) -> BookEntry | None:
        return self._evidence.entry if self._evidence else None

    @property
    def _row(self) -> FieldRow | None:
        """The row that is being written in."""
        return next((row for row in self.query(FieldRow) if row.line is not None), None)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        if action == "quiet":
            return self.player.state != "silent"
        if self._evidence is None or self._row is not None:
            return action == "back"
        if action == "accept":
            return self._entry.open and can_count(self._entry.entry)
        if action in ("edit", "words", "split", "join", "tie"):
            return self._entry.standing != "dropped"
        return action != "turn" or self.query_one(Sheet).longer

    # --- one field ----------------------------------------------------------------------------

    async def action_edit(self) -> None:
        if isinstance(self.focused, FieldRow):
            await self.focused.action_open()

    async def on_field_row_opened(self) -> None:
        if self._entry.standing == "dropped":
            self._opening, self._ahead = None, []
            self.notify("It is dropped: d brings it back first.")
            await self._shut()
            return
        row, ahead = self._row, self._ahead
        self._opening, self._ahead = None, []
        if row is None or row.line is None:
            return
        letters = takewhile(lambda key: key.is_printable, ahead)
        row.line.write_over("".join(key.character or "" for key in letters))
        self._line_guard.renew()
        self.set_class(True, "-editing")
        if not ahead:
            self._say_would(_AS_IT_STANDS)
        self.refresh_bindings()

    def on_completing_typed(self, typed: Completing.Typed) -> None:
        row = self._row
        if row is None:
            return
        row.complain("")
        if typed.line.untouched:
            self._say_would(_AS_IT_STANDS)
            return
        try:
            change = change_of(self._desk, self._entry, row.field, typed.line.value)
        except ServiceError as wrong:
            self._say_would(in_doubt(str(wrong)))
            return
        asks = [Content.assemble(("? ", f"bold {DOUBT}"), in_doubt(why)) for why in change.asks]
        would = Content.assemble(("then: ", FAINT), (describe(change.becomes), f"bold {DONE}"))
        self._say_would(Content("\n").join([would, *asks]))

    async def on_completing_given(self, _given: Completing.Given) -> None:
        row = self._row
        async with self._under_way():
            if row is None or not await self._give() or not self._answering:
                return
            self._looked_at.add(row.field)
            await self._open_doubted()
            if self._row is None and {*self._changed, *fields_in_doubt(self._entry)}:
                await self._answered()

    async def on_completing_passed(self, passed: Completing.Passed) -> None:
        """What was written is kept, and the next line opened."""
        row = self._row
        async with self._under_way():
            if row is None or not await self._give():
                return
            # Another kind may have other lines.
            rows = list(self.query(FieldRow))
            at = next((at for at, one in enumerate(rows) if one.field == row.field), 0)
            await rows[(at + passed.way) % len(rows)].action_open()

    @asynccontextmanager
    async def _under_way(self) -> AsyncIterator[None]:
        """While one line is shut and another opened, no key is taken."""
        self._turning = True
        try:
            yield
        finally:
            self._turning = False

    async def _give(self) -> bool:
        """Keeps what is written on the open line, and shuts it; False where it cannot be kept."""
        row = self._row
        if row is None or row.line is None:
            return False
        if not row.line.untouched:
            try:
                decide.edit(self._desk, self._number, row.field, row.line.value)
            except ServiceError as wrong:
                row.complain(plain(str(wrong)))
                return False
            self.quiet()
            self._changed.add(row.field)
            self._looked_at.add(row.field)
        await self._shut()
        await self._read()
        return True

    async def _open_doubted(self) -> None:
        """Opens the line of the next field in doubt that was not looked at here."""
        left = [one for one in fields_in_doubt(self._entry) if one not in self._looked_at]
        row = next((row for one in left for row in self.query(FieldRow) if row.field == one), None)
        if row is not None and self._row is None and self._entry.standing != "dropped":
            await row.action_open()

    async def _answered(self) -> None:
        """Each field in doubt was looked at: what is on the lines is what was meant."""
        with trouble_shown(self):
            if self._entry.open and can_count(self._entry.entry):
                decide.accept(self._desk, self._number)
                await self._read()
            self._leave()

    def _leave(self) -> None:
        """Back to the questions, where it was opened from one and nothing is left to answer."""
        if self._answering and not self._entry.open:
            self.app.pop_screen()

    async def _shut(self) -> None:
        if self._row is not None:
            await self._row.shut()
        self.set_class(False, "-editing")
        self.refresh_bindings()

    def _say_would(self, line: Content) -> None:
        self.query_one("#would", Static).update(line)

    async def action_back(self) -> None:
        if self._row is not None:
            await self._shut()
        else:
            self.app.pop_screen()

    # --- the whole entry ----------------------------------------------------------------------

    async def _decided(self) -> None:
        self.quiet()
        await self._read()

    async def action_accept(self) -> None:
        with trouble_shown(self):
            decide.accept(self._desk, self._number)
            await self._decided()
            self._leave()

    async def action_drop(self) -> None:
        dropped = self._entry.standing == "dropped"
        with trouble_shown(self):
            (decide.restore if dropped else decide.drop)(self._desk, self._number)
            await self._decided()
            self._leave()

    def action_words(self) -> None:
        before = self._entry
        day = day_name(editing.day_of(self._desk, before))
        where = f"{day} {clock(before.at, self._desk.job.zone)}"

        def save(revision: Revision | None) -> None:
            if revision is None:
                return
            with trouble_shown(self):
                if revision.reading.entries == (before.entry,):
                    decide.accept(self._desk, before.id)
                else:
                    decide.correct(self._desk, before, revision)

        read = reader_instead(self._desk, before)
        self.app.push_screen(CorrectScreen(where, read, before, self._said), save)

    def action_move(self) -> None:
        self.app.push_screen(MoveScreen(self._desk, self._entry))

    def action_split(self) -> None:
        self.app.push_screen(SplitScreen(self._desk, self._entry))

    def action_join(self) -> None:
        with trouble_shown(self):
            self.app.push_screen(MergeScreen(self._desk, self._entry))

    def action_versions(self) -> None:
        self.app.push_screen(VersionsScreen(self._desk, self._number))

    def action_tie(self) -> None:
        self.app.push_screen(PhotosOfScreen(self._desk, self._entry))

    def action_turn(self) -> None:
        self.query_one(Sheet).turn()


_AS_IT_STANDS = Content.styled("as it stands; nothing is changed until you type", FAINT)
_ROOM = 70
"""Columns from which on there is room for the photo beside the fields."""
