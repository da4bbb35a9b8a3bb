"""Several hearings of one utterance: which reading stands, and how sure of each entry we are.

Two recognizers listen. Each gives competing lines with log-probabilities; every line is read, and
what counts is not the words but the facts they make. A fact's support in one recognizer is the
share of its lines, by probability, that hold the fact. The reading stands that both support most
(a product of experts: Hinton, Neural Computation 2002), so that a line ranked second by one
recognizer and first by the other wins over a line that the other never heard.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from joblog.dictation.confidence import Evidence, confidence
from joblog.dictation.draft import Context
from joblog.dictation.grammar import numbers_in
from joblog.dictation.read import read
from joblog.dictation.repair import repaired
from joblog.model import Doubt, Entry, Hearing, Kind, Reading, Vocabulary

Fact = tuple[object, ...]


def best(
    hearings: Sequence[Hearing], vocabulary: Vocabulary, context: Context | None = None
) -> tuple[int, Reading]:
    """The index of the hearing that stands, and its reading.

    The reading may come from a competing line of that hearing. Entries of which the two
    recognizers are not sure enough together get a doubt that quotes what else was heard.
    """
    lines = lines_of(hearings, lambda text: read(text, vocabulary, context), vocabulary)
    if not lines:
        return 0, Reading()
    chosen = standing(lines, vocabulary)
    families = sorted({line.family for line in lines})
    reading = chosen.reading
    sure = tuple(
        confidence(evidence_of(at, chosen, lines, vocabulary)) for at in range(len(reading.entries))
    )
    doubts = list(reading.doubts)
    for at, entry in enumerate(reading.entries):
        why = _why_not(entry, sure[at], lines, chosen, families)
        if why:
            doubts.append(Doubt(at, why))
    return chosen.hearing, Reading(reading.entries, tuple(doubts), reading.unread, sure)


def standing(lines: Sequence[Line], vocabulary: Vocabulary) -> Line:
    """The line that stands."""
    families = sorted({line.family for line in lines})
    return max(lines, key=lambda line: _rank(line, lines, families, vocabulary))


def evidence_of(at: int, chosen: Line, lines: Sequence[Line], vocabulary: Vocabulary) -> Evidence:
    """What speaks for an entry of the line that stands."""
    entry = chosen.reading.entries[at]
    numbers = numbers_in(chosen.text, vocabulary)
    bound = [line for line in lines if line.family == "general" and not line.free]
    return Evidence(
        trade=_support(entry, "trade", lines),
        general=_support(entry, "general", lines),
        trade_numbers=any(
            numbers_in(line.text, vocabulary) == numbers
            for line in lines
            if line.family == "trade" and line.weight >= HEARD
        ),
        free_numbers=any(
            numbers_in(line.text, vocabulary) == numbers for line in lines if line.free
        ),
        agreed=_first_in(entry, "trade", lines) and _first_in(entry, "general", lines),
        sure=max((line.sure for line in bound), default=0.0),
        doubts=any(doubt.entry == at for doubt in chosen.reading.doubts),
    )


def _first_in(entry: Entry, family: str, lines: Sequence[Line]) -> bool:
    """Whether the first line of any hearing of a recognizer holds the fact."""
    fact = fact_of(entry)
    return any(line.first and fact in line.facts for line in lines if line.family == family)


HEARD = 0.05
"""Share from which a line counts as heard at all."""


def fact_of(entry: Entry) -> Fact:
    """What must not be wrong in silence: kind, item and every number."""
    inner = fact_of(entry.replacement) if entry.replacement else None
    return (
        entry.kind,
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
        # Two notes are the same only word for word: any words at all can be a note.
        entry.note if entry.kind == "note" else None,
        inner,
    )


# --- the lines and what they weigh ------------------------------------------------------------

MOST_LINES = 6
SURE = 0.2
"""Share of its lines from which a recognizer counts as having heard something."""
DOUBTFUL = 0.9
"""Confidence below which an entry waits for a person."""
FREE_LEAD, FREE_SOFTNESS = 9.0, 4.0
"""A line along the job's words is believed against a free one while it is not less likely by more
than about nine nats: a factor of e to the ninth for having had to find words of the trade."""
CLEAR = 0.7
"""Confidence from which free words are taken for what was said."""
FLOOR = 0.02
"""What a recognizer that never heard a fact still gives it."""


@dataclass(frozen=True, slots=True)
class Line:
    hearing: int
    family: str
    """Hearings of one recognizer are not independent of each other: "general" is one."""
    free: bool
    first: bool
    """Whether it is the one its hearing gave first, or that one repaired."""
    text: str
    sure: float
    """The confidence of its hearing."""
    weight: float
    """Its share among the lines of its family."""
    reading: Reading
    facts: tuple[Fact, ...]


def lines_of(
    hearings: Sequence[Hearing], reader: Callable[[str], Reading], vocabulary: Vocabulary
) -> list[Line]:
    """Every line that may stand, those with words repaired by sound among them."""
    read_before: dict[str, Reading] = {}
    shares = _shares(hearings)
    lines: list[Line] = []
    for at, hearing in enumerate(hearings):
        options = _with_repairs(_ranked(hearing), vocabulary)
        weights = [math.exp(log - options[0][1]) for _, log in options]
        for (text, log), weight in zip(options, weights, strict=True):
            if not text:
                continue
            if text not in read_before:
                read_before[text] = reader(text)
            reading = read_before[text]
            lines.append(
                Line(
                    at,
                    hearing.recognizer.split()[0],
                    hearing.recognizer.endswith("free"),
                    log >= options[0][1] - REPAIR,
                    text,
                    hearing.confidence,
                    shares[at] * weight / sum(weights),
                    reading,
                    tuple(map(fact_of, reading.entries)),
                )
            )
    return lines


def _ranked(hearing: Hearing) -> list[tuple[str, float]]:
    """Its competing lines with log-probabilities that fall from one to the next.

    A recognizer that expects the job's phrases ranks by more than the sound of the words; the
    log-probabilities it gives are those of the sound alone.
    """
    options: list[tuple[str, float]] = []
    for one in hearing.alternatives[:MOST_LINES]:
        log = one.log_probability
        options.append((one.text, min(log, options[-1][1] - STEP) if options else log))
    return options or [(hearing.text, 0.0)]


def _with_repairs(
    options: list[tuple[str, float]], vocabulary: Vocabulary
) -> list[tuple[str, float]]:
    found = dict(options)
    for text, log in options:
        repair = repaired(text, vocabulary)
        if repair is not None:
            found[repair] = max(found.get(repair, -math.inf), log - REPAIR)
    return list(found.items())


REPAIR = 0.7
"""Nats that a repaired line is behind the line that was heard."""
STEP = 1.0
"""Nats by which a line is at least behind the one ranked before it."""


def _shares(hearings: Sequence[Hearing]) -> list[float]:
    """How much of its recognizer each hearing speaks for; they add up to one in each family."""
    free = next((one for one in hearings if one.recognizer.endswith("free")), None)
    shares = []
    for hearing in hearings:
        if free is None or hearing.recognizer.split()[0] != free.recognizer.split()[0]:
            shares.append(1.0)
            continue
        bound = next((o for o in hearings if o.recognizer.endswith("constrained")), None)
        if bound is None or not bound.text:
            share = 1.0
        else:
            behind = _likelihood(free) - _likelihood(bound)
            share = 1 / (1 + math.exp((FREE_LEAD - behind) / FREE_SOFTNESS))
        shares.append(share if hearing is free else 1 - share)
    return shares


def _likelihood(hearing: Hearing) -> float:
    return hearing.alternatives[0].log_probability if hearing.alternatives else 0.0


def _rank(
    line: Line, lines: Sequence[Line], families: Sequence[str], vocabulary: Vocabulary
) -> tuple[float, ...]:
    """Higher is better: support of all its facts in both recognizers, then a whole reading."""
    support = sum(math.log(FLOOR + _together(line, family, lines)) for family in families)
    plain_note = [entry.kind for entry in line.reading.entries] == ["note"]
    loose = len(line.reading.doubts) + 0.5 * len(line.reading.unread.split())
    # A note that names amounts is an entry of which a word was not heard.
    loose += 4.5 if plain_note and line.reading.doubts else float(plain_note)
    textual = any(entry.kind in _TEXT for entry in line.reading.entries)
    words = 0.5 if line.free == textual else 0.0
    return (
        support - 0.7 * min(loose, 6.0) + words + _places(line, lines, vocabulary),
        line.weight,
    )


def _together(line: Line, family: str, lines: Sequence[Line]) -> float:
    return sum(o.weight for o in lines if o.family == family and o.facts == line.facts)


def _places(line: Line, lines: Sequence[Line], vocabulary: Vocabulary) -> float:
    """How well the places of a line fit: the job's own are likelier than words like them."""
    named = [entry.place for entry in line.reading.entries if entry.place]
    known = sum(place in vocabulary.places for place in named)
    return 0.6 * (known - (len(named) - known)) / max(1, len(named))


def _support(entry: Entry, family: str, lines: Sequence[Line]) -> float:
    fact = fact_of(entry)
    return sum(one.weight for one in lines if one.family == family and fact in one.facts)


_TEXT: tuple[Kind, ...] = ("note", "problem", "covered", "photo", "weather")


def _why_not(
    entry: Entry,
    sure: float,
    lines: Sequence[Line],
    chosen: Line,
    families: Sequence[str],
) -> str | None:
    """Why the recognizers do not vouch for an entry together; None when they do."""
    if len(families) < 2:
        return "only one recognizer heard anything"
    if entry.kind == "note":
        rival = _rival(lines)
        if rival is not None:
            return f"only words, or this: {rival.text!r}?"
        return None if chosen.sure >= CLEAR else "the words are not clear"
    if sure >= DOUBTFUL:
        return None
    fact = fact_of(entry)
    others = [line for line in lines if fact not in line.facts and line.text != chosen.text]
    other = max(others, key=lambda line: line.weight, default=None)
    if other is None or other.weight < HEARD:
        return "not heard clearly"
    return f"heard two ways; the other is: {other.text!r}"


def _rival(lines: Sequence[Line]) -> Line | None:
    """The likeliest line that holds more than words, where its recognizer means it."""
    told = [line for line in lines if any(entry.kind != "note" for entry in line.reading.entries)]
    for family in sorted({line.family for line in told}):
        mine = [line for line in told if line.family == family]
        if sum(line.weight for line in mine) >= SURE:
            return max(mine, key=lambda line: line.weight)
    return None
