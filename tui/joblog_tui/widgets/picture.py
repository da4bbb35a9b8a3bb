"""A photo drawn in the terminal, decoded away from the keyboard so that keys stay quick."""

from __future__ import annotations

import sys
from contextlib import nullcontext
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

from textual import work
from textual.app import ComposeResult
from textual.containers import Container, Vertical
from textual.content import Content
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Static

from joblog.form import plain
from joblog_tui.widgets.graphics import graphics, nothing_asked

if TYPE_CHECKING:
    from PIL import Image


class Picture(Vertical):
    DEFAULT_CSS = """
    Picture {
        #frame { height: 1fr; align: center top; overflow: hidden; }
        .drawing { width: auto; height: auto; }
        #caption { width: 100%; height: auto; color: $foreground-muted; text-align: center; }
    }
    """

    class Drawn(Message):
        """A photo is ready, or it could not be drawn."""

        def __init__(self, path: Path, image: Image.Image | None, why: str) -> None:
            super().__init__()
            self.path = path
            self.image = image
            self.why = why

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._path: Path | None = None
        self._caption = Content("")

    def compose(self) -> ComposeResult:
        yield Container(id="frame")
        yield Static(id="caption", markup=False)

    def show(self, path: Path | None, caption: Content | str = "") -> None:
        """Draws a photo under its caption; None clears both."""
        self._caption = Content(caption) if isinstance(caption, str) else caption
        if path == self._path:
            return
        self._path = path
        for drawing in self.query(".drawing"):
            _draw(drawing, None)
        self._say("…" if path else "")
        if path is not None:
            # Ten by twenty pixels a cell: finer than half-blocks need, enough for real graphics.
            self._decode(path, (max(self.size.width, 28) * 10, max(self.size.height, 11) * 20))

    @work(thread=True, exclusive=True)
    def _decode(self, path: Path, size: tuple[int, int]) -> None:
        try:
            self.post_message(self.Drawn(path, _decoded(path, size), ""))
        except Exception as trouble:
            # Whatever is wrong with one picture must not end the evening's review.
            self.post_message(self.Drawn(path, None, str(trouble)))

    def on_picture_drawn(self, drawn: Drawn) -> None:
        drawn.stop()
        if drawn.path != self._path:
            return
        if drawn.image is not None and not self.query(".drawing"):
            # Only now: what draws takes a tenth of a second to load, and many jobs have no photos.
            drawing = drawing_widget(plain_cells=self.app.is_headless)
            self.query_one("#frame").mount(drawing)
        for drawing in self.query(".drawing"):
            _draw(drawing, drawn.image)
        if drawn.image is None:
            self._say(f"{plain(drawn.why[:1].upper() + drawn.why[1:])}.")
        else:
            self._say("")

    def _say(self, line: str) -> None:
        shown = Content("\n").join(part for part in (Content(line), self._caption) if part)
        self.query_one("#caption", Static).update(shown)


def _draw(drawing: Any, image: Image.Image | None) -> None:
    drawing.image = image


def ask_terminal() -> None:
    """Finds out how pictures can be drawn. Must be called before the app takes the keyboard, which
    the terminal's answer is read from."""
    graphics()
    if sys.platform == "win32":
        drawing_widget()  # there textual-image asks by itself


def drawing_widget(plain_cells: bool = False) -> Widget:
    """The widget that draws: the terminal's own graphics where it has them, else half-blocks."""
    found = graphics()
    # On Windows textual-image asks by itself.
    with nothing_asked(found) if sys.platform != "win32" else nullcontext():
        from textual_image import widget
    best = {
        "cells": widget.HalfcellImage,
        "kitty": widget.TGPImage,
        "sixel": widget.SixelImage,
    }[found.way]
    if sys.platform == "win32" and widget.Image is widget.SixelImage:
        best = widget.SixelImage
    drawing: Widget = (widget.HalfcellImage if plain_cells else best)(classes="drawing")
    return drawing


@lru_cache(maxsize=16)
def _decoded(path: Path, size: tuple[int, int]) -> Image.Image:
    from joblog.service.pictures import small

    return small(path, size)
