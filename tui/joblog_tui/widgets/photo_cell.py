"""One small picture among many, with two lines under it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from textual.app import ComposeResult
from textual.containers import Container, Vertical
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from joblog_tui.widgets.picture import drawing_widget

if TYPE_CHECKING:
    from PIL.Image import Image


class PhotoCell(Vertical, can_focus=False):
    DEFAULT_CSS = """
    PhotoCell {
        padding: 0 1 0 0;
        .frame { height: 1fr; overflow: hidden; }
        .drawing { width: auto; height: auto; }
        .instead { height: auto; color: $foreground-muted; }
        .line { height: 2; text-wrap: nowrap; text-overflow: ellipsis; }
        &.-chosen .line { background: $primary-muted; text-style: bold; }
    }
    """

    def __init__(self) -> None:
        super().__init__()
        self._drawn: tuple[Image | None, str] = (None, "")

    def compose(self) -> ComposeResult:
        with Container(classes="frame"):
            yield Static(classes="instead", markup=False)
            yield drawing_widget(plain_cells=self.app.is_headless)
        yield Static(classes="line", markup=False)

    def tell(self, lines: Content, chosen: bool) -> None:
        """The two lines under the picture; the chosen one is marked."""
        self.query_one(".line", Static).update(lines)
        self.set_class(chosen, "-chosen")

    def draw(self, image: Image | None, instead: str = "") -> None:
        """The picture, or what stands in its place."""
        if (image, instead) == self._drawn:
            return  # drawing is the dear part of moving the cursor
        self._drawn = (image, instead)
        self._drawing.image = image
        self._drawing.display = image is not None
        words = self.query_one(".instead", Static)
        words.update(Content(instead))
        words.display = image is None

    @property
    def _drawing(self) -> Any:
        return self.query_one(".drawing", Widget)
