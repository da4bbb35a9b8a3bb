"""Older states dropped where a person says so, and the objects that no state needs any more."""

from __future__ import annotations

import re
import time
from collections.abc import Iterable
from pathlib import Path

from joblog.backup import descent
from joblog.backup.assembling import PIECE
from joblog.backup.medium import STATES, Medium, settle, state_files
from joblog.backup.nouns import State
from joblog.backup.stated import MOST, put_aside, states_in

YOUNG = 7 * 24 * 3600
"""Seconds. An object that young may belong to a state that is still on its way here, where another
program synchronises the folder."""


def prune(medium: Medium, newest: State, keep: int, *, trusted: bool) -> tuple[str, ...]:
    """Drops all states but the newest so many, and the last of each month; what is to be said.

    Nothing is dropped where the newest is not `trusted` to hold everything, nor where a state or a
    list cannot be read: who knows what it needs. While damaged states lie there, put aside, what
    can still be read in them stays, and so does all that no dropped state needed either.
    """
    if not trusted:
        return ("older backups were not dropped, because not all could be backed up",)
    states, bad = states_in(medium.place)
    mine = [one for one in states if one.book == newest.book]
    stay = to_stay(mine, keep)
    dropped = {one.file for one in mine} - {one.file for one in stay}
    # What the others need is known before any of them goes.
    needed = None if bad else needed_of(medium, [one for one in states if one.file not in dropped])
    if needed is None:
        return ("older backups were not dropped: a part of the backup cannot be read",)
    free = set(medium.objects) - needed
    if aside := put_aside(medium.place):
        free &= needed_of(medium, [one for one in mine if one.file in dropped]) or set()
        free -= _still_named(medium, aside)
    for file in state_files(medium.place):
        if file.name in dropped:
            file.unlink()
    settle(medium.place / STATES)
    old = time.time() - YOUNG
    for sha256 in free:
        if medium.objects[sha256].path.stat().st_mtime < old:
            medium.delete(sha256)
    return ()


def to_stay(states: Iterable[State], keep: int) -> tuple[State, ...]:
    """The newest so many, the last of each month before, and the last of each copy of the book;
    `states` are the newest first."""
    every = tuple(states)
    months: dict[str, State] = {}
    for one in every:
        months.setdefault(f"{one.at:%Y-%m}", one)
    stay = {one.file for one in (*every[: max(1, keep)], *months.values(), *descent.parted(every))}
    return tuple(one for one in every if one.file in stay)


def needed_of(medium: Medium, states: Iterable[State]) -> set[str] | None:
    """The objects that any of these states needs; None where a list of them cannot be read."""
    needed: set[str] = set()
    # Lists of many states have most of their pieces in common, and each is read once.
    told: dict[str, bytes] = {}
    for state in states:
        for kept in (state.database, state.originals, *state.beside):
            needed.update((*kept.pieces, *kept.parity))
        before = b""
        for piece in state.originals.pieces:
            if piece not in told:
                content = medium.read(piece)
                if content is None:
                    return None
                needed.update(_named(content))
                told[piece] = content[:64] + content[-64:]
            needed.update(_named(before + told[piece][:64]))  # What lies on the border of two.
            before = told[piece][-64:]
    return needed


def _still_named(medium: Medium, damaged: Iterable[Path]) -> set[str]:
    """The objects that are named in what is left of damaged states and of their lists."""
    named: set[str] = set()
    for file in damaged:
        text = file.read_bytes() if file.stat().st_size <= MOST else b""
        named.update(_named(text))
        lists = set(_named(text.partition(b'"originals"')[2] or text)) & set(medium.objects)
        for one in lists:
            if medium.objects[one].bytes <= PIECE:
                named.update(_named(medium.read(one) or b""))
    return named


def _named(text: bytes) -> Iterable[str]:
    return map(bytes.decode, re.findall(rb"(?=([0-9a-f]{64}))", text))
