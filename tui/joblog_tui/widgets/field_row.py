"""One field of an entry on a line of its own: what it holds, and where it is written in place."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from joblog.form import plain
from joblog_tui.widgets.completing import Choices, Completing
from joblog_tui.wording import in_doubt


class FieldRow(Vertical, can_focus=True):
    """Shut, it shows what the field holds; open, that can be written over. `stay_open` is a row of
    a form, which is never shut; of `names` the first that fits is taken by enter."""

    DEFAULT_CSS = """
    FieldRow {
        height: auto;
        Horizontal { height: auto; }
        .called { width: 15; padding: 0 1; color: $foreground-muted; }
        .held { width: 1fr; height: auto; padding: 0 1 0 0; }
        Completing { width: 1fr; }
        .trouble { height: auto; padding: 0 1 0 15; display: none; }
        &.-wrong .trouble { display: block; }
        &.-open .held { display: none; }
        &:focus { background: $primary-muted; text-style: bold; }
    }
    """
    BINDINGS = [  # noqa: RUF012
        Binding("enter", "open", "edit the line", key_display="enter"),
        Binding("down", "app.focus_next", "other line", show=False),
        Binding("up", "app.focus_previous", "other line", show=False),
    ]

    class Opened(Message):
        """It can be written in as soon as the cursor is on it."""

    def __init__(
        self,
        field: str,
        called: str,
        typed: str,
        choices: Choices | None = None,
        *,
        stay_open: bool = False,
        names: bool = False,
    ) -> None:
        super().__init__()
        self.field = field
        self._called = called
        self._typed = typed
        self._choices = choices
        self._stay_open = stay_open
        self._names = names
        self.can_focus = not stay_open

    def compose(self) -> ComposeResult:
        with Horizontal():
            yield Static(self._called, classes="called", markup=False)
            yield Static(plain(self._typed) or "-", classes="held", markup=False)
            if self._stay_open:
                yield Completing(self._typed, self._choices)
        yield Static(classes="trouble", markup=False)

    def on_mount(self) -> None:
        self.set_class(self._stay_open, "-open")

    @property
    def line(self) -> Completing | None:
        """Where it is written; None while it is shut."""
        return next(iter(self.query(Completing)), None)

    @property
    def value(self) -> str:
        """What would be given now."""
        return self._typed if self.line is None else self.line.value

    @property
    def typed(self) -> str:
        """What it holds."""
        return self._typed

    def show(self, typed: str) -> None:
        """What it holds now."""
        self._typed = typed
        self.query_one(".held", Static).update(Content(plain(typed) or "-"))

    def complain(self, why: str) -> None:
        """Says beside it what is wrong; "" for nothing."""
        self.query_one(".trouble", Static).update(in_doubt(why))
        self.set_class(bool(why), "-wrong")

    async def action_open(self) -> None:
        if self.line is None:
            line = Completing(self._typed, self._choices, names=self._names)
            await self.query_one(Horizontal).mount(line)
            self.set_class(True, "-open")
            self.post_message(self.Opened())

    async def shut(self) -> None:
        """What was written there and not given is gone."""
        if self.line is not None and not self._stay_open:
            self.complain("")
            await self.line.remove()
            self.set_class(False, "-open")
            # At once: later it might take the cursor from a line that was opened since.
            self.screen.set_focus(self)

    def enter(self) -> None:
        """Puts the cursor on it."""
        if self.line is None:
            self.focus()
        else:
            self.line.enter()
