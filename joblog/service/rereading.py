"""Reading words again: for a correction, and for a typed entry.

An entry is often one of several that were read from the same words. Editing those words must
change the one in hand and leave its neighbours alone, so what is new is told from what was
already there. Pure, apart from the reader that is handed in.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from joblog.form import describe
from joblog.model import BookEntry, Doubt, Entry, Reading

Reader = Callable[[str], Reading]


@dataclass(frozen=True, slots=True)
class Revision:
    """What new words make of an entry. `reading` holds the replacing entry and any added ones."""

    text: str
    reading: Reading
    stays: tuple[Entry, ...] = ()
    """Entries of the same words that are already in the book and stay as they are."""


def words_of(entry: BookEntry, read: Reader) -> str:
    """Words that say what the entry says as it stands, to be put right from there.

    Those it was read from, where they still read as it. Where they do not, because it was decided
    otherwise since, those it would be read back in; and where these read as something else, the
    entry itself as it is shown.
    """
    if any(_same(found, entry.entry) for found in read(entry.said).entries):
        return entry.said
    # Only where words are read does the review need what reads them; it starts quicker without.
    from joblog.aloud.say import say_entry

    aloud = say_entry(entry.entry, seconds=math.inf)
    found = read(aloud).entries
    if len(found) == 1 and _same(found[0], entry.entry) and _keeps_note(found[0], entry.entry):
        return aloud
    return describe(entry.entry)


def _as_facts(reading: Reading, entry: Entry) -> Reading:
    """The reading with what a change comes to in its place, where a fact is put right: "twelve",
    which may be another number for what was said before, makes no mere change of the fact."""
    if entry.kind == "correction":
        return reading
    return replace(reading, entries=tuple(one.replacement or one for one in reading.entries))


def _keeps_note(found: Entry, entry: Entry) -> bool:
    return (entry.note or "") in (found.note or "")


def revise(entry: BookEntry, text: str, read: Reader) -> Revision:
    """What `text` would make of `entry` if it stood in place of the words it was read from.

    The first entry of `reading` takes the place of `entry`; any others are added beside it.
    `reading` is empty when the text says nothing that is not in the book already.
    """
    before = read(entry.said).entries
    own = _own_place(entry, before)
    neighbours = [other for place, other in enumerate(before) if place != own]
    after = _as_facts(read(text), entry.entry)
    stays: list[Entry] = []
    fresh: list[int] = []
    for place, found in enumerate(after.entries):
        if found in neighbours:
            neighbours.remove(found)
            stays.append(found)
        else:
            fresh.append(place)
    if len(after.entries) == len(before) and own in fresh:
        fresh.remove(own)
        fresh.insert(0, own)
    return Revision(text, _only(after, fresh), tuple(stays))


def _same(one: Entry, other: Entry) -> bool:
    """Whether they say the same fact of the same place."""
    from joblog.dictation import fact_of

    return fact_of(one) == fact_of(other) and one.place == other.place


def _own_place(entry: BookEntry, before: tuple[Entry, ...]) -> int:
    from joblog.dictation import fact_of

    alike = [place for place, found in enumerate(before) if fact_of(found) == fact_of(entry.entry)]
    same_kind = [place for place, found in enumerate(before) if found.kind == entry.entry.kind]
    return (alike + same_kind + [0])[0]


def _only(reading: Reading, places: list[int]) -> Reading:
    return Reading(
        entries=tuple(reading.entries[place] for place in places),
        doubts=tuple(
            Doubt(places.index(doubt.entry), doubt.why)
            for doubt in reading.doubts
            if doubt.entry in places
        ),
        unread=reading.unread,
    )
