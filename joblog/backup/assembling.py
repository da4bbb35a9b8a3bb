"""A file of the book put together again from its objects, each held against its SHA-256."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Iterator, Sequence
from itertools import islice
from pathlib import Path
from typing import IO

from joblog.backup.medium import Medium, blocks
from joblog.backup.nouns import Kept
from joblog.book.media import for_its_owner

PIECE = 16 << 10
"""Bytes of the book's file that make an object: four pages. A day changes pages here and there, in
a year's book about four hundred; each smaller piece shares more, and each is a file."""


GROUP = 16
"""So many pieces of the book's file have one more with them, their parity: of a stick that rots
here and there, nothing of the book is lost."""


def assemble(medium: Medium, kept: Kept, file: Path) -> Sequence[int]:
    """Writes the file, not yet put on the disk; the places of the pieces that could not be had
    whole.

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
    return holes


def recovered(medium: Medium, kept: Kept, number: int) -> bytes | None:
    """A lost piece, out of all others of its group and their parity; None where that is not to be
    had."""
    if number // GROUP >= len(kept.parity):
        return None
    lost, first = kept.pieces[number], number - number % GROUP
    others = {*kept.pieces[first : first + GROUP]} - {lost}
    known = [medium.read(one) for one in (*others, kept.parity[number // GROUP])]
    if any(one is None or len(one) > kept.piece for one in known):
        return None
    piece = _together(filter(None, known), kept.piece)[: _length(kept, number)]
    return piece if hashlib.sha256(piece).hexdigest() == lost else None


def parity_of(pieces: Iterable[bytes], length: int) -> Iterator[bytes]:
    """Of each group what its pieces are taken together by "exclusive or", alike ones once; as long
    as a whole piece, `length`."""
    left = iter(pieces)
    while some := {*islice(left, GROUP)}:
        yield _together(some, length)


def _together(pieces: Iterable[bytes], length: int) -> bytes:
    # From all ones on: else the parity of a single piece were that piece, kept but once.
    together = (1 << 8 * length) - 1
    for piece in pieces:
        together ^= int.from_bytes(piece, "little")
    return together.to_bytes(length, "little")


def _length(kept: Kept, number: int) -> int:
    return max(0, min(kept.piece, kept.bytes - number * kept.piece))


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
