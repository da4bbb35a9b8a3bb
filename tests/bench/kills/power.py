"""What a disk may hold after the plug was pulled."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Call:
    """A call that changed the disk, as the shim wrote it down."""

    what: str
    path: str
    other: str
    at: int
    bytes: bytes


def calls_of(log: Path) -> Iterator[Call]:
    """The calls in their order."""
    text = log.read_bytes()
    at = 0
    while at < len(text):
        end = text.index(b"\n", at)
        what, path, other, position, length = text[at:end].decode().split("\t")
        at = end + 1 + int(length)
        yield Call(what, path, other, int(position), text[end + 1 : at])
