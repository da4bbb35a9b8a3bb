"""What listening keeps: utterances, and what is decided while they are read back."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from hashlib import sha256
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING
from zoneinfo import ZoneInfo

from joblog.book import by_ear, listened
from joblog.book.by_ear import Decision, Drop, KeepBoth, LetStand, Replace, Settle
from joblog.book.listened import LeftOver
from joblog.book.spool import SAID, Spool, folder_of
from joblog.model import BookEntry, Piece, Reading, Utterance
from joblog.service.desk import Desk, remember
from joblog.service.errors import refusing, use_case
from joblog.service.record import local_day, read_entries
from joblog.service.said import context_after, said_before

if TYPE_CHECKING:
    from joblog.audio.day_recorder import DayRecorder
    from joblog.dictation import Context

__all__ = [
    "Decision",
    "Drop",
    "KeepBoth",
    "LeftOver",
    "LetStand",
    "Replace",
    "Settle",
    "Spool",
    "begun",
    "context_today",
    "decide_by_ear",
    "entries_today",
    "evidence",
    "keep_utterance",
    "left_over",
    "loudness",
    "name_of_list",
    "note_loudness",
    "note_pieces_cut",
    "open_spool",
    "pieces_cut",
    "record_day",
    "said_through",
]


@dataclass(frozen=True, slots=True)
class Band:
    """What became, by ear, of the entries that were read back with a confidence in [low, high)."""

    low: float
    high: float
    accepted: int
    """Let stand, or said to be right."""
    changed: int
    dropped: int
    overruled: int
    """Let stand, or said to be right, and all the same put right or dropped afterwards."""


@use_case
def open_spool(desk: Desk) -> Spool:
    """Where what is caught waits until it is kept. Close it. One listener at a time holds it."""
    return Spool(desk.book)


def said_through(desk: Desk) -> Path:
    """The file that what is said aloud may pass through, for whoever holds the spool."""
    return folder_of(desk.book) / SAID


@use_case
def left_over(desk: Desk) -> tuple[LeftOver, ...]:
    """What an earlier run caught and did not keep, as it was said; for before anything is caught.

    What was kept after all is taken out of the spool on the way.
    """
    return listened.left_over(desk.book, desk.job.name)


@use_case
def keep_utterance(
    desk: Desk,
    path: Path,
    at: datetime,
    utterance: Utterance,
    reading: Reading,
    decision: Decision | None = None,
    begun: Sequence[str] = (),
) -> tuple[BookEntry, ...]:
    """Keeps a spooled utterance that began at `at`, with what it says, and does what it decided.

    It is a recording of its own, also where nothing was read in it. Both happen together or not at
    all; run again after a kill, neither happens twice. Then it waits no longer in the spool. The
    entries that the decision changed, the one it names first, then those of the utterance; with the
    doubts that the whole job casts on them.

    Where it is the whole of others in the book, SHA-256 of which `begun` names, it takes their
    place. What was let stand in these was not: he had not done speaking.
    """
    remember(desk)
    decided = None if decision is None else _sure(desk, decision)
    ids = listened.keep_listened(
        desk.book, desk.job.name, path, at, utterance, reading, decided, begun
    )
    return _shown(desk, ids)


@use_case
def decide_by_ear(desk: Desk, decision: Decision) -> tuple[BookEntry, ...]:
    """Does what was decided without a word, or by words that are kept otherwise; as one step.

    The entries that it changed. Nothing said lets stand only what no doubt is cast on.
    """
    remember(desk)
    ids = by_ear.decide(desk.book, desk.job.name, _sure(desk, decision))
    if isinstance(decision, LetStand):
        return tuple(map(desk.book.entry, ids))
    return _shown(desk, ids)


@use_case
def context_today(desk: Desk, at: datetime) -> Context:
    """What holds of what was said and written on this day of the job before `at`: the place, the
    last entry, the item; so that listening that is begun again goes on where it was."""
    return context_after(desk, [one for one in said_before(desk, at) if one.at < at], at)


@use_case
def entries_today(desk: Desk, at: datetime) -> tuple[BookEntry, ...]:
    """What stands of what was said and written on this day of the job before `at`."""
    zone = ZoneInfo(desk.job.zone)
    kept = desk.book.entries(desk.job.name, local_day(at, zone))
    return tuple(one for one in kept if one.at < at and one.standing != "dropped")


@use_case
def record_day(desk: Desk, tell: Callable[[str], None]) -> DayRecorder:
    """What records the whole day beside the book, by choice; close it. It tells if it stops."""
    from joblog.audio.day_recorder import DayRecorder

    return DayRecorder(desk.book.folder / "days", desk.job.zone, tell)


@use_case
def begun(desk: Desk, recording: Path) -> datetime:
    """When a recording was begun, in the job's zone, as it would be taken in."""
    from joblog.audio.decode import RATE, AudioError, blocks
    from joblog.audio.made import dated

    with refusing(AudioError, OSError):
        made, _ = dated(recording, desk.job.zone, 0.0)
        if made.source != "file time":
            return made.at
        # The file was written when the recording ended.
        seconds = sum(len(block) for block in blocks(recording)) / RATE
        return made.at - timedelta(seconds=seconds)


def name_of_list(pieces: Sequence[Piece]) -> str:
    """What a cut list is called in the book: the same for the same pieces in the same order."""
    lines = "\n".join(f"{one.length} {one.pieces} {one.label} {one.item}" for one in pieces)
    return f"list {sha256(lines.encode()).hexdigest()[:16]}"


@use_case
def pieces_cut(desk: Desk, name: str) -> int:
    """How many pieces of a cut list are cut, as far as was said."""
    return int(desk.book.setting(f"cut of {desk.job.name}: {name}") or 0)


@use_case
def note_pieces_cut(desk: Desk, name: str, count: int) -> None:
    """Notes how many pieces of a cut list are cut."""
    desk.book.set_setting(f"cut of {desk.job.name}: {name}", str(count))


@use_case
def loudness(desk: Desk, microphone: str) -> tuple[float, ...]:
    """How loud he was lately by this microphone, in decibels against full scale, oldest first."""
    kept = desk.book.setting(f"loudness by {microphone}")
    return tuple(json.loads(kept)) if kept else ()


@use_case
def note_loudness(desk: Desk, microphone: str, decibels: Sequence[float]) -> None:
    """Notes how loud he was lately, for the next time."""
    desk.book.set_setting(
        f"loudness by {microphone}", json.dumps([round(one, 1) for one in decibels])
    )


@use_case
def evidence(desk: Desk) -> tuple[Band, ...]:
    """How often what was read back was right, by how sure of it joblog was; over all that was said
    in this job and read back.

    The confidence is what today's model of it makes of what was heard then.
    """
    found: Counter[tuple[int, str]] = Counter()
    for id, outcome in by_ear.outcomes(desk.book, desk.job.name).items():
        sure = _sureness(desk, id)
        if sure is not None:
            found[sum(sure >= edge for edge in EDGES), outcome] += 1
    edges = (0.0, *EDGES, 1.0)
    return tuple(
        Band(low, high, *(found[at, outcome] for outcome in OUTCOMES))
        for at, (low, high) in enumerate(pairwise(edges))
    )


OUTCOMES = ("accepted", "changed", "dropped", "overruled")
EDGES = (0.5, 0.8, 0.9, 0.958, 0.98, 0.99, 0.995)
"""Where the bands of confidence meet; the fourth is where doubt ends for a stranger."""


def _sure(desk: Desk, decision: Decision) -> Decision:
    if not isinstance(decision, LetStand):
        return decision
    open_now = {entry.id for entry in read_entries(desk) if entry.open}
    return replace(decision, entries=tuple(id for id in decision.entries if id not in open_now))


def _shown(desk: Desk, ids: Sequence[int]) -> tuple[BookEntry, ...]:
    if not ids:
        return ()
    every = {entry.id: entry for entry in read_entries(desk)}
    return tuple(every[id] for id in ids if id in every)


def _sureness(desk: Desk, id: int) -> float | None:
    from joblog.dictation import Context, best_of, fact_of

    first = desk.book.versions(id)[0]
    if first.utterance is None:
        return None
    heard = desk.book.utterance(first.utterance).utterance
    place = first.entry.place if "place" in first.entry.carried else None
    _, reading = best_of(heard, desk.vocabulary, Context(place=place))
    for entry, sure in zip(reading.entries, reading.confidence, strict=True):
        if fact_of(entry) == fact_of(first.entry):
            return sure
    return min(reading.confidence, default=None)
