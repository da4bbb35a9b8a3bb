"""Several hearings of one utterance: which one stands, and what they disagree on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from joblog.dictation.meanings import Context
from joblog.dictation.read import read
from joblog.model import Doubt, Entry, Hearing, Kind, Reading, Vocabulary


def best(
    hearings: Sequence[Hearing], vocabulary: Vocabulary, context: Context | None = None
) -> tuple[int, Reading]:
    """The index of the hearing that stands, and its reading.

    A reading that two different recognizers came to stands without further doubt. Otherwise the
    one stands that explains most of what was heard, and every entry on which another recognizer
    had a different kind, item, number or place gets a doubt that quotes the other hearing.
    """
    heard = [
        _Heard(at, hearing, read(hearing.text, vocabulary, context))
        for at, hearing in enumerate(hearings)
        if hearing.text
    ]
    if not heard:
        return 0, Reading()
    agreed = [one for one in heard if _backed(one, heard)]
    if agreed:
        chosen = min(agreed, key=_preference)
        return chosen.at, chosen.reading
    chosen = min(heard, key=_weakness)
    others = [other for other in heard if _family(other) != _family(chosen)]
    reading = chosen.reading
    if others:
        reading = _with_doubts(reading, min(others, key=_weakness))
    else:
        why = "only one recognizer heard anything"
        doubts = tuple(Doubt(at, why) for at in range(len(reading.entries)))
        reading = Reading(reading.entries, reading.doubts + doubts, reading.unread)
    return chosen.at, reading


@dataclass(frozen=True, slots=True)
class _Heard:
    at: int
    hearing: Hearing
    reading: Reading


def _family(heard: _Heard) -> str:
    """Hearings of one recognizer are not independent of each other: "general" is one."""
    return heard.hearing.recognizer.split()[0]


def _backed(one: _Heard, all_heard: Sequence[_Heard]) -> bool:
    facts = [fact_of(entry) for entry in one.reading.entries]
    return any(
        _family(other) != _family(one)
        and [fact_of(entry) for entry in other.reading.entries] == facts
        for other in all_heard
    )


def fact_of(entry: Entry) -> tuple[object, ...]:
    """What must not be wrong in silence: kind, place, item and every number."""
    inner = fact_of(entry.replacement) if entry.replacement else None
    return (
        entry.kind,
        None if "place" in entry.carried else entry.place,
        entry.item,
        entry.quantity,
        entry.unit,
        entry.unit_cost,
        entry.inches,
        entry.square_inches,
        entry.pitch,
        entry.pieces,
        entry.time,
        entry.minutes,
        entry.workers,
        entry.hours,
        entry.task,
        entry.fahrenheit,
        entry.action,
        inner,
    )


_TEXT: tuple[Kind, ...] = ("note", "problem", "covered", "photo", "weather")


def _preference(one: _Heard) -> tuple[int, int, int]:
    """Among readings that agree: free words for a note, else the one with fewer loose ends."""
    textual = any(entry.kind in _TEXT for entry in one.reading.entries)
    free = one.hearing.recognizer.endswith("free")
    return (0 if free == textual else 1, len(one.reading.doubts), one.at)


def _weakness(one: _Heard) -> tuple[int, int, float]:
    reading = one.reading
    plain_note = [entry.kind for entry in reading.entries] == ["note"]
    return (
        len(reading.doubts) + plain_note,
        len(reading.unread.split()),
        -one.hearing.confidence,
    )


def _with_doubts(reading: Reading, other: _Heard) -> Reading:
    facts = [fact_of(entry) for entry in other.reading.entries]
    why = f"heard two ways; the other is: {other.hearing.text!r}"
    doubts = tuple(
        Doubt(at, why)
        for at, entry in enumerate(reading.entries)
        if fact_of(entry) not in facts or len(facts) != len(reading.entries)
    )
    return Reading(reading.entries, reading.doubts + doubts, reading.unread)
