"""Several hearings of one utterance: which reading stands, and how sure of each entry we are.

Two recognizers listen. Each gives competing lines, and where they differ more lines are put
together from both; every line is read, and what counts is not the words but the facts they make.
The meaning stands for which most speaks. An entry that is not sure enough waits for a person, with
what else was heard.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from joblog.dictation.confidence import Evidence, signs_of
from joblog.dictation.draft import Context
from joblog.dictation.facts import Fact, fact_of
from joblog.dictation.judgement import SHIPPED, Judgement
from joblog.dictation.read import NOT_HEARD, read
from joblog.dictation.told import words_told
from joblog.dictation.weigh import Meaning, likelihoods, meanings_of
from joblog.model import (
    Doubt,
    Entry,
    HeardUtterance,
    Hearing,
    Kind,
    Reading,
    Utterance,
    Vocabulary,
)

COMPETES = 0.02
"""Likelihood from which another meaning is worth quoting."""


def best(
    hearings: Sequence[Hearing],
    vocabulary: Vocabulary,
    context: Context | None = None,
    judgement: Judgement = SHIPPED,
) -> tuple[int, Reading]:
    """The index of the hearing that stands, and its reading.

    The reading may come from a competing line of that hearing, or from one put together of its
    words and another's. Entries that are not sure enough, as `judgement` has it, get a doubt that
    quotes what else was heard.
    """
    meanings = meanings_of(hearings, lambda text: read(text, vocabulary, context), vocabulary)
    if not meanings:
        return 0, Reading()
    likely = likelihoods(meanings)
    chosen = standing(meanings, likely)
    reading = chosen.reading
    sure = tuple(
        judgement.sureness(signs_of(evidence_of(at, chosen, meanings, likely)), words_told(entry))
        for at, entry in enumerate(reading.entries)
    )
    alone = _alone(hearings)
    doubts = list(reading.doubts)
    for at, entry in enumerate(reading.entries):
        why = _ALONE if alone else None
        if why is None and sure[at] < judgement.asks_below:
            why = _why_not(entry, chosen, meanings, likely)
        if why:
            doubts.append(Doubt(at, why))
    return chosen.hearing, Reading(reading.entries, tuple(doubts), reading.unread, sure)


@dataclass(frozen=True, slots=True)
class Judged:
    """An entry that was heard, and what a judgement of it rests on."""

    entry: Entry
    signs: tuple[float, ...]
    anyway: bool
    """Whether it is asked about however sure it is: its words are doubted, or one recognizer alone
    heard anything."""


def judged_by(
    hearings: Sequence[Hearing], vocabulary: Vocabulary, context: Context | None = None
) -> tuple[Judged, ...]:
    """What each entry that `best` reads is judged by."""
    meanings = meanings_of(hearings, lambda text: read(text, vocabulary, context), vocabulary)
    if not meanings:
        return ()
    likely = likelihoods(meanings)
    chosen = standing(meanings, likely)
    doubted = {doubt.entry for doubt in chosen.reading.doubts}
    alone = _alone(hearings)
    return tuple(
        Judged(entry, signs_of(evidence_of(at, chosen, meanings, likely)), alone or at in doubted)
        for at, entry in enumerate(chosen.reading.entries)
    )


def _alone(hearings: Sequence[Hearing]) -> bool:
    return len({one.recognizer.split()[0] for one in hearings if one.text}) < 2


def read_heard(
    utterance: Utterance,
    vocabulary: Vocabulary,
    context: Context | None = None,
    judgement: Judgement = SHIPPED,
) -> HeardUtterance:
    """An utterance with its reading, the hearing that stands put first."""
    chosen, reading = best(utterance.hearings, vocabulary, context, judgement)
    others = utterance.hearings[:chosen] + utterance.hearings[chosen + 1 :]
    hearings = (*utterance.hearings[chosen : chosen + 1], *others)
    return HeardUtterance(replace(utterance, hearings=hearings), reading)


def standing(meanings: Sequence[Meaning], likely: Sequence[float]) -> Meaning:
    """The likeliest meaning; mere words as the general recognizer heard them, left free."""
    chosen = meanings[max(range(len(meanings)), key=lambda at: likely[at])]
    if not any(entry.kind in _TEXT for entry in chosen.reading.entries) or chosen.free:
        return chosen
    same = [
        meaning
        for meaning in meanings
        if meaning.free
        and meaning.voices[_FREE].first
        and _without_words(meaning) == _without_words(chosen)
    ]
    return same[0] if same else chosen


def about_hearing(why: str) -> bool:
    """Whether a doubt is about which words were said, and not about what they mean."""
    return why.startswith(_HEARD)


def evidence_of(
    at: int, chosen: Meaning, meanings: Sequence[Meaning], likely: Sequence[float]
) -> Evidence:
    """What speaks for an entry of the meaning that stands."""
    entry = chosen.reading.entries[at]
    fact = _bare(chosen.facts[at])
    holds = [any(_bare(other) == fact for other in meaning.facts) for meaning in meanings]
    sure = [
        max(
            (
                meaning.voices[voice].confidence
                for meaning, held in zip(meanings, holds, strict=True)
                if held and meaning.voices[voice].first
            ),
            default=0.0,
        )
        for voice in range(3)
    ]
    return Evidence(
        meaning=likely[meanings.index(chosen)],
        fact=sum(one for one, held in zip(likely, holds, strict=True) if held),
        everyone=all(
            any(
                held and meaning.voices[voice].first
                for meaning, held in zip(meanings, holds, strict=True)
            )
            for voice in range(3)
        ),
        sure=(sure[0], sure[1], sure[2]),
        kept=(chosen.voices[0].kept, chosen.voices[1].kept, chosen.voices[2].kept),
        doubts=any(doubt.entry == at for doubt in chosen.reading.doubts),
        unread=len(chosen.reading.unread.split()),
        note=entry.kind == "note",
        measure=entry.kind == "measure",
        several=len(chosen.reading.entries) > 1,
    )


_FREE = 1
_TEXT: tuple[Kind, ...] = ("note", "problem", "covered", "photo", "weather")


def _bare(fact: Fact) -> Fact:
    return ("note",) if fact[0] == "note" else fact


def _without_words(meaning: Meaning) -> list[tuple[Fact, str | None]]:
    places = (entry.place for entry in meaning.reading.entries)
    return list(zip(map(_bare, meaning.facts), places, strict=True))


def _why_not(
    entry: Entry, chosen: Meaning, meanings: Sequence[Meaning], likely: Sequence[float]
) -> str:
    """Why an entry is not sure, with the likeliest of what else it may have been."""
    fact = _bare(fact_of(entry))
    rivals = [
        (one, meaning.text)
        for one, meaning in zip(likely, meanings, strict=True)
        if meaning.heard and one >= COMPETES and fact not in map(_bare, meaning.facts)
    ]
    if not rivals:
        return _WORDS_UNCLEAR if entry.kind == "note" else _UNCLEAR
    other = max(rivals)[1]
    if entry.kind == "note":
        return f"{_ONLY_WORDS}: {other!r}?"
    return f"{_TWO_WAYS}; the other is: {other!r}"


_ALONE = "only one recognizer heard anything"
_UNCLEAR = "not heard clearly"
_WORDS_UNCLEAR = "the words are not clear"
_ONLY_WORDS = "only words, or this"
_TWO_WAYS = "heard two ways"
_HEARD = (_ALONE, _UNCLEAR, _WORDS_UNCLEAR, _ONLY_WORDS, _TWO_WAYS, NOT_HEARD)
