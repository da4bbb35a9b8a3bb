"""How this terminal can draw pictures. It is asked once, before the app takes the keyboard."""

from __future__ import annotations

import io
import os
import re
import sys
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from functools import lru_cache
from typing import Literal, NamedTuple

Way = Literal["kitty", "sixel", "cells"]


class Graphics(NamedTuple):
    way: Way
    """The terminal's own graphics, or half-blocks, two pixels a cell."""
    cell: tuple[int, int] | None = None
    """Width and height of a cell in pixels, where the terminal says so."""


QUESTIONS = "\x1b_Gi=31,s=1,v=1,a=q,t=d,f=24;AAAA\x1b\\\x1b[16t\x1b[c"
"""Kitty's graphics; the size of a cell; what it is. Every terminal answers the last one, and in
order: whatever it does not know of the others it leaves out."""
KITTY = re.compile(r"\x1b_Gi=31;OK")
CELL = re.compile(r"\x1b\[6;(\d+);(\d+)t")
ATTRIBUTES = re.compile(r"\x1b\[\?([\d;]*)c")
SIXEL = "4"
"""Among the attributes: sixel graphics."""
NEAR, FAR = 0.4, 2.0
"""Seconds that an answer is waited for, from this computer and over ssh. One that came after the
app took the keyboard would be taken for keys, and its digits for decisions."""
NO_GRAPHICS = ("screen", "tmux", "linux", "dumb")
"""Terminals that let no graphics through, or print a question that they do not know."""


@lru_cache(maxsize=1)
def graphics() -> Graphics:
    """What this terminal can draw. One that answers nothing gets half-blocks."""
    if not _is_terminal():
        return Graphics("cells")
    answers = ""
    if worth_asking(os.environ):
        answers = _answers(QUESTIONS, FAR if "SSH_CONNECTION" in os.environ else NEAR)
    found = understood(answers)
    return found._replace(cell=found.cell or _by_system())


def worth_asking(environment: Mapping[str, str]) -> bool:
    """Whether graphics could arrive at all: inside tmux and screen they do not."""
    kind = environment.get("TERM", "")
    return "TMUX" not in environment and kind != "" and not kind.startswith(NO_GRAPHICS)


def understood(answers: str) -> Graphics:
    """What a terminal can draw that answered so.

    Sixel comes first: terminals that know both draw kitty's placeholders wrong, except for kitty,
    which has no sixel.
    """
    size = CELL.search(answers)
    cell = (int(size[2]), int(size[1])) if size and int(size[1]) and int(size[2]) else None
    attributes = ATTRIBUTES.search(answers)
    if attributes and SIXEL in attributes[1].split(";")[1:]:
        return Graphics("sixel", cell)
    return Graphics("kitty" if KITTY.search(answers) else "cells", cell)


@contextmanager
def nothing_asked(found: Graphics) -> Iterator[None]:
    """While it holds, textual-image can be imported without asking the terminal by itself."""
    terminal = sys.__stdout__
    names = ("TEXTUAL_CELL_WIDTH", "TEXTUAL_CELL_HEIGHT")
    before = {name: os.environ.get(name) for name in names}
    if found.cell:
        os.environ.update(zip(names, map(str, found.cell), strict=True))
    sys.__stdout__ = io.StringIO()  # type: ignore[misc, assignment]
    try:
        yield
    finally:
        sys.__stdout__ = terminal  # type: ignore[misc]
        for name, value in before.items():
            if value is None:
                os.environ.pop(name, None)


def _is_terminal() -> bool:
    streams = (sys.__stdin__, sys.__stdout__)
    return all(one is not None and not one.closed and one.isatty() for one in streams)


def _by_system() -> tuple[int, int] | None:
    """The size of a cell as the operating system knows it."""
    if sys.platform == "win32" or sys.__stdout__ is None:
        return None
    import fcntl
    import struct
    import termios

    try:
        told = fcntl.ioctl(sys.__stdout__, termios.TIOCGWINSZ, bytes(8))
    except OSError:
        return None
    rows, columns, width, height = struct.unpack("4H", told)
    return (width // columns, height // rows) if rows and columns and width and height else None


def _answers(questions: str, patience: float) -> str:
    """What the terminal says until it says what it is, or until patience is at an end."""
    if sys.platform == "win32" or sys.__stdout__ is None or sys.__stdin__ is None:
        return ""
    import termios
    import tty
    from select import select

    keyboard = sys.__stdin__.fileno()
    before = termios.tcgetattr(keyboard)
    said, end = "", time.monotonic() + patience
    try:
        tty.setcbreak(keyboard, termios.TCSANOW)
        sys.__stdout__.write(questions)
        sys.__stdout__.flush()
        while not ATTRIBUTES.search(said):
            left = end - time.monotonic()
            if left <= 0 or not select([keyboard], [], [], left)[0]:
                break
            said += os.read(keyboard, 1024).decode(errors="replace")
    finally:
        termios.tcsetattr(keyboard, termios.TCSANOW, before)
    return said
