"""A job that is here held against the same job in a pack: which of them went on since."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from joblog.local import day_written
from joblog.packing.columns import TABLES
from joblog.packing.load import Loaded
from joblog.packing.state import Kept, Key, State, digest

Later = Literal["same", "pack", "here", "both"]


@dataclass(frozen=True, slots=True)
class Been:
    """What this book knows of the packs of a job that were taken in."""

    marks: frozenset[str] = frozenset()
    """Of the packs, and of what then stood here."""
    stands: str | None = None
    """What stood here after the last one."""
    packed: tuple[tuple[str, str], ...] = ()
    """By which book each was packed, and when."""


def later(here: State, pack: Loaded, of_pack: State, been: Been) -> Later:
    """Which of the two went on from where the other is.

    What was only ever added tells it. What may change both ways, such as whether a step is undone,
    is told by what either was when the two last met.
    """
    mine, theirs = digest(here), digest(of_pack)
    if mine == theirs:
        return "same"
    lost, fresh = only_in(here, of_pack), only_in(of_pack, here)
    moved_here = _changed_otherwise(mine, been.stands, pack.been)
    moved_there = _changed_otherwise(pack.head.digest, pack.last, been.marks)
    if lost and fresh:
        return "both"
    if lost:
        return "both" if moved_there else "here"
    if fresh:
        return "both" if moved_here else "pack"
    older = pack.head.digest in been.marks or any(
        by == pack.head.book and pack.head.packed_at <= datetime.fromisoformat(at)
        for by, at in been.packed
    )
    if older or (been.stands is None and mine not in pack.been):
        return "here"  # Of its own book a pack can only tell what was.
    if moved_here:
        return "both" if moved_there or pack.last is None else "here"
    return "pack"


def _changed_otherwise(now: str, last: str | None, met: Collection[str]) -> bool:
    """Whether it is other than when the two last met; False where nobody knows of that."""
    return last is not None and now != last and now not in met


def only_in(one: State, other: State) -> list[tuple[Key, Kept]]:
    """The lasting rows of one that the other does not have, or has otherwise."""
    return [
        (key, kept)
        for key, kept in one.items()
        if TABLES[key[0]].lasting and (key not in other or other[key].fixed != kept.fixed)
    ]


def told(rows: Sequence[tuple[Key, Kept]]) -> str:
    """What these rows are, in words: "2 decisions, the last on Oct 5: dropped 3 sheets"."""
    counted = Counter(table for (table, _), _ in rows)
    parts = [
        f"{counted[table]} {one if counted[table] == 1 else many}"
        for table, (one, many) in _WORDS.items()
        if counted[table]
    ]
    steps = [kept.row for (table, _), kept in rows if table == "step"]
    last = max(steps, key=lambda row: (row["at"], row["id"]), default=None)
    if last is not None:
        day = day_written(datetime.fromisoformat(last["at"]).astimezone().date())
        parts.append(f"the last decided on {day} ({last['what'][:60]})")
    return ", ".join(parts) or "something that was undone, set or signed"


_WORDS = {
    "step": ("decision", "decisions"),
    "entry": ("entry", "entries"),
    "recording": ("recording", "recordings"),
    "photo": ("photo", "photos"),
    "closing": ("closing", "closings"),
    "bid": ("bid", "bids"),
    "house": ("house", "houses"),
}
