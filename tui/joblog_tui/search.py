"""Everything that was ever said, found by its words while they are typed."""

from __future__ import annotations

from collections.abc import Sequence

from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Input

from joblog.form import plain
from joblog.local import clock_written, day_written
from joblog.service import record
from joblog.service.desk import Desk
from joblog.service.search import Found, search, slow_search
from joblog_tui.entry import EntryScreen
from joblog_tui.listed import ListedScreen, ListLine
from joblog_tui.photo import PhotoScreen
from joblog_tui.trouble import trouble_shown
from joblog_tui.turning import turn_to
from joblog_tui.widgets.headed_list import HeadedList
from joblog_tui.widgets.lines import Lines
from joblog_tui.widgets.sought_line import SoughtLine
from joblog_tui.wording import FAINT, counted

MOST = 200

_HOW = """\
Type words, as they were said or as they are shown; whatever holds all of them is found.

    fascia north            a word may be begun only: fas nor
    IMG_2041                photos and recordings are found by their names"""


class SearchScreen(ListedScreen):
    """The keyboard stays on the line: letters are words, arrows move the list, enter opens."""

    ENTER = ""
    BINDINGS = [  # noqa: RUF012
        Binding("tab", "widen", "this job or all", key_display="tab"),
    ]

    def __init__(
        self, desk: Desk, words: str = "", chosen: str | None = None, *, every_job: bool = True
    ) -> None:
        super().__init__(desk)
        self._words = words
        self._every_job = every_job
        self._found: tuple[Found, ...] = ()
        self._first = chosen

    def above(self) -> ComposeResult:
        yield SoughtLine(self._words)

    def on_mount(self) -> None:
        self.query_one(Lines).can_focus = False
        self.query_one(SoughtLine).focus()

    # --- what is shown ------------------------------------------------------------------------

    def read(self) -> None:
        self._found = (
            search(self._desk, self._words, every_job=self._every_job, most=MOST)
            if self._words.strip()
            else ()
        )

    def lay_out(self) -> None:
        super().lay_out()
        self.query_one(SoughtLine).focus()
        if self._first is not None and self._shown:
            self.choose(self._first)
            self._first = None

    def head(self) -> Content:
        where = "in all jobs" if self._every_job else f"in {plain(self._desk.job.name)}"
        found = f": {counted(len(self._found), 'place')}" if self._words.strip() else ""
        more = " and more" if len(self._found) >= MOST else ""
        head = Content.assemble((f"Search {where}", "bold"), f"{found}{more}")
        slow = slow_search(self._desk)
        return Content.assemble(head, "\n", (slow, FAINT)) if slow else head

    def lines(self, width: int) -> Sequence[ListLine]:
        return [self._line(one, place, width) for place, one in enumerate(self._found)]

    def empty(self) -> str:
        return "Nothing holds all of these words." if self._words.strip() else _HOW

    def _line(self, one: Found, place: int, width: int) -> ListLine:
        day = f"{day_written(one.day, short=True, year=True):<13} "
        where = plain(one.job)
        at = clock_written(one.at)
        meaning = [
            marked(one.text, one.marks),
            Content.styled(f"{where}, {day_written(one.day)}, {at}", FAINT),
            Content.styled(_what(one), FAINT),
        ]
        shown = Content.assemble(
            (day, FAINT), marked(one.text, one.marks, max(10, width - len(day)))
        )
        return ListLine(where, shown, str(place), Content("\n").join(meaning), one.entry)

    # --- keys ---------------------------------------------------------------------------------

    def on_input_changed(self, changed: Input.Changed) -> None:
        if changed.value != self._words:
            self._words = changed.value
            self.read_anew()
            # What is found first is the likeliest; where the cursor was means nothing now.
            self.query_one(HeadedList).query_one(Lines).action_first()

    def action_move(self, way: str) -> None:
        lines = self.query_one(Lines)
        if self.chosen is not None and lines.check_action(way, ()):
            getattr(lines, f"action_{way}")()

    def action_widen(self) -> None:
        self._every_job = not self._every_job
        self.read_anew()

    def on_input_submitted(self, _submitted: Input.Submitted) -> None:
        if self.chosen is not None:
            with trouble_shown(self):
                self.open(self.chosen)

    def open(self, line: ListLine) -> None:
        one = self._found[int(line.id)]
        if one.job == self._desk.job.name:
            self.app.push_screen(self._opened(one))
            return
        again = SearchScreen(self._desk, self._words, line.id, every_job=self._every_job)
        turn_to(self.app, self._desk, one.job, again)
        self.app.push_screen(self._opened(one))

    def _opened(self, one: Found) -> Screen[None]:
        """What there is of it; on the desk is its job by now."""
        if one.entry is not None:
            return EntryScreen(self._desk, one.entry)
        day = record.read_day(self._desk, one.day)
        photo = next((photo for photo in day.photos if photo.sha256 == one.photo), None)
        if photo is not None:
            return PhotoScreen(self._desk, day, photo)
        from joblog_tui.day import DayScreen

        return DayScreen(self._desk, one.day)


def _what(one: Found) -> str:
    if one.entry is not None:
        return f"entry {one.entry}"
    return "a photo" if one.photo is not None else "in a recording, and became no entry"


def marked(text: str, marks: Sequence[tuple[int, int]], width: int | None = None) -> Content:
    """The text with what was sought in it bold and between stars; no longer than `width`.

    Where the first mark would be out of sight, what stands before it is left out.
    """
    skip = 0
    if width is not None and marks and marks[0][1] + 2 > width:
        skip = max(0, marks[0][0] - width // 3)
    parts: list[str | tuple[str, str]] = ["…" if skip else ""]
    at = skip
    for start, end in marks:
        if start < at:
            continue
        parts += [plain(text[at:start]), (f"*{plain(text[start:end])}*", "bold")]
        at = end
    whole = Content.assemble(*parts, plain(text[at:]))
    return whole if width is None else whole.truncate(width, ellipsis=True)
