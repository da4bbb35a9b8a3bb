"""A list of texts with a cursor, which is a sign before its line; "enter" says what it does."""

from __future__ import annotations

from collections.abc import Iterable

from rich.segment import Segment
from textual.binding import Binding
from textual.strip import Strip
from textual.widgets import OptionList
from textual.widgets.option_list import Option

CURSOR = "▸"
"""Stands before the line under the cursor, in the blank that every line begins with."""


class Lines(OptionList):
    """Each option's id is whatever its owner knows the line by. `enter` is shown as a key."""

    DEFAULT_CSS = """
    Lines {
        height: 1fr;
        border: none;
        padding: 0;
        text-wrap: nowrap;
        text-overflow: ellipsis;
        scrollbar-size-vertical: 1;
        background: $background;
        &:focus { border: none; background-tint: $foreground 0%; }
        & > .option-list--option-highlighted,
        &:focus > .option-list--option-highlighted {
            background: $primary-muted; color: $foreground; text-style: bold;
        }
        & > .option-list--option { padding: 0 1; }
        & > .option-list--option-disabled { color: $foreground-muted; }
    }
    """

    def __init__(self, enter: str, *, id: str | None = None) -> None:
        super().__init__(id=id, markup=False)
        self._bindings.key_to_bindings["enter"] = [
            Binding("enter", "select", enter, show=bool(enter), key_display="enter")
        ]

    def fill(self, options: Iterable[Option]) -> None:
        """Puts these lines in the place of those before; the cursor stays where it was."""
        before = self.highlighted
        self.clear_options()
        self.add_options(options)
        if self.option_count:
            self.highlighted = min(before or 0, self.option_count - 1)

    def render_line(self, y: int) -> Strip:
        strip = super().render_line(y)
        lines, at = self._lines, self.scroll_offset.y + y
        if at >= len(lines) or lines[at] != (self.highlighted, 0) or not strip.cell_length:
            return strip
        return Strip.join([Strip([Segment(CURSOR, next(iter(strip)).style)], 1), strip.crop(1)])

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool:
        # Out of sight, or not laid out since it was filled, it has no page to go by.
        paging = action in ("page_up", "page_down")
        laid_out = self.scrollable_content_region.height > 0 and bool(self._index_to_line)
        return not paging or laid_out

    @property
    def chosen(self) -> str | None:
        """Id of the line under the cursor."""
        if self.highlighted is None:
            return None
        return self.get_option_at_index(self.highlighted).id

    def choose(self, id: str) -> None:
        """Puts the cursor on a line; one that is not there changes nothing."""
        for place, option in enumerate(self.options):
            if option.id == id:
                self.highlighted = place
                self.scroll_to_highlight()
