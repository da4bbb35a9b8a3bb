"""A book is its owner's alone: which others on this computer may read it, and closing it to them.

What joblog makes is closed from the first moment, whatever the umask; this is for books that came
about otherwise. On Windows files have no modes, and the rights of their folder hold.
"""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

OTHERS = 0o077
"""Whatever the group or anybody else may do with a file."""
OURS = (
    "book.sqlite*", "media", "listening", "days", "papers", "passing", "running.*.lock",
    "works.toml",
)  # fmt: skip
"""What a book's folder holds of the book's own; anything else there is left as its owner has it."""
TO_HAND_OVER = "papers"
"""What is in there is to be given away: the folder is closed, and its files stay as they are."""

closed: list[Path] = []
"""The books that were closed when they were brought up to date, for whoever tells it."""


def close_to_others(folder: Path) -> bool:
    """Takes from all others what they may do with the book in this folder; whether they could have
    read anything of it, and cannot any more.

    The folder itself too, unless it holds other things than the book. What the system refuses stays
    as it is, to be found by `open_to_others`.
    """
    if os.name == "nt":
        return False
    found = open_to_others(folder)
    if not _holds_other_things(folder):
        _close(folder)  # First: from then on nobody gets to what is below.
    for path in _all_of(folder):
        _close(path)
    return bool(found) and not open_to_others(folder)


def open_to_others(folder: Path) -> tuple[Path, ...]:
    """What of the book in this folder others on this computer may read, files and folders; nothing
    that lies in a folder which is closed to them."""
    if os.name == "nt" or not _is_open(folder):
        return ()
    return tuple(_reached(folder))


def _reached(folder: Path) -> Iterator[Path]:
    waiting = list(_own(folder))
    while waiting:
        path = waiting.pop()
        if not _is_open(path):
            continue
        yield path
        if path.is_dir() and path.name != TO_HAND_OVER:
            with suppress(OSError):
                waiting += (inside for inside in path.iterdir() if not inside.is_symlink())


def _all_of(folder: Path) -> Iterator[Path]:
    for own in _own(folder):
        yield own
        if own.name != TO_HAND_OVER:
            for at, folders, files in os.walk(own):
                inside = (Path(at, name) for name in (*folders, *files))
                yield from (path for path in inside if not path.is_symlink())


def _own(folder: Path) -> Iterator[Path]:
    for pattern in OURS:
        yield from folder.glob(pattern)


def _holds_other_things(folder: Path) -> bool:
    own = {path.name for path in _own(folder)}
    return any(path.name not in own and path.name[:1] != "." for path in folder.iterdir())


def _is_open(path: Path) -> bool:
    try:
        return bool(stat.S_IMODE(path.stat().st_mode) & OTHERS)
    except OSError:
        return False


def _close(path: Path) -> None:
    with suppress(OSError):
        mode = stat.S_IMODE(path.stat().st_mode)
        if mode & OTHERS:
            path.chmod(mode & ~OTHERS)
