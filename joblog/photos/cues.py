"""The entries that call for a photo: how many, and of what. Pure."""

from __future__ import annotations

import re
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import timedelta
from itertools import zip_longest

from joblog.model import BookEntry

WEIGHTS = {"photo": 1.0, "covered": 0.6}
"""Kinds of entries that call for a photo, and how much."""

IN_ONE_BREATH = timedelta(seconds=30)

POINTS_BACK = timedelta(hours=4)
"""The last one is the last one, however long nothing was said; but not of another day."""


def spoken_cues(entries: Sequence[BookEntry]) -> list[BookEntry]:
    """The entries, given in order, that call for a photo.

    "Covered the wire", and at once "photo of the wire", call for one together, by the second.
    """
    told = [entry for entry in entries if entry.standing != "dropped"]
    told = [entry for entry in told if entry.entry.kind != "correction"]
    return [
        entry
        for entry, after in zip_longest(told, told[1:])
        if entry.entry.kind in WEIGHTS and not _said_again(entry, after)
    ]


def _said_again(entry: BookEntry, after: BookEntry | None) -> bool:
    if after is None or (entry.entry.kind, after.entry.kind) != ("covered", "photo"):
        return False
    return after.at - entry.at <= IN_ONE_BREATH


@dataclass(frozen=True, slots=True)
class Cue:
    entry: BookEntry
    to: BookEntry
    """What it points to: itself, or the entry before it for "photo of that"."""
    count: int
    """Photos that were said."""
    has: int
    """Photos that a person gave it."""


def cue_of(entry: BookEntry, told: Sequence[BookEntry], tied: Collection[tuple[str, int]]) -> Cue:
    """What an entry calls for. `told` are all entries in order, `tied` what a person tied."""
    note = entry.entry.note or ""
    has = sum(id == entry.id for _, id in tied)
    return Cue(entry, _pointed(entry, note, told), photos_said(note), has)


_LAST = re.compile(r"(of )?(the last one|last one|that|that one|this|this one|it|the same)")


def _pointed(entry: BookEntry, note: str, told: Sequence[BookEntry]) -> BookEntry:
    """ "Picture of the last one" is of what was told just before it."""
    if entry.entry.kind != "photo" or not _LAST.fullmatch(note):
        return entry
    before = [
        other
        for other in told
        if (other.at, other.id) < (entry.at, entry.id)
        and entry.at - other.at <= POINTS_BACK
        and other.entry.kind != "photo"
    ]
    return before[-1] if before else entry


_COUNTS = {"couple": 2, "pair": 2, "few": 3, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6}
_SAID = re.compile(
    rf"\b({'|'.join(_COUNTS)}|[2-9])( of)?( more)? "
    r"(photos|photographs|pictures|pics|snaps|shots|snapshots)\b"
)


def photos_said(note: str) -> int:
    """How many photos a cue speaks of: "two photos of the north eave" is two; 1 unless said."""
    found = _SAID.search(note)
    if not found:
        return 1
    return _COUNTS.get(found[1]) or int(found[1])
