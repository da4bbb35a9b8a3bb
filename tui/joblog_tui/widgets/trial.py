"""A line to try a sentence on, and what it would be read as; nothing of it is kept."""

from __future__ import annotations

from collections.abc import Callable

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Input, Static

from joblog.form import describe, plain
from joblog.model import Reading
from joblog_tui.wording import DOUBT, FAINT, in_doubt


class TrialLine(Input):
    BINDINGS = [  # noqa: RUF012
        Binding("down", "app.focus_next", "other field", show=False),
        Binding("up", "app.focus_previous", "other field", key_display="↑ ↓"),
    ]

    def __init__(self) -> None:
        super().__init__(placeholder="installed six soffit panels on the north eave", compact=True)


class Trial(Vertical):
    DEFAULT_CSS = """
    Trial {
        height: auto;
        #try { padding: 0 1; }
        TrialLine { margin: 0 1; width: 1fr; }
        #becomes { padding: 0 1; height: auto; min-height: 2; max-height: 6; }
    }
    """

    def __init__(self, read: Callable[[str], Reading]) -> None:
        super().__init__()
        self._read = read

    def compose(self) -> ComposeResult:
        yield Static(
            "Try it: type a sentence as you would say it (it is not kept):",
            id="try",
            markup=False,
        )
        yield TrialLine()
        yield Static(id="becomes", markup=False)

    def enter(self) -> None:
        self.query_one(TrialLine).focus()

    @property
    def entered(self) -> bool:
        return self.query_one(TrialLine).has_focus

    def on_input_changed(self, changed: Input.Changed) -> None:
        changed.stop()
        words = changed.value
        becomes = self.query_one("#becomes", Static)
        becomes.update(read_as(self._read(words)) if words.strip() else "")
        becomes.scroll_visible(animate=False)

    def on_input_submitted(self, submitted: Input.Submitted) -> None:
        # Only a trial: what enter does elsewhere on the screen is not meant.
        submitted.stop()


def read_as(reading: Reading) -> Content:
    """What words become, a line for each fact, with what would be asked about it."""
    lines: list[Content] = []
    for place, found in enumerate(reading.entries):
        lines.append(Content.assemble(("reads: ", FAINT), (describe(found), "bold $success")))
        asked = (doubt.why for doubt in reading.doubts if doubt.entry == place)
        lines += [Content.assemble(("? ", f"bold {DOUBT}"), in_doubt(why)) for why in asked]
    if reading.unread:
        lines.append(Content.assemble(("not read: ", DOUBT), plain(reading.unread)))
    return Content("\n").join(lines or [Content.styled("reads as nothing yet", FAINT)])
