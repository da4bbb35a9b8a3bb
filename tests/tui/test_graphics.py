"""What a terminal can draw is asked once, and its answer never becomes keys."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from textual_image.widget import HalfcellImage, SixelImage, TGPImage

from joblog_tui.widgets import picture
from joblog_tui.widgets.graphics import Graphics, understood, worth_asking
from joblog_tui.widgets.picture import drawing_widget

KITTY = "\x1b_Gi=31;OK\x1b\\\x1b[6;18;9t\x1b[?62;c"
"""As kitty's documentation of its graphics protocol has it: OK, then what it is."""
SIXEL = "\x1b[6;18;9t\x1b[?62;4;22c"
"""4 among the attributes is sixel graphics (VT340; xterm's control sequences, "Send Device
Attributes")."""
NEITHER = "\x1b[?1;2c"


@pytest.mark.parametrize(
    ("answers", "way"),
    [
        (KITTY, "kitty"),
        (SIXEL, "sixel"),
        (f"\x1b_Gi=31;OK\x1b\\{SIXEL}", "sixel"),
        (NEITHER, "cells"),
        ("\x1b[?64c", "cells"),
        ("\x1b_Gi=31;ENOTSUPPORTED\x1b\\\x1b[?62c", "cells"),
        ("", "cells"),
        ("a key typed meanwhile", "cells"),
    ],
)
def test_a_terminal_is_taken_at_its_word(answers: str, way: str) -> None:
    assert understood(answers).way == way


def test_a_terminal_tells_how_large_a_cell_is() -> None:
    assert understood(KITTY).cell == (9, 18)
    assert understood("\x1b[6;0;0t\x1b[?62c").cell is None


@pytest.mark.parametrize(
    "environment",
    [
        {"TERM": "tmux-256color", "TMUX": "socket,1,0"},
        {"TERM": "xterm-kitty", "TMUX": "socket,1,0"},
        {"TERM": "screen.xterm-256color"},
        {"TERM": "linux"},
        {"TERM": "dumb"},
        {},
    ],
)
def test_where_graphics_cannot_arrive_nothing_is_asked(environment: dict[str, str]) -> None:
    assert not worth_asking(environment)


def test_anywhere_else_it_is_asked() -> None:
    assert worth_asking({"TERM": "xterm-256color"}) and worth_asking({"TERM": "xterm-kitty"})


@pytest.mark.skipif(sys.platform == "win32", reason="there textual-image asks by itself")
@pytest.mark.parametrize(
    ("way", "drawn_by"),
    [("cells", HalfcellImage), ("kitty", TGPImage), ("sixel", SixelImage)],
)
def test_each_is_drawn_by_what_it_can(
    monkeypatch: pytest.MonkeyPatch, way: str, drawn_by: type
) -> None:
    monkeypatch.setattr(picture, "graphics", lambda: Graphics(way))  # type: ignore[arg-type]
    assert isinstance(drawing_widget(), drawn_by)
    assert isinstance(drawing_widget(plain_cells=True), HalfcellImage)


ASKS = """
import sys
from joblog_tui.widgets import graphics
from joblog_tui.widgets.picture import drawing_widget
graphics.NEAR = float(sys.argv[1])
drawing_widget()
from textual_image._terminal import get_cell_size
print(f"<{graphics.graphics().way} {get_cell_size().width}x{get_cell_size().height}>", flush=True)
"""
HANGS = 120.0
"""Seconds that a busy machine may need to answer."""


@pytest.mark.skipif(sys.platform == "win32", reason="Windows has no terminals of this kind")
@pytest.mark.parametrize(
    ("answer", "patience", "shown"),
    [
        (KITTY, HANGS, b"<kitty 9x18>"),
        (SIXEL, HANGS, b"<sixel 9x18>"),
        (NEITHER, HANGS, b"<cells 10x20>"),
        ("", 0.1, b"<cells 10x20>"),
    ],
)
def test_a_real_terminal_is_asked_once_and_understood(
    answer: str, patience: float, shown: bytes
) -> None:
    import pty

    ours, theirs = pty.openpty()
    here = Path(__file__).parents[2]
    environment = {
        name: value for name, value in os.environ.items() if name not in ("TMUX", "SSH_CONNECTION")
    }
    environment |= {"TERM": "xterm-256color", "PYTHONPATH": f"{here}{os.pathsep}{here / 'tui'}"}
    asking = subprocess.Popen(
        [sys.executable, "-c", ASKS, str(patience)],
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        env=environment,
    )
    os.close(theirs)
    said = b""
    while b">" not in said:
        before = said
        said += os.read(ours, 4096)
        if b"\x1b[c" in said and b"\x1b[c" not in before:
            os.write(ours, answer.encode())
    assert asking.wait(HANGS) == 0
    os.close(ours)
    assert shown in said and said.count(b"\x1b[c") == 1
