"""Several hearings of one utterance: which reading stands, and how sure of each entry we are.

Two recognizers listen. Each gives competing lines, where they differ more lines are put together
from both, and every line is put to both; every line is read, and what counts is not the words but
the facts they make. The meaning stands for which most speaks. An entry that
is not sure enough waits for a person, with what else was heard.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import chain

from joblog.dictation.confidence import Evidence, ScoredEvidence, signs_of
from joblog.dictation.draft import Context
from joblog.dictation.facts import Fact, fact_of
from joblog.dictation.fields import (
    COMPETES,
    agreement,
    fields_asked,
    number_beside,
    number_said,
    rivals,
)
from joblog.dictation.judgement import SHIPPED, Judgement
from joblog.dictation.numbers import NUMBER_WORDS
from joblog.dictation.read import NOT_HEARD, read
from joblog.dictation.told import words_told
from joblog.dictation.weigh import (
    GENERAL_FLOOR,
    TRADE_FLOOR,
    Meaning,
    likelihoods,
    meanings_of,
)
from joblog.model import (
    Doubt,
    Entry,
    FieldName,
    HeardUtterance,
    Hearing,
    Kind,
    Reading,
    Rival,
    Utterance,
    Vocabulary,
)


@dataclass(frozen=True, slots=True)
class Weighed:
    """Everything an utterance may mean, and what speaks for it."""

    meanings: tuple[Meaning, ...]
    likely: tuple[float, ...]
    """Of each meaning, adding up to 1."""
    chosen: Meaning
    evidence: tuple[Evidence, ...]
    """Of each entry of the chosen one."""


def best(
    hearings: Sequence[Hearing],
    vocabulary: Vocabulary,
    context: Context | None = None,
    judgement: Judgement = SHIPPED,
) -> tuple[int, Reading]:
    """The index of the hearing that stands, and its reading, where no line was scored."""
    return best_of(Utterance(0.0, 0.0, tuple(hearings)), vocabulary, context, judgement)


def best_of(
    utterance: Utterance,
    vocabulary: Vocabulary,
    context: Context | None = None,
    judgement: Judgement = SHIPPED,
) -> tuple[int, Reading]:
    """The index of the hearing that stands, and the utterance's reading.

    The reading may come from a competing line of that hearing, from one put together of its
    words and another's, or from one that was scored. Entries that are not sure enough, as
    `judgement` has it, get a doubt that says which field is unsure and quotes what else was heard.
    """
    weighed = weigh_up(utterance, vocabulary, context)
    if weighed is None:
        return 0, Reading()
    reading = weighed.chosen.reading
    sure = tuple(
        judgement.sureness(signs_of(evidence), words_told(entry))
        for evidence, entry in zip(weighed.evidence, reading.entries, strict=True)
    )
    competing = [
        rivals(at, weighed.chosen, weighed.meanings, weighed.likely)
        for at in range(len(reading.entries))
    ]
    alone = _alone(utterance.hearings)
    doubts = list(reading.doubts)
    for at in range(len(reading.entries)):
        if alone:
            doubts.append(Doubt(at, _ALONE))
        elif (beside := number_beside(at, weighed.chosen, weighed.meanings)) is not None:
            doubts.append(Doubt(at, _which_number(at, weighed.chosen, beside)))
        elif sure[at] < judgement.asks_below:
            doubts.append(Doubt(at, _why_not(at, weighed, competing[at])))
    found = tuple(chain.from_iterable(competing))
    return weighed.chosen.hearing, Reading(
        reading.entries, tuple(doubts), reading.unread, sure, found
    )


def weigh_up(
    utterance: Utterance, vocabulary: Vocabulary, context: Context | None = None
) -> Weighed | None:
    """What an utterance may mean, and what speaks for each entry of the likeliest.

    None where nothing was heard.
    """
    meanings = meanings_of(
        utterance.hearings,
        lambda text: read(text, vocabulary, context),
        vocabulary,
        utterance.scored,
    )
    if not meanings:
        return None
    likely = likelihoods(meanings)
    chosen = standing(meanings, likely)
    evidence = tuple(
        evidence_of(at, chosen, meanings, likely, utterance.level, utterance.noise)
        for at in range(len(chosen.reading.entries))
    )
    return Weighed(tuple(meanings), tuple(likely), chosen, evidence)


@dataclass(frozen=True, slots=True)
class Judged:
    """An entry that was heard, and what a judgement of it rests on."""

    entry: Entry
    signs: tuple[float, ...]
    anyway: bool
    """Whether it is asked about however sure it is: its words are doubted, another number sounds
    just like its own, or one recognizer alone heard anything."""


def judged_by(
    utterance: Utterance, vocabulary: Vocabulary, context: Context | None = None
) -> tuple[Judged, ...]:
    """What each entry that `best_of` reads is judged by."""
    weighed = weigh_up(utterance, vocabulary, context)
    if weighed is None:
        return ()
    reading = weighed.chosen.reading
    doubted = {doubt.entry for doubt in reading.doubts}
    alone = _alone(utterance.hearings)
    return tuple(
        Judged(
            entry,
            signs_of(evidence),
            alone
            or at in doubted
            or number_beside(at, weighed.chosen, weighed.meanings) is not None,
        )
        for at, (entry, evidence) in enumerate(zip(reading.entries, weighed.evidence, strict=True))
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
    chosen, reading = best_of(utterance, vocabulary, context, judgement)
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


def fields_doubted(entry: Entry, why: str) -> tuple[str, ...]:
    """The fields of an entry that a doubt about hearing it asks about; none where it names none."""
    for name, which in _WHICH.items():
        if why.startswith(f"{which}: "):
            asked = why.removeprefix(f"{which}: ").partition("?")[0]
            return fields_asked(entry, name, asked.split(" or "))
    return ()


def evidence_of(
    at: int,
    chosen: Meaning,
    meanings: Sequence[Meaning],
    likely: Sequence[float],
    level: float | None = None,
    noise: float | None = None,
) -> Evidence:
    """What speaks for an entry of the meaning that stands; `level` and `noise` in dBFS."""
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
        scores=_scored_evidence(at, chosen, meanings, likely, holds, level, noise),
    )


def _scored_evidence(
    at: int,
    chosen: Meaning,
    meanings: Sequence[Meaning],
    likely: Sequence[float],
    holds: Sequence[bool],
    level: float | None,
    noise: float | None,
) -> ScoredEvidence | None:
    if chosen.scores is None:
        return None
    own = max((one for one, held in zip(likely, holds, strict=True) if held), default=0.0)
    other = max((one for one, held in zip(likely, holds, strict=True) if not held), default=0.0)
    # Any heap of words is a note; whether it is one is not what is asked of a number.
    note = chosen.reading.entries[at].kind == "note"
    told = [
        (one.scores, held)
        for one, held in zip(meanings, holds, strict=True)
        if one.scores and (held or note or not _only_words(one.reading))
    ]
    trade = [(scores.trade, held) for scores, held in told]
    general = [(scores.general, held) for scores, held in told]
    return ScoredEvidence(
        margin=math.log((own + 1e-6) / (other + 1e-6)),
        worst=min(agreement(at, chosen, meanings, likely).values()),
        trade=_lead(trade, -TRADE_FLOOR),
        general=_lead(general, -GENERAL_FLOOR),
        untold=all(one is None for one, held in trade if held),
        numbers=sum(word in NUMBER_WORDS for word in chosen.text.lower().split()),
        above_noise=None if level is None or noise is None else level - noise,
    )


def _lead(scores: Sequence[tuple[float | None, bool]], most: float) -> float:
    """By how much the best score of those that hold leads that of those that do not."""
    own, other = (
        max((one for one, held in scores if held == side and one is not None), default=None)
        for side in (True, False)
    )
    if own is None:
        return 0.0 if other is None else -most
    return most if other is None else max(-most, min(most, own - other))


def _only_words(reading: Reading) -> bool:
    return all(entry.kind in _TEXT for entry in reading.entries)


_FREE = 1
_TEXT: tuple[Kind, ...] = ("note", "problem", "covered", "photo", "weather")


def _bare(fact: Fact) -> Fact:
    return ("note",) if fact[0] == "note" else fact


def _without_words(meaning: Meaning) -> list[tuple[Fact, str | None]]:
    places = (entry.place for entry in meaning.reading.entries)
    return list(zip(map(_bare, meaning.facts), places, strict=True))


def _why_not(at: int, weighed: Weighed, competing: Sequence[Rival]) -> str:
    """Why an entry is not sure: which field, or the likeliest of what else it may have been."""
    entry = weighed.chosen.reading.entries[at]
    if entry.kind == "note":
        other = _otherwise(entry, weighed)
        return f"{_ONLY_WORDS}: {other!r}?" if other else _WORDS_UNCLEAR
    worst = max(competing, key=lambda rival: rival.values[1][1], default=None)
    other = _otherwise(entry, weighed)
    if worst is None:
        return f"{_TWO_WAYS}; the other is: {other!r}" if other else _UNCLEAR
    which = f"{_WHICH[worst.field]}: {' or '.join(said for said, _ in worst.values)}?"
    return f"{which} {_TWO_WAYS}; the other is: {other!r}" if other else which


def _which_number(at: int, chosen: Meaning, beside: Meaning) -> str:
    which = f"{number_said(at, chosen)} or {number_said(at, beside)}"
    return f"{_WHICH['number']}: {which}? {_TWO_WAYS}; the other is: {beside.text!r}"


def _otherwise(entry: Entry, weighed: Weighed) -> str | None:
    """The likeliest line that does not hold the entry's fact at its place."""
    held = (_bare(fact_of(entry)), entry.place)
    others = [
        (share, meaning.text)
        for share, meaning in zip(weighed.likely, weighed.meanings, strict=True)
        if (meaning.heard or meaning.scores)
        and share >= COMPETES
        and held
        not in [
            (_bare(fact), one.place)
            for fact, one in zip(meaning.facts, meaning.reading.entries, strict=True)
        ]
    ]
    return max(others)[1] if others else None


_WHICH: dict[FieldName, str] = {
    "number": "which number",
    "item": "which item",
    "place": "which place",
    "kind": "what was done",
}
_ALONE = "only one recognizer heard anything"
_UNCLEAR = "not heard clearly"
_WORDS_UNCLEAR = "the words are not clear"
_ONLY_WORDS = "only words, or this"
_TWO_WAYS = "heard two ways"
_HEARD = (
    *(f"{which}: " for which in _WHICH.values()),
    *(_ALONE, _UNCLEAR, _WORDS_UNCLEAR, _ONLY_WORDS, _TWO_WAYS, NOT_HEARD),
)
