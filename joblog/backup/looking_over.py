"""Old objects read again, some each time, so that a stick that rots is noticed while the book is
there to mend it from. Which part was read when is noted beside the book, not on the medium."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

from joblog.backup.assembling import GROUP, parity_of, recovered
from joblog.backup.medium import OBJECTS, Medium, Writing, missing
from joblog.backup.nouns import Far, Progress, State, nobody
from joblog.backup.said import counted
from joblog.backup.stated import listed
from joblog.book import Book
from joblog.book.beside import put
from joblog.book.making import FILE
from joblog.local import moment_written

NOTES = f"{FILE}.backups"
"""Beside the book; it may be lost, then all is read anew."""
SHARE = 30
"""After so many backups all of it was read again,"""
AT_MOST = 1 << 30
"""but no more bytes than this each time."""
AT_LEAST = 64 << 20
PARTS = tuple(f"{number:02x}" for number in range(256))
"""Objects are read by the first two digits of their SHA-256."""


@dataclass(frozen=True, slots=True)
class Looked:
    """What came of looking over."""

    bytes: int
    damaged: tuple[str, ...]
    since: datetime | None
    """All was read at that moment or later; None while some never was."""


def look_over(
    book: Book,
    medium: Medium,
    *,
    whole: bool = False,
    most: int | None = None,
    tell: Progress = nobody,
) -> Looked:
    """Reads the objects that were not read for longest. Those that are damaged are put aside."""
    notes = _Notes(book, medium.place)
    all_of_it = sum(held.bytes for held in medium.objects.values())
    share = all_of_it if whole else most or min(max(all_of_it // SHARE, AT_LEAST), AT_MOST)
    read, damaged = 0, []
    by_part: dict[str, list[str]] = {part: [] for part in PARTS}
    for sha256 in sorted(medium.objects):
        by_part[sha256[:2]].append(sha256)
    for part in sorted(PARTS, key=lambda part: notes.at.get(part, "")):
        # A part is gone on with where the last time ended in it.
        for sha256 in (one for one in by_part[part] if one > notes.up_to.get(part, "") or whole):
            if read >= share and not whole:
                break
            tell(Far("looking over older", read, share))
            read += medium.objects[sha256].bytes
            notes.up_to[part] = sha256
            if not medium.look_at(sha256):
                damaged.append(sha256)
        else:
            notes.at[part] = datetime.now(UTC).isoformat()
            notes.up_to.pop(part, None)
            continue
        break
    notes.write()
    return Looked(read, tuple(damaged), notes.since())


def gone(medium: Medium, states: Iterable[State]) -> Iterator[str]:
    """What states need and is not there any more: another program may have taken it away."""
    for state in states:
        yield from missing(medium, state.database)
        yield from missing(medium, state.originals)


def recover(medium: Medium, states: Iterable[State]) -> None:
    """Writes anew what older states of the book lost and can be had out of their parities."""
    with Writing(medium) as writing:
        for state in states:
            kept = state.database
            for number, piece in enumerate(kept.pieces):
                if not medium.has(piece) and (again := recovered(medium, kept, number)):
                    writing.put([again], piece)
            writing.settle()
            for number, sha256 in enumerate(kept.parity):
                group = [medium.read(one) for one in kept.pieces[GROUP * number :][:GROUP]]
                if not medium.has(sha256) and all(group):
                    writing.put(parity_of(filter(None, group), kept.piece), sha256)


def told(medium: Medium, lost: Sequence[str], states: Iterable[State]) -> Iterator[str]:
    """What is said of objects that are lost: which originals, and which states lack something."""
    if not lost:
        return
    gone = set(lost)
    named: set[str] = set()
    for state in states:
        hurt = len(
            gone.intersection(
                (*state.database.pieces, *state.database.parity, *state.originals.pieces)
            )
        )
        if hurt:
            at = moment_written(state.at.astimezone(), year=True)
            yield f"the backup of {at} is damaged: {counted(hurt, 'pieces')} of it"
        for one in listed(medium, state):
            if gone.intersection(one.pieces) and one.name not in named:
                named.add(one.name)
                yield f"{OBJECTS}/{one.sha256[:2]}/{one.sha256}: this original is damaged there"


class _Notes:
    """When each part was read to its end, and how far one was begun."""

    def __init__(self, book: Book, place: Path) -> None:
        self._file = book.folder / NOTES
        self._all: dict[str, dict[str, dict[str, str]]] = {}
        with suppress(OSError, ValueError):
            self._all = json.loads(self._file.read_text("utf-8"))
        if not isinstance(self._all, dict):
            self._all = {}
        mine = self._all.setdefault(str(place), {})
        self.at = mine.setdefault("at", {})
        self.up_to = mine.setdefault("up to", {})

    def since(self) -> datetime | None:
        if any(part not in self.at for part in PARTS):
            return None
        return datetime.fromisoformat(min(self.at.values()))

    def write(self) -> None:
        with suppress(OSError):
            put(self._file, json.dumps(self._all).encode())
