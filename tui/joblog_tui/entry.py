"""Everything of one entry, a line for each field, to be put right field by field."""

from __future__ import annotations

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
from joblog.service.editing import can_count, change_of, heard_in, lines, offered
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
from joblog_tui.widgets.completing import Choices, Completing
from joblog_tui.widgets.evidence_line import EvidenceLine
from joblog_tui.widgets.field_row import FieldRow
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.picture import Picture
from joblog_tui.widgets.sheet import Sheet
from joblog_tui.wording import DONE, DOUBT, FAINT, clock, day_name, doubt_lines, in_doubt


class EntryScreen(EvidenceScreen):
    """What is decided on it is kept at once; leaving it loses nothing."""

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
        Binding("space", "turn", "more", key_display="space"),
        Binding("escape", "back", "back", key_display="esc"),
    ]

    def __init__(self, desk: Desk, entry: int) -> None:
        super().__init__(desk)
        self._number = entry
        self._evidence: Evidence | None = None
        self._said: BookUtterance | None = None
        self._guard = Guard(self, ("a", "d"))

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
            self._said = heard_in(self._desk, self._evidence.entry)
            await self._lay_out(self._evidence)

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
        """Whether a key was pressed by somebody who saw what it decides; one that writes is."""
        return self._row is not None or self._guard.takes(key)

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
                FieldRow(name, field_name(name), text, self._choices(name))
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
            self.notify("It is dropped: d brings it back first.")
            await self._shut()
            return
        self.set_class(True, "-editing")
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

    async def on_completing_given(self, given: Completing.Given) -> None:
        row = self._row
        if row is None:
            return
        if not given.line.untouched:
            try:
                decide.edit(self._desk, self._number, row.field, given.line.value)
            except ServiceError as wrong:
                row.complain(plain(str(wrong)))
                return
            self.quiet()
        await self._shut()
        await self._read()

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

    async def action_drop(self) -> None:
        dropped = self._entry.standing == "dropped"
        with trouble_shown(self):
            (decide.restore if dropped else decide.drop)(self._desk, self._number)
            await self._decided()

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

    def action_tie(self) -> None:
        self.app.push_screen(PhotosOfScreen(self._desk, self._entry))

    def action_turn(self) -> None:
        self.query_one(Sheet).turn()


_AS_IT_STANDS = Content.styled("as it stands; nothing is changed until you type", FAINT)
_ROOM = 70
"""Columns from which on there is room for the photo beside the fields."""
