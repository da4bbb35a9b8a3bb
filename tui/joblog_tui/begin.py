"""Beginning a job, the first one or one more; how things come into it, and a sentence to try."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import VerticalScroll
from textual.widgets import Input, Static

from joblog.model import Reading, Vocabulary
from joblog.service import ServiceError
from joblog.service.jobs import check_zone, usual_zone
from joblog.service.words import read_words
from joblog_tui.closed_once import ClosedOnce
from joblog_tui.widgets.field import Field
from joblog_tui.widgets.keybar import KeyBar
from joblog_tui.widgets.trial import Trial

HOW = """\
On the job, record short sentences with any recorder: what you measure, use, break, when you \
start and stop. Take photos. In the evening copy the files into a folder here, and

    joblog add FOLDER

takes them in; joblog review then asks what was not clear. Nothing leaves this machine."""

_ENTER = "begin the job"


Begin = Callable[[str, str | None, Sequence[str]], object]


class BeginScreen(ClosedOnce[str]):
    """Closes with the name of the job that was begun, or None where it was left.

    `begin` is given the name, the time zone, None for the usual one, and the places.
    """

    DEFAULT_CSS = """
    BeginScreen {
        #title { background: $panel; padding: 0 1; height: 1; text-style: bold; }
        VerticalScroll { height: 1fr; scrollbar-size-vertical: 1; }
        #how { padding: 1 1; height: auto; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("escape", "leave", "leave it", key_display="esc"),
    ]

    def __init__(self, begin: Begin, words: Vocabulary, *, first: bool = False) -> None:
        super().__init__()
        self._begin = begin
        self._words = words
        self._is_first = first

    def compose(self) -> ComposeResult:
        title = "There is no job yet. Begin your first one:" if self._is_first else "A new job:"
        yield Static(title, id="title", markup=False)
        with VerticalScroll(can_focus=False):
            yield Field("name", "", _ENTER)
            yield Field("time zone", usual_zone(), _ENTER)
            yield Field("places", "", _ENTER)
            yield Static(HOW, id="how", markup=False)
            yield Trial(self._read)
        yield KeyBar()

    def on_mount(self) -> None:
        self._field("name").enter()

    def _field(self, called: str) -> Field:
        return next(field for field in self.query(Field) if field.called == called)

    @property
    def _places(self) -> tuple[str, ...]:
        typed = self._field("places").text.replace(";", ",").split(",")
        return tuple(" ".join(place.lower().split()) for place in typed if place.strip())

    def _read(self, words: str) -> Reading:
        reading, _ = read_words(words, replace(self._words, places=self._places))
        return reading

    # --- beginning it -------------------------------------------------------------------------

    def on_input_submitted(self, _submitted: Input.Submitted) -> None:
        name = " ".join(self._field("name").text.split())
        zone = self._field("time zone").text.strip()
        wrong = self._field("name")
        for field in self.query(Field):
            field.trouble = ""
        try:
            if not name:
                raise ServiceError("Give it a name: the house, the street, whose it is.")
            wrong = self._field("time zone")
            check_zone(zone or None)
            wrong = self._field("name")
            self._begin(name, zone or None, self._places)
        except (ServiceError, OSError) as error:
            wrong.trouble = str(error)
            wrong.enter()
        else:
            self.dismiss(name)

    def action_leave(self) -> None:
        self.dismiss()
