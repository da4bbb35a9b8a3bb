"""What a backup is made of: states of the book, and what came of making one."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Literal

FORM = 1
"""The form that states are written in. One that is newer than this is refused in words."""


@dataclass(frozen=True, slots=True)
class Kept:
    """A file of the book, as a backup keeps it: its bytes, in order, lie in these objects."""

    name: str
    """Where it belongs, below the folder of the book, with "/" between."""
    sha256: str
    bytes: int
    pieces: tuple[str, ...]
    """SHA-256 of each object. A file of one piece is that object itself."""
    written: int = 0
    """When the file was last written, in nanoseconds, where that tells whether it changed."""
    parity: tuple[str, ...] = ()
    """Of the book's file: objects out of which one lost piece of each group can be had again."""
    piece: int = 0
    """Of the book's file: the bytes of each piece but the last."""


@dataclass(frozen=True, slots=True)
class State:
    """The book at a moment."""

    file: str
    """The name of its file in the backup, without a folder."""
    at: datetime
    """In UTC."""
    number: int
    """Counts up: a clock may go wrong."""
    book: str
    """Which book it is of (`identity`)."""
    joblog: str
    """The release that wrote it."""
    version: int
    """The book's own version (`schema.version`)."""
    database: Kept
    originals: Kept
    """The list of all originals, one a line as JSON: name, SHA-256, bytes, pieces."""
    beside: tuple[Kept, ...]
    """Settings files, and what was caught by the microphone and is not in the book yet."""
    counts: Mapping[str, int]
    """For a person: jobs, entries, recordings, photos."""
    mark: str
    """Another one after any change of the book (`memory.Mark.exact`)."""
    lacking: tuple[str, ...] = ()
    """What could not be backed up because it was damaged in the book, in words."""
    name: str = ""
    """By which the book knows it again (`descent`); "" where it could not note it."""
    after: tuple[str, ...] = ()
    """The names of the backups that the book went on from."""
    of: str = ""
    """Where the book lay, in words."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of a backup."""

    folder: Path
    """Where the backup lies."""
    state: State
    new: bool
    """Whether a state was written: the book changed since the last one, or that lacks something."""
    objects: int
    """How many objects were written, and their bytes; what was there already is not counted."""
    bytes: int
    looked_at: int
    """Bytes of older objects that were read again and are whole."""
    read_since: datetime | None
    """All objects were read, and were whole, at this moment or later; None until all were."""
    damaged: tuple[str, ...]
    """What is damaged in the backup or in the book and could not be put right, in words."""
    mended: int
    """Objects that were damaged on the medium and were written anew from the book."""
    same_disk: bool
    """Whether a first one lies on the disk of the book, and is lost with that."""
    others: tuple[str, ...] = ()
    """What is said of backups there that hold work of another copy of the book."""


@dataclass(frozen=True, slots=True)
class Restored:
    """What came of a restore."""

    folder: Path
    state: State
    damaged: tuple[str, ...]
    """What could not be had again whole, in words."""
    others: tuple[str, ...] = ()
    """What is said of backups there that hold work of another copy of the book."""
    already: bool = False
    """Whether the book that is there is exactly that one, so that nothing was made."""


Doing = Literal["looking round", "writing", "reading again", "looking over older", "restoring"]


@dataclass(frozen=True, slots=True)
class Far:
    """How far it is, in bytes."""

    doing: Doing
    done: int = 0
    whole: int = 0


Progress = Callable[[Far], None]


def nobody(far: Far) -> None:
    """Tells nobody."""
