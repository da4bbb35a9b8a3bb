"""Backups: what the last one holds, and a new one at the press of a key."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from textual import work
from textual.content import Content
from textual.message import Message
from textual.worker import get_current_worker

from joblog.form import plain
from joblog.service import Place, ServiceError, keeping_safe, opened
from joblog.service.desk import Desk
from joblog.service.keeping_safe import Far
from joblog_tui.columns import fitted
from joblog_tui.listed import ListedScreen, ListLine
from joblog_tui.trouble import trouble_shown
from joblog_tui.wording import DOUBT, FAINT

NOW = "now"
_FIRST = (
    "No backup was made of this book yet.\n\nPlug in a stick, leave the review with q, and say"
    "\n\n    joblog backup FOLDER\n\n"
    "where FOLDER is that of the stick. From then on enter here does it."
)
_NOT_HERE = "It is not at hand: plug it in. What was done since lies on this computer alone."


class BackupScreen(ListedScreen):
    # What came of a backup is told in the head, and folders have long names.
    DEFAULT_CSS = "BackupScreen #head { max-height: 8; }"
    ENTER = "back up"

    class Went(Message):
        """How far a backup is, or what came of it."""

        def __init__(self, told: Content, *, done: bool = False) -> None:
            super().__init__()
            self.told, self.done = told, done

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._folder = ""
        self._kept: tuple[keeping_safe.Kept, ...] = ()
        self._told = Content("")
        self._at_work = False

    def read(self) -> None:
        self._folder, states = keeping_safe.states_at_hand(self._desk.book)
        self._kept = keeping_safe.listed(states)

    def head(self) -> Content:
        where = f": in {plain(self._folder)}" if self._folder else ""
        due = keeping_safe.due(self._desk.book, evening=True)
        said = self._told or (Content.styled(plain(due), DOUBT) if due else Content(""))
        return Content("\n").join([Content.assemble(("backup", "bold"), where), said])

    def lines(self, width: int) -> Sequence[ListLine]:
        if not self._folder:
            return ()
        about = "Only what is new is written, and read again from there."
        now = ListLine(
            "now",
            fitted(f"back up to {plain(self._folder)}", width),
            NOW,
            Content(about if self._kept else _NOT_HERE),
        )
        return [now, *(self._line(number, one, width) for number, one in enumerate(self._kept))]

    def _line(self, number: int, one: keeping_safe.Kept, width: int) -> ListLine:
        again = f"joblog restore {self._folder} --at {one.day} --book NEW"
        meaning = [
            Content.styled(plain(one.when), "bold"),
            Content(plain(one.what)),
            Content.styled("In a terminal, this makes the book of then in a folder NEW:", FAINT),
            Content(plain(again)),
        ]
        for odd in filter(None, (one.copy, one.lacks)):
            meaning.insert(2, Content.styled(plain(odd), DOUBT))
        shown = fitted("  ".join(filter(None, map(plain, (one.when, one.what, one.copy)))), width)
        return ListLine("backups", shown, f"state {number}", Content("\n").join(meaning))

    def empty(self) -> str:
        return _FIRST

    # --- keys ---------------------------------------------------------------------------------

    def open(self, line: ListLine) -> None:
        if line.id != NOW:
            self.choose(NOW)
        elif not self._at_work:
            self._at_work = True
            self._say(Content.styled("Looking round…", "bold"))
            self._back_up()

    @work(thread=True, exclusive=True)
    def _back_up(self) -> None:
        # A book of its own: the review goes on meanwhile.
        try:
            with opened(Place(self._desk.book.folder)) as book:
                outcome = keeping_safe.back_up(book, Path(self._folder), tell=self._far)
        except _LeftError:
            return
        except (ServiceError, OSError) as error:
            told = Content.styled(plain(str(error)), DOUBT)
        else:
            lines = [Content(plain(line)) for line in keeping_safe.told(outcome)]
            lines += [
                Content.styled(plain(line), DOUBT) for line in (*outcome.damaged, *outcome.others)
            ]
            told = Content("\n").join(lines)
        self.post_message(self.Went(told, done=True))

    def _far(self, far: Far) -> None:
        if get_current_worker().is_cancelled:
            raise _LeftError  # What was written stays; the next backup goes on from there.
        now = datetime.now().timestamp()
        if now - self._shown_at > _EVERY:
            self._shown_at = now
            self.post_message(self.Went(Content.styled(plain(keeping_safe.far_told(far)), "bold")))

    def on_backup_screen_went(self, went: Went) -> None:
        if went.done:
            self._at_work = False
            self._told = went.told
            self.read_anew()
        else:
            self._say(went.told)

    def _say(self, told: Content) -> None:
        self._told = told
        with trouble_shown(self):
            self.lay_out()

    _shown_at = 0.0


class _LeftError(Exception):
    """The review is being left."""


_EVERY = 0.2
"""Seconds between two words of how far it is."""
