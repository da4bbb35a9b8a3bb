"""Saying it again by hand: the words on one line, and what they read as while they are typed."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.binding import Binding
from textual.content import Content
from textual.widgets import Input, Static

from joblog.form import describe, plain
from joblog.model import BookEntry, BookUtterance
from joblog.service.rereading import Reader, Revision, revise, words_of
from joblog_tui.closed_once import ClosedOnce
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.words_line import WordsLine
from joblog_tui.wording import DOUBT, FAINT, doubt_lines, heard_table, in_doubt


class CorrectScreen(ClosedOnce[Revision | None]):
    """Gives back what to save, or None when it was left. Without an entry, a new one is typed.

    The line starts with words that say the entry as it stands, and saving them changes nothing.
    """

    DEFAULT_CSS = """
    CorrectScreen {
        #head { background: $panel; padding: 0 1; text-style: bold; height: 1; }
        #known { padding: 1 1 0 1; height: auto; max-height: 9; overflow-y: auto; }
        #ask { padding: 1 1 0 1; color: $foreground-muted; }
        Input { margin: 0 1; }
        #preview { padding: 1 1 0 1; height: 1fr; overflow-y: auto; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("escape", "leave", "leave it as it was", key_display="esc"),
    ]

    def __init__(
        self,
        where: str,
        read: Reader,
        entry: BookEntry | None = None,
        utterance: BookUtterance | None = None,
    ) -> None:
        super().__init__()
        self._where = where
        self._entry = entry
        self._read = read
        self._utterance = utterance
        self.start = "" if entry is None else plain(words_of(entry, read))

    def compose(self) -> ComposeResult:
        doing = "put right" if self._entry else "type one in"
        yield Static(f"{self._where}: {doing}", id="head", markup=False)
        if self._entry is not None:
            yield Static(known(self._entry, self._utterance), id="known", markup=False)
        yield Static("Say it as you would aloud:", id="ask", markup=False)
        yield WordsLine(self.start)
        yield Static(id="preview", markup=False)
        yield KeyBar()

    def on_mount(self) -> None:
        self._preview()

    def on_input_changed(self, _changed: Input.Changed) -> None:
        self._preview()

    def on_input_submitted(self, _submitted: Input.Submitted) -> None:
        self.action_save()

    def action_save(self) -> None:
        if self._untouched:
            self.notify("Nothing was typed, so nothing is changed.")
            self.dismiss(None)
            return
        revision = self._revision()
        if revision.reading.entries:
            self.dismiss(revision)
        else:
            self.notify("These words say nothing to keep. Esc leaves it as it was.")

    def action_leave(self) -> None:
        self.dismiss(None)

    def _preview(self) -> None:
        shown = _AS_IT_STANDS if self._untouched else preview(self._revision(), self._entry)
        self.query_one("#preview", Static).update(shown)

    @property
    def _untouched(self) -> bool:
        return self._entry is not None and self.query_one(WordsLine).value == self.start

    def _revision(self) -> Revision:
        text = self.query_one(WordsLine).value
        if self._entry is None:
            return Revision(text, self._read(text))
        return revise(self._entry, text, self._read)


_AS_IT_STANDS = Content.styled("as it stands; nothing is changed until you type", FAINT)


def known(entry: BookEntry, utterance: BookUtterance | None) -> Content:
    """What there is to go by: the entry as it stands, its doubts, and what was heard."""
    lines = [
        Content.assemble(("now: ", FAINT), (describe(entry.entry), "bold")),
        *doubt_lines(entry),
    ]
    if utterance is not None:
        lines.append(heard_table(utterance.utterance.hearings))
    return Content("\n").join(lines)


def preview(revision: Revision, entry: BookEntry | None) -> Content:
    """What saving would do, line by line."""
    lines = []
    for place, found in enumerate(revision.reading.entries):
        role = "adds: " if place or entry is None else "reads: "
        lines.append(Content.assemble((role, FAINT), (describe(found), "bold $success")))
        lines += [
            Content.assemble(("  ? ", f"bold {DOUBT}"), in_doubt(doubt.why))
            for doubt in revision.reading.doubts
            if doubt.entry == place
        ]
    if not lines:
        lines.append(Content.styled("reads as nothing yet", FAINT))
    lines += [
        Content.assemble(("stays as it is: ", FAINT), (describe(kept), FAINT))
        for kept in revision.stays
    ]
    if revision.reading.unread:
        lines.append(Content.assemble(("not read: ", DOUBT), plain(revision.reading.unread)))
    return Content("\n").join(lines)
