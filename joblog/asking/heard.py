"""What else was heard: of everything that the scored lines may mean, what stands where the entries
asked about do; as a whole, and field by field.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import get_args

from joblog.asking.looks import RECORDS
from joblog.asking.setting import Candidate, Setting
from joblog.dictation import competing, fact_of, weigh_up
from joblog.dictation.choose import Weighed
from joblog.dictation.fields import in_words, with_field
from joblog.dictation.weigh import Meaning
from joblog.model import BookEntry, Entry, FieldName, Reading, Settled


def otherwise_heard(setting: Setting) -> Iterator[Candidate]:
    """Everything that was heard otherwise, with how likely it is."""
    if setting.utterance is None:
        yield from _otherwise_read(setting)
        return
    weighed = weigh_up(setting.utterance, setting.vocabulary, setting.context)
    if weighed is None:
        return
    places = _places(setting, weighed)
    for meaning, share in zip(weighed.meanings, weighed.likely, strict=True):
        settles = _in_place(setting, meaning, weighed, places)
        weight = max(share, LEAST)
        if settles is None:
            settles = _instead(setting, meaning.reading, meaning.text)
            weight *= OTHERWISE_MANY
        if settles:
            yield Candidate(settles, weight, f"heard: {meaning.text}")
    if len(setting.asked) == 1 and setting.asked[0].entry.kind not in RECORDS:
        yield from _by_field(setting, weighed, places)


def other_words(setting: Setting) -> Iterator[Candidate]:
    """Mere words as each line was heard that says as much: all that differs in them is words."""
    if setting.utterance is None or len(setting.asked) != 1:
        return
    [kept] = setting.asked
    for hearing in setting.utterance.hearings:
        for rank, text in enumerate((hearing.text, *(one.text for one in hearing.alternatives))):
            found = setting.read(text).entries if text.strip() else ()
            own = [one for one in found if one.kind == kept.entry.kind]
            if len(own) == 1 and len(found) == len(setting.breath):
                weight = max(hearing.confidence, 0.1) * FIRST_LINE * 0.5**rank
                yield Candidate((Settled(kept.id, own[0], text),), weight, f"heard: {text}")


FIRST_LINE = 0.5
"""What the first line of a hearing is worth that is sure of itself."""
LEAST = 0.0005
"""Of what was heard at all."""
OTHERWISE_MANY = 0.5
"""What a meaning of more or fewer things is worth."""
BY_FIELD = 0.6
"""What a field by itself is worth beside the whole meaning that it is from."""


def _places(setting: Setting, weighed: Weighed) -> dict[int, int]:
    """By entry asked about, its place in a reading of as many entries as there are in the breath;
    empty where that is not sure."""
    read = len(weighed.chosen.reading.entries)
    ids = [one.id for one in setting.breath][:read]
    if len(ids) < read:
        return {}
    return {one.id: ids.index(one.id) for one in setting.asked if one.id in ids}


def _in_place(
    setting: Setting, meaning: Meaning, weighed: Weighed, places: dict[int, int]
) -> tuple[Settled, ...] | None:
    """What stands in a meaning of as many entries in the place of those asked about."""
    entries = meaning.reading.entries
    as_many = len(entries) == len(weighed.chosen.reading.entries)
    if not as_many or any(one.id not in places for one in setting.asked):
        return None
    return tuple(
        Settled(one.id, _as_fact(entries[places[one.id]], one.entry), meaning.text)
        for one in setting.asked
    )


def _instead(setting: Setting, reading: Reading, text: str) -> tuple[Settled, ...] | None:
    """What a reading of another number of entries makes of those asked about: what it says of the
    others stays with them, and is not added a second time."""
    left = list(reading.entries)
    others = [one.entry for one in setting.breath if one not in setting.asked]
    for alike in (_found, _likest_of_kind):
        for entry in list(others):
            own = alike(left, entry)
            if own is not None:
                left.pop(own)
                others.remove(entry)
    settles: list[Settled] = []
    for one in setting.asked:
        own = _likest(left, one.entry)
        becomes = None if own is None else _as_fact(left.pop(own), one.entry)
        settles.append(Settled(one.id, becomes, text))
    if not settles or settles[0].becomes is None:
        return None
    settles[-1] = replace(settles[-1], beside=tuple(left))
    return tuple(settles)


def _likest_of_kind(entries: Sequence[Entry], entry: Entry) -> int | None:
    found = _likest(entries, entry)
    return None if found is None or entries[found].kind != entry.kind else found


def _otherwise_read(setting: Setting) -> Iterator[Candidate]:
    """What was typed, as it could be understood as well."""
    words = setting.asked[0].said
    for other in competing(words, setting.vocabulary, setting.context):
        settles = _instead(setting, other.reading, words)
        if settles is not None:
            yield Candidate(settles, 0.3 * math.exp(-max(other.worse_by, 0.0)))


def _as_fact(found: Entry, stands: Entry) -> Entry:
    """Words that were read as a change are, in the place of a fact, what the change comes to."""
    return found.replacement or found if stands.kind != "correction" else found


def _found(entries: Sequence[Entry], entry: Entry) -> int | None:
    wanted = fact_of(entry), entry.place
    return next((at for at, one in enumerate(entries) if (fact_of(one), one.place) == wanted), None)


def _likest(entries: Sequence[Entry], entry: Entry) -> int | None:
    if not entries:
        return None
    exact = _found(entries, entry)
    if exact is not None:
        return exact
    alike = [
        (one.kind == entry.kind, one.item == entry.item, -at) for at, one in enumerate(entries)
    ]
    return -max(alike)[2]


def _by_field(setting: Setting, weighed: Weighed, places: dict[int, int]) -> Iterator[Candidate]:
    """The entry with one field as it was heard elsewhere, by all that hear it so."""
    [kept] = setting.asked
    if kept.id not in places:
        return
    at = places[kept.id]
    for name in get_args(FieldName):
        yield from _of_field(kept, name, at, weighed)


def _of_field(kept: BookEntry, name: FieldName, at: int, weighed: Weighed) -> Iterator[Candidate]:
    own = in_words(kept.entry, name)
    shares: dict[str, float] = {}
    made: dict[str, Candidate] = {}
    for meaning, share in zip(weighed.meanings, weighed.likely, strict=True):
        entries = meaning.reading.entries
        if len(entries) != len(weighed.chosen.reading.entries):
            continue
        other = _as_fact(entries[at], kept.entry)
        said = in_words(other, name)
        if said == own or (name != "place" and other.kind != kept.entry.kind):
            continue
        shares[said] = shares.get(said, 0.0) + share
        if said not in made:
            becomes = with_field(kept.entry, name, other)
            settles = (Settled(kept.id, becomes, kept.said),)
            made[said] = Candidate(settles, 0.0, f"heard: {meaning.text}")
    for said, candidate in made.items():
        yield replace(candidate, weight=max(shares[said], LEAST) * BY_FIELD)
