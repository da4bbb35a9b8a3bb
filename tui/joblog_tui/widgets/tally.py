"""The head of a screen: what it is about, and how many doubts are left, large."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.reactive import reactive
from textual.widgets import Digits, Static


class Tally(Horizontal):
    DEFAULT_CSS = """
    Tally {
        height: 3;
        background: $panel;
        padding: 0 1;
        #about { width: 1fr; height: 3; text-wrap: nowrap; text-overflow: ellipsis; }
        #count { width: auto; text-style: bold; color: $warning; margin: 0 1 0 0; }
        #meaning { width: auto; height: 3; content-align: left middle; }
    }
    Tally.-done #count { display: none; }
    Tally.-done #meaning { color: $success; text-style: bold; }
    """

    about: reactive[Content] = reactive(Content(""), init=False)
    left: reactive[int] = reactive(0, init=False)
    """Doubts that wait where this screen looks."""
    beyond: reactive[int] = reactive(0, init=False)
    """Doubts that wait elsewhere in the job."""

    def compose(self) -> ComposeResult:
        yield Static(id="about", markup=False)
        yield Digits(id="count")
        yield Static(id="meaning", markup=False)

    def watch_about(self, about: Content) -> None:
        self.query_one("#about", Static).update(about)

    def watch_left(self) -> None:
        self._count()

    def watch_beyond(self) -> None:
        self._count()

    def on_mount(self) -> None:
        self._count()

    def _count(self) -> None:
        self.set_class(not self.left, "-done")
        self.query_one("#count", Digits).update(str(self.left))
        self.query_one("#meaning", Static).update(self._meaning())

    def _meaning(self) -> str:
        if self.left:
            more = f"\non this day\n{self.beyond} on other days" if self.beyond else ""
            return f"to decide{more}"
        if self.beyond:
            return f"✓ nothing left on this day\n  {self.beyond} on other days: press n"
        return "✓ nothing left to decide\n  s squares up, q is done"
