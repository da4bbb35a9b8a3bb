"""The keys that work on this screen, always in sight, on as many lines as they need."""

from __future__ import annotations

from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget


class KeyBar(Widget):
    DEFAULT_CSS = """
    KeyBar { dock: bottom; height: auto; background: $panel; padding: 0 1; }
    """

    def __init__(self) -> None:
        super().__init__()
        self._shown: list[Content] = []

    def on_mount(self) -> None:
        self.screen.bindings_updated_signal.subscribe(self, self._changed)

    def _changed(self, _screen: object) -> None:
        self.refresh(layout=True)

    def render(self) -> Content:
        return Content("\n").join(self._lines(self.size.width or 78))

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        return len(self._lines(width))

    def _lines(self, width: int) -> list[Content]:
        lines: list[Content] = []
        # Under another screen the keys are asked of that one, which may not be there yet.
        if self.screen is self.app.screen:
            self._shown = self._keys()
        for key in self._shown:
            if lines and lines[-1].cell_length + 2 + key.cell_length <= width:
                lines[-1] = Content.assemble(lines[-1], "  ", key)
            else:
                lines.append(key)
        return lines

    def _keys(self) -> list[Content]:
        shown: dict[str, Content] = {}
        for active in self.screen.active_bindings.values():
            binding = active.binding
            if not binding.show:
                continue
            # Several keys for one thing take one place; the first of them is named.
            key = self.app.get_key_display(binding)
            if self._is_typed(binding.key, key):
                continue
            line = Content.assemble((key, "bold $accent"), " ", binding.description)
            shown.setdefault(binding.action, line)
        return list(shown.values())

    def _is_typed(self, key: str, shown: str) -> bool:
        """Whether a key only writes its letter where the cursor is; Textual itself does not know
        the letters of all names of keys."""
        focused = self.screen.focused
        letter = shown if len(shown) == 1 else None
        return focused is not None and focused.check_consume_key(key, letter)
