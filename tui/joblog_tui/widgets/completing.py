"""A line to type on, and beneath it what the job knows that may be meant."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.content import Content
from textual.message import Message
from textual.suggester import Suggester
from textual.widgets import Input, Static

from joblog.form import plain
from joblog.service.editing import narrowed
from joblog_tui.widgets.words_line import WordsLine

Choices = Callable[[], Sequence[str]]


class Completing(Vertical):
    """`choices` are asked for once, when the line is first typed on or looked at.

    What is picked with the arrows stands for what was typed; tab takes it, or else the first of the
    list, into the line. Of `names` the first that fits what was typed is picked by itself, and up
    leaves it as it was typed.
    """

    DEFAULT_CSS = """
    Completing {
        height: auto;
        .choices { height: auto; padding: 0 1; color: $foreground-muted; display: none; }
        &.-offering .choices { display: block; }
    }
    """

    class Typed(Message):
        """Something else would be given now."""

        def __init__(self, line: Completing) -> None:
            super().__init__()
            self.line = line

        @property
        def control(self) -> Completing:
            return self.line

    class Given(Typed):
        """Enter was pressed: `line.value` is meant."""

    class Passed(Typed):
        """The arrows went past the end of the list; `way` is 1 down and -1 up."""

        def __init__(self, line: Completing, way: int) -> None:
            super().__init__(line)
            self.way = way

    def __init__(
        self,
        text: str,
        choices: Choices | None = None,
        *,
        most: int = 6,
        names: bool = False,
    ) -> None:
        super().__init__()
        self._names = names
        self._start = plain(text)
        self._ask = choices
        self._known: Sequence[str] | None = None
        self._most = most
        self._shown: tuple[str, ...] = ()
        self._picked: int | None = None

    def compose(self) -> ComposeResult:
        yield CompletingLine(self._start, self)
        yield Static(classes="choices", markup=False)

    @property
    def value(self) -> str:
        """What is picked, else what was typed."""
        if self._picked is not None:
            return self._shown[self._picked]
        return self.text

    @property
    def text(self) -> str:
        """What stands on the line."""
        return self._line.value

    @property
    def untouched(self) -> bool:
        return self._picked is None and self.text == self._start

    @property
    def picked(self) -> bool:
        """Whether one of the list is meant, and not what was typed."""
        return self._picked is not None

    def enter(self) -> None:
        self._line.focus()

    def write_over(self, letters: str = "") -> None:
        """Puts the cursor on it at once, all of it selected: what is typed takes its place, first
        these letters."""
        self.screen.set_focus(self._line)
        self._line.select_all()
        if letters:
            self._line.replace(letters, 0, len(self.text))

    @property
    def has_cursor(self) -> bool:
        return self._line.has_focus

    def offer(self, offering: bool = True) -> None:
        """Shows the list, or takes it away."""
        self._picked = None
        fitting = narrowed(self._all(), "" if self.untouched else self.text, self._most + 1)
        shown = [one for one in fitting if one != self.text][: self._most]
        self._shown = tuple(shown) if offering else ()
        if self._names and self._shown and not self.untouched and self._begun:
            self._picked = 0
        self._draw()

    @property
    def _begun(self) -> bool:
        """Whether what was typed may be the beginning of a name, and is none by itself."""
        typed = " ".join(self.text.casefold().split())
        return bool(typed) and typed not in map(str.casefold, self._all())

    def going_on(self, text: str) -> str | None:
        """The first of the list that goes on as the text does, from there on as it stands."""
        found = narrowed(self._all(), text, 1) if text and not self.untouched else ()
        if found and found[0].casefold().startswith(text.casefold()):
            return text + found[0][len(text) :]
        return None

    def take(self) -> bool:
        """Puts what is picked, else the first that goes with what was typed, into the line; False
        where there is neither."""
        if not self._shown or self.untouched:
            return False
        self._line.value = self._shown[self._picked or 0]
        self._line.cursor_position = len(self._line.value)
        self._picked = None
        return True

    def pick(self, way: int) -> None:
        """The next one of the list, or the one before; past its ends there is none."""
        place = (-1 if self._picked is None else self._picked) + way
        if not 0 <= place < len(self._shown):
            if self._picked is None or way > 0:
                self.post_message(self.Passed(self, way))
                return
            self._picked = None
        else:
            self._picked = place
        self._draw()
        self.post_message(self.Typed(self))

    def on_input_changed(self, changed: Input.Changed) -> None:
        changed.stop()
        self.offer(self._line.has_focus)
        self.post_message(self.Typed(self))

    def on_input_submitted(self, submitted: Input.Submitted) -> None:
        submitted.stop()
        self.post_message(self.Given(self))

    def on_descendant_focus(self) -> None:
        self.offer()

    def on_descendant_blur(self) -> None:
        self.offer(False)

    def _all(self) -> Sequence[str]:
        if self._known is None:
            self._known = tuple(map(plain, self._ask())) if self._ask else ()
        return self._known

    def _draw(self) -> None:
        self.set_class(bool(self._shown), "-offering")
        lines = [
            Content.styled(f" {one} ", "bold reverse" if place == self._picked else "")
            for place, one in enumerate(self._shown)
        ]
        self.query_one(".choices", Static).update(Content("\n").join(lines))
        if self._shown:
            self.call_after_refresh(self.scroll_visible, animate=False)

    @property
    def _line(self) -> CompletingLine:
        return self.query_one(CompletingLine)


class CompletingLine(WordsLine):
    BINDINGS = [  # noqa: RUF012
        Binding("tab", "take", "take the first", key_display="tab"),
        Binding("down", "pick(1)", "pick", key_display="↑ ↓"),
        Binding("up", "pick(-1)", "pick", show=False),
    ]

    def __init__(self, text: str, owner: Completing) -> None:
        super().__init__(text, compact=True)
        self._owner = owner
        self.suggester = _GoingOn(owner)

    def action_take(self) -> None:
        if not self._owner.take():
            self._owner.post_message(Completing.Passed(self._owner, 1))

    def action_pick(self, way: int) -> None:
        self._owner.pick(way)


class _GoingOn(Suggester):
    """What stands faint behind what was typed: how the first of the list goes on."""

    def __init__(self, owner: Completing) -> None:
        super().__init__(use_cache=False, case_sensitive=True)
        self._owner = owner

    async def get_suggestion(self, value: str) -> str | None:
        return self._owner.going_on(value)
