"""What an utterance may mean, and what speaks for each meaning.

Lines whose entries hold the same facts at the same places are one meaning, however they are
worded. For it speak the shares of the lines that say it, the words it keeps of each hearing, each
weighed by the recognizer's confidence in it, and that it is read whole; and where lines were put to
every recognizer, how likely each holds those that say it, and the language of the job.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from joblog.dictation.confidence import CHOICE
from joblog.dictation.facts import Fact, fact_of
from joblog.dictation.hypotheses import Hypothesis, hypotheses_of, plain_words, words_heard
from joblog.model import STOCK_KINDS, Hearing, Reading, Scored, Vocabulary


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
class Scores:
    """What the recognizers hold of all lines that mean the same, behind the likeliest line.

    Natural logarithms; 0 is that line, or nothing is known. None where none of the lines could be
    told.
    """

    trade: float | None = None
    general: float | None = None
    language: float | None = None
    words: int = 0
    """How many more words its line has than the one that the general recognizer likes best."""


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
    scores: Scores | None
    """None where no lines were scored."""
    voices: tuple[Voice, ...]
    """Of the trade recognizer, the general one left free, and the general one constrained."""
    heard: bool
    """Whether it was heard in one piece, not put together from two hearings."""
    free: bool
    """Whether the general recognizer, left free, gives a line that means it."""


def meanings_of(
    hearings: Sequence[Hearing],
    reader: Callable[[str], Reading],
    vocabulary: Vocabulary,
    scored: Sequence[Scored] = (),
) -> list[Meaning]:
    """Everything the hearings, and the lines that were scored, may mean; empty for silence."""
    lines = hypotheses_of(hearings, vocabulary, scored)
    likeliest = _likeliest(scored)
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
        best = max(group, key=lambda line: _worth(line, likeliest) - _loose(readings[line.text]))
        mine = facts[best.text]
        voices = tuple(
            _voice(at, words, hearings, group, alike[mine])
            for at, words in zip(_voices(hearings), heard, strict=True)
        )
        scores = _scores(group, likeliest) if scored else None
        meanings.append(
            Meaning(
                best.text,
                best.hearing,
                readings[best.text],
                mine,
                _signs(readings[best.text], voices, alike[mine], vocabulary, scores),
                scores,
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


@dataclass(frozen=True, slots=True)
class _Likeliest:
    trade: float
    general: float
    language: float
    words: int


def _likeliest(scored: Sequence[Scored]) -> _Likeliest:
    """The best score that any line has by each."""
    known = [one for one in scored if one.general is not None]
    first = max(known, key=lambda one: one.general or 0.0, default=None)
    return _Likeliest(
        max((one.trade for one in scored if one.trade is not None), default=0.0),
        max((one.general for one in scored if one.general is not None), default=0.0),
        max((one.language for one in scored if one.language is not None), default=0.0),
        len(first.text.split()) if first else 0,
    )


def _scores(group: Sequence[Hypothesis], likeliest: _Likeliest) -> Scores:
    lines = {line.scored.text: line.scored for line in group if line.scored}.values()
    trade = _added(one.trade for one in lines)
    general = _added(one.general for one in lines)
    language = max((one.language for one in lines if one.language is not None), default=None)
    best = max(lines, key=lambda one: one.general or -math.inf, default=None)
    return Scores(
        None if trade is None else trade - likeliest.trade,
        None if general is None else general - likeliest.general,
        None if language is None else language - likeliest.language,
        len(best.text.split()) - likeliest.words if best else 0,
    )


def _added(logs: Iterable[float | None]) -> float | None:
    known = [log for log in logs if log is not None]
    if not known:
        return None
    top = max(known)
    return top + math.log(sum(math.exp(log - top) for log in known))


def _worth(line: Hypothesis, likeliest: _Likeliest) -> float:
    """Which of several lines that mean the same stands for them."""
    if line.scored is None or line.scored.general is None:
        return line.weight
    return line.weight + 0.2 * max(line.scored.general - likeliest.general, -20.0)


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
    reading: Reading,
    voices: Sequence[Voice],
    alike: Sequence[Hypothesis],
    vocabulary: Vocabulary,
    scores: Scores | None,
) -> tuple[float, ...]:
    """Those of what was heard alone, then those with scores; the others of the two are nothing."""
    heard = _signs_heard(reading, voices, alike, vocabulary)
    if scores is None:
        return (*heard, *(0.0,) * (len(heard) + len(_signs_scored(Scores()))))
    return (*(0.0,) * len(heard), *heard, *_signs_scored(scores))


TRADE_FLOOR, GENERAL_FLOOR, LANGUAGE_FLOOR = -10.0, -20.0, -20.0
"""Nats behind the likeliest line beyond which a recognizer's opinion says no more."""
NEAR = -3.0
"""Nats within which it counts by another weight than beyond."""


def _signs_scored(scores: Scores) -> tuple[float, ...]:
    trade = TRADE_FLOOR if scores.trade is None else max(scores.trade, TRADE_FLOOR)
    general = GENERAL_FLOOR if scores.general is None else max(scores.general, GENERAL_FLOOR)
    language = LANGUAGE_FLOOR if scores.language is None else scores.language
    return (
        max(trade, NEAR),
        trade,
        float(scores.trade is None),
        max(general, NEAR),
        general,
        float(scores.general is None),
        max(language, LANGUAGE_FLOOR),
        float(max(-5, min(5, scores.words))),
    )


def _signs_heard(
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
