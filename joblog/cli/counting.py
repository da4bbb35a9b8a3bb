"""How far taking in is: one line that rewrites itself, or plain lines now and then."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from math import ceil
from typing import TYPE_CHECKING

import click

from joblog.form import plain

if TYPE_CHECKING:
    from joblog.service.taking_in import Far, Progress


@contextmanager
def counting_along(shown: bool) -> Iterator[Progress | None]:
    """Tells how far it is, on standard error; of nothing where that is not wanted."""
    if not shown:
        yield None
    elif sys.stderr.isatty():
        yield from _on_one_line()
    else:
        yield Plainly(lambda line: click.echo(line, err=True))


def _on_one_line() -> Iterator[Progress]:
    from rich.cells import set_cell_size

    def write(line: str) -> None:
        # Asked anew: the window may have become narrower.
        room = shutil.get_terminal_size().columns - 1
        click.echo(f"\r{set_cell_size(line, room)}", nl=False, err=True)

    write("opening the book")  # What opens it has to be loaded first.
    try:
        yield lambda far: write(" ".join(filter(None, (told(far), plain(far.name)))))
    finally:
        write("")
        click.echo("\r", nl=False, err=True)


class Plainly:
    """A line for every step, and within the long ones for every tenth of the work."""

    def __init__(self, write: Callable[[str], None]) -> None:
        self._write, self._step, self._tenth = write, "", 0

    def __call__(self, far: Far) -> None:
        whole = far.to_hear or far.files
        tenth = int(10 * (far.heard if far.to_hear else far.done) / whole) if whole else 0
        if far.doing != self._step or (far.doing in _LONG and tenth > self._tenth):
            self._step, self._tenth = far.doing, tenth
            self._write(told(far))


_LONG = ("hearing", "photos")


def told(far: Far) -> str:
    """What is being done, how far it is, and how long it still takes, in a few words."""
    files = f"{far.done} of {far.files} files"
    left = f", about {how_long(far.left)} left" if far.left is not None else ""
    match far.doing:
        case "looking round":
            return "looking for recordings and photos"
        case "copying":
            return f"copying and comparing: {far.copied} of {far.files} files"
        case "getting ready":
            many = _many(far.recordings, "new recording", "new recordings")
            there = _many(far.already, "file is", "files are")
            before = f", {there} in the book already" if far.already else ""
            return f"getting ready to listen: {many}, {clock(far.to_hear)} of sound{before}"
        case "hearing":
            return f"listening: {clock(far.heard)} of {clock(far.to_hear)}, {files}{left}"
        case "photos":
            return f"looking at photos: {files}{left}"
        case "tying":
            return "tying photos to what was said"


def how_long(seconds: float) -> str:
    """A guess, no more exact than it is: "10 s", "3 min", "1 h 20 min"."""
    if seconds < 55:
        return f"{max(10, 10 * ceil(seconds / 10))} s"
    minutes = max(1, round(seconds / 60))
    if minutes < 60:
        return f"{minutes} min"
    hours, minutes = divmod(10 * ceil(minutes / 10), 60)
    return f"{hours} h {minutes} min" if minutes else f"{hours} h"


def clock(seconds: float) -> str:
    """A length of sound: "0:48", "5:20", "8:00:00"."""
    minutes, rest = divmod(round(seconds), 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours}:{minutes:02}:{rest:02}" if hours else f"{minutes}:{rest:02}"


def _many(count: int, one: str, several: str) -> str:
    return f"1 {one}" if count == 1 else f"{count} {several}"
