"""A file of the book put together again from its objects, each held against its SHA-256."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterable, Iterator, Sequence
from itertools import islice
from pathlib import Path
from typing import IO

from joblog.backup.medium import Medium, blocks
from joblog.backup.nouns import Kept
from joblog.book.media import for_its_owner

PIECE = 64 << 10
"""Bytes of the book's file that make an object: sixteen pages. A day changes pages here and there;
smaller pieces would share more, and a stick gives at least as much room to each file."""


GROUP = 16
"""So many pieces of the book's file have one more with them, their parity: of a stick that rots
here and there, nothing of the book is lost."""


def assemble(medium: Medium, kept: Kept, file: Path) -> Sequence[int]:
    """Writes the file; the places of the pieces that could not be had whole.

    A piece that is lost is had from its group where that has its parity, and else is filled with
    zeros, so that the others keep their places. Raises OSError where `file` cannot be written.
    """
    holes = []
    file.unlink(missing_ok=True)
    with open(file, "xb", opener=for_its_owner) as writing:
        for number, piece in enumerate(kept.pieces):
            begin = writing.tell()
            if not _copied(medium, piece, writing):
                writing.seek(begin)
                writing.truncate()
                if (again := recovered(medium, kept, number)) is None:
                    holes.append(number)
                writing.write(again or bytes(_length(kept, number) if kept.parity else 0))
        writing.flush()
        os.fsync(writing.fileno())
    return holes


def recovered(medium: Medium, kept: Kept, number: int) -> bytes | None:
    """A lost piece, out of all others of its group and their parity; None where that is not to be
    had."""
    if not kept.parity:
        return None
    first = number - number % GROUP
    others = [one for one in range(first, min(first + GROUP, len(kept.pieces))) if one != number]
    known = [medium.read(kept.pieces[one]) for one in others]
    known.append(medium.read(kept.parity[number // GROUP]))
    if any(one is None for one in known):
        return None
    [piece] = parity_of(filter(None, known), len(known))
    piece = piece[: _length(kept, number)]
    return piece if hashlib.sha256(piece).hexdigest() == kept.pieces[number] else None


def parity_of(pieces: Iterable[bytes], group: int = GROUP) -> Iterator[bytes]:
    """Of each so many pieces what they are all taken together by "exclusive or"; each is as long as
    a whole piece."""
    left = iter(pieces)
    while some := tuple(islice(left, group)):
        together = 0
        for piece in some:
            together ^= int.from_bytes(piece, "little")
        yield together.to_bytes(PIECE, "little")


def _length(kept: Kept, number: int) -> int:
    return min(PIECE, kept.bytes - number * PIECE)


def _copied(medium: Medium, piece: str, writing: IO[bytes]) -> bool:
    """Whether the object was whole; what was written of one that is not is to be taken back."""
    held = medium.objects.get(piece)
    if held is None:
        return False
    digest, reading = hashlib.sha256(), blocks(held.path)
    while True:
        try:
            block = next(reading, b"")
        except OSError:
            return False
        if not block:
            return digest.hexdigest() == piece
        digest.update(block)
        writing.write(block)
