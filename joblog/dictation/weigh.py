"""What an utterance may mean, and what speaks for each meaning.

Lines whose entries hold the same facts at the same places are one meaning, however they are
worded. For it speak the shares of the lines that say it, the words it keeps of each hearing, each
weighed by the recognizer's confidence in it, and that it is read whole.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from joblog.dictation.confidence import CHOICE
from joblog.dictation.facts import Fact, fact_of
from joblog.dictation.hypotheses import Hypothesis, hypotheses_of, plain_words, words_heard
from joblog.model import STOCK_KINDS, Hearing, Reading, Vocabulary


@dataclass(frozen=True, slots=True)
class Voice:
    """What one hearing says of a meaning."""

    first: bool = False
    """Whether the line it gives first means it."""
    confidence: float = 0.0
    """Of the hearing, 0 to 1."""
    kept: float = 0.0
    """Share of its words, weighed by their confidence, that stand in a line that means it."""
    strange: int = 0
    """Words of that line which it did not hear."""


@dataclass(frozen=True, slots=True)
class Meaning:
    """One thing that the utterance may mean."""

    text: str
    """The line that says it with the least left over."""
    hearing: int
    """Which hearing that line is from, or mostly from."""
    reading: Reading
    facts: tuple[Fact, ...]
    signs: tuple[float, ...]
    """What speaks for it, in the order of `confidence.CHOICE`."""
    voices: tuple[Voice, ...]
    """Of the trade recognizer, the general one left free, and the general one constrained."""
    heard: bool
    """Whether it was heard in one piece, not put together from two hearings."""
    free: bool
    """Whether the general recognizer, left free, gives a line that means it."""


def meanings_of(
    hearings: Sequence[Hearing], reader: Callable[[str], Reading], vocabulary: Vocabulary
) -> list[Meaning]:
    """Everything the hearings may mean; empty when nothing was heard."""
    lines = hypotheses_of(hearings, vocabulary)
    readings = {text: reader(text) for text in dict.fromkeys(line.text for line in lines)}
    facts = {text: tuple(map(fact_of, one.entries)) for text, one in readings.items()}
    groups: dict[object, list[Hypothesis]] = {}
    for line in lines:
        places = tuple(entry.place for entry in readings[line.text].entries)
        groups.setdefault((facts[line.text], places), []).append(line)
    alike: dict[tuple[Fact, ...], list[Hypothesis]] = {}
    for line in lines:
        alike.setdefault(facts[line.text], []).append(line)
    heard = [words_heard(hearings[at]) if at is not None else [] for at in _voices(hearings)]
    meanings = []
    for group in groups.values():
        best = max(group, key=lambda line: line.weight - _loose(readings[line.text]))
        mine = facts[best.text]
        voices = tuple(
            _voice(at, words, hearings, group, alike[mine])
            for at, words in zip(_voices(hearings), heard, strict=True)
        )
        meanings.append(
            Meaning(
                best.text,
                best.hearing,
                readings[best.text],
                mine,
                _signs(readings[best.text], voices, alike[mine], vocabulary),
                voices,
                any(line.weight for line in group),
                any(hearings[line.hearing].recognizer.endswith("free") for line in group),
            )
        )
    return meanings


def likelihoods(meanings: Sequence[Meaning], weights: Sequence[float] = CHOICE) -> list[float]:
    """How likely each is what was said if one of them is: a conditional logit (McFadden 1974)."""
    scores = [
        math.fsum(weight * sign for weight, sign in zip(weights, meaning.signs, strict=True))
        for meaning in meanings
    ]
    best = max(scores, default=0.0)
    raised = [math.exp(score - best) for score in scores]
    total = sum(raised)
    return [one / total for one in raised]


LEAST = 0.02
"""What a recognizer that never heard a meaning still gives it."""


def _loose(reading: Reading) -> float:
    return 0.7 * min(_doubted(reading) + 0.5 * _not_understood(reading), 6.0)


def _doubted(reading: Reading) -> int:
    """Doubts, and entries with words beside them that no doubt speaks of."""
    return len(reading.doubts) + sum(map(bool, _beside(reading)))


def _not_understood(reading: Reading) -> int:
    """Words that belong to no entry, or only stand beside one."""
    return len(" ".join((reading.unread, *_beside(reading))).split())


def _beside(reading: Reading) -> list[str]:
    """Words in the notes of entries that are no words: kept, and not understood. Typed, they may be
    let stand there; heard, they speak against the whole meaning."""
    return [entry.note or "" for entry in reading.entries if entry.kind in _OF_NUMBERS]


_OF_NUMBERS = ("measure", *STOCK_KINDS, "start", "stop", "break", "labor")


def _voices(hearings: Sequence[Hearing]) -> list[int | None]:
    """Where the three hearings stand that are listened to; None for one that is not there."""
    names = [hearing.recognizer for hearing in hearings]
    ends = ("trade", "free", "constrained")
    return [next((at for at, name in enumerate(names) if name.endswith(end)), None) for end in ends]


def _voice(
    at: int | None,
    words: list[tuple[str, float]],
    hearings: Sequence[Hearing],
    group: Sequence[Hypothesis],
    alike: Sequence[Hypothesis],
) -> Voice:
    if at is None:
        return Voice()
    kept, strange = zip(*(_kept(words, line.text) for line in group), strict=True)
    first = any(line.first and line.hearing == at for line in alike)
    return Voice(first, hearings[at].confidence, max(kept), min(strange))


def _kept(words: list[tuple[str, float]], text: str) -> tuple[float, int]:
    """Share of the words, by their confidence, that stand in the text; the text's other words."""
    from rapidfuzz.distance import Levenshtein

    line = plain_words(text)
    steps = Levenshtein.opcodes([word for word, _ in words], line)
    same = [
        at for step in steps if step.tag == "equal" for at in range(step.src_start, step.src_end)
    ]
    total = sum(sure for _, sure in words)
    return (sum(words[at][1] for at in same) / total if total else 0.0), len(line) - len(same)


def _signs(
    reading: Reading, voices: Sequence[Voice], alike: Sequence[Hypothesis], vocabulary: Vocabulary
) -> tuple[float, ...]:
    shares = [
        sum(line.weight for line in alike if line.family == family)
        for family in ("trade", "general")
    ]
    notes = sum(entry.kind == "note" for entry in reading.entries)
    only_note = len(reading.entries) == notes == 1
    named = [entry.place for entry in reading.entries if entry.place]
    known = sum(place in vocabulary.places for place in named)
    return (
        *(math.log(LEAST + share) for share in shares),
        *(float(voice.first) for voice in voices),
        *(voice.first * voice.confidence for voice in voices),
        *(voice.kept for voice in voices),
        *(float(voice.strange) for voice in voices),
        float(min(_doubted(reading), 3)),
        float(min(_not_understood(reading), 6)),
        float(only_note),
        float(only_note and bool(reading.doubts)),
        float(len(reading.entries)),
        float(notes),
        known / max(1, len(named)),
        (len(named) - known) / max(1, len(named)),
    )
