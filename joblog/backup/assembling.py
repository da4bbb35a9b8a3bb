"""A file of the book put together again from its objects, each held against its SHA-256."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Sequence
from pathlib import Path
from typing import IO

from joblog.backup.medium import Medium, blocks
from joblog.backup.nouns import Kept
from joblog.book.media import for_its_owner

PIECE = 64 << 10
"""Bytes of the book's file that make an object: sixteen pages. A day changes pages here and there;
smaller pieces would share more, and a stick gives at least as much room to each file."""


def assemble(medium: Medium, kept: Kept, file: Path, length: int | None = None) -> Sequence[int]:
    """Writes the file; the places of the pieces that could not be had whole, or cannot be read.

    In a database such a hole is filled with zeros, `length` a piece, so that the others keep their
    places; without `length` it is not. Raises OSError where `file` cannot be written.
    """
    holes = []
    file.unlink(missing_ok=True)
    with open(file, "xb", opener=for_its_owner) as writing:
        for number, piece in enumerate(kept.pieces):
            begin = writing.tell()
            if not _copied(medium, piece, writing):
                holes.append(number)
                writing.seek(begin)
                if length is not None:
                    writing.write(bytes(min(length, kept.bytes - begin)))
                writing.truncate()
        writing.flush()
        os.fsync(writing.fileno())
    return holes


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
