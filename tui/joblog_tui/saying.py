"""Words on one line, said as one would aloud, and what they read as while they are typed."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.content import Content
from textual.screen import ScreenResultType
from textual.widgets import Input, Static

from joblog.form import describe, plain
from joblog.model import BookEntry
from joblog.service.rereading import Revision
from joblog_tui.closed_once import ClosedOnce
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.words_line import WordsLine
from joblog_tui.wording import DOUBT, FAINT, in_doubt


class SayingScreen(ClosedOnce[ScreenResultType]):
    """What a screen that takes words says of itself: its head, what there is to go by, where the
    line begins, what the words come to and what is done with that."""

    DEFAULT_CSS = """
    SayingScreen {
        #head { background: $panel; padding: 0 1; text-style: bold; height: 1; }
        #known { padding: 1 1 0 1; height: auto; max-height: 9; overflow-y: auto; }
        #ask { padding: 1 1 0 1; color: $foreground-muted; }
        Input { margin: 0 1; }
        #preview { padding: 1 1 0 1; height: 1fr; overflow-y: auto; }
    }
    """
    start = ""

    def head(self) -> str:
        raise NotImplementedError

    def known(self) -> Content | None:
        return None

    def would(self) -> Content:
        """What saving would do."""
        raise NotImplementedError

    def save(self) -> None:
        raise NotImplementedError

    def compose(self) -> ComposeResult:
        yield Static(self.head(), id="head", markup=False)
        known = self.known()
        if known is not None:
            yield Static(known, id="known", markup=False)
        yield Static("Say it as you would aloud:", id="ask", markup=False)
        yield WordsLine(self.start)
        yield Static(id="preview", markup=False)
        yield KeyBar()

    @property
    def words(self) -> str:
        return self.query_one(WordsLine).value

    def on_mount(self) -> None:
        self._preview()

    def on_input_changed(self, _changed: Input.Changed) -> None:
        self._preview()

    def on_input_submitted(self, _submitted: Input.Submitted) -> None:
        self.save()

    def action_leave(self) -> None:
        self.dismiss(None)

    def _preview(self) -> None:
        self.query_one("#preview", Static).update(self.would())


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
