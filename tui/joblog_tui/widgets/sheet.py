"""A sheet of text that can be longer than its place; it is turned by a key, never focused."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static


class Sheet(VerticalScroll, can_focus=False):
    DEFAULT_CSS = """
    Sheet { padding: 0 1; scrollbar-size-vertical: 1; }
    """

    def __init__(self) -> None:
        super().__init__()
        self._text = Content("")

    def compose(self) -> ComposeResult:
        yield Static(self._text, markup=False)

    def show(self, text: Content) -> None:
        self._text = text
        # A screen that is only being set up may have something to show already.
        for lines in self.query(Static):
            lines.update(text)
        self.scroll_home(animate=False)

    @property
    def longer(self) -> bool:
        """Whether there is more of it than its place shows."""
        return self.max_scroll_y > 0

    def watch_virtual_size(self) -> None:
        # The key that turns it is offered only where there is something to turn.
        self.screen.refresh_bindings()

    def turn(self) -> None:
        """One page on; from the end back to the top."""
        if self.scroll_offset.y >= self.max_scroll_y:
            self.scroll_home(animate=False)
        else:
            self.scroll_page_down(animate=False)
