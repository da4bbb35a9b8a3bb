"""Every line that may be what was said: those heard, those repaired by sound, those put together.

Two recognizers rarely slip on the same word. Where their lines differ, a line is put together for
each way of taking the one's words or the other's (alignment and voting after Fiscus, "A
post-processing system to yield reduced word error rates: ROVER", IEEE ASRU 1997; the vote itself
is in `choose`, which weighs whole meanings by the words they keep of each hearing).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain, islice, product

from joblog.dictation.repair import numbered, repaired
from joblog.dictation.words import words_of
from joblog.model import UNHEARD, Hearing, Scored, Vocabulary


@dataclass(frozen=True, slots=True)
class Hypothesis:
    """One way of what was said in one hearing."""

    hearing: int
    family: str
    """Hearings of one recognizer are not independent of each other: "general" is one."""
    first: bool
    """Whether it is the one its hearing gave first, or that one repaired."""
    text: str
    weight: float
    """Its share among the lines of its family; 0 for a line that was not heard in one piece."""
    scored: Scored | None = None
    """What every recognizer holds of it, where it was put to them."""


def candidates(hearings: Sequence[Hearing], vocabulary: Vocabulary) -> tuple[str, ...]:
    """The lines to put to every recognizer, in plain words.

    All that may have been said, and of what each hearing gave first the lines that one word makes
    something else that sounds like it, so that every number word meets its rivals.
    """
    lines = [as_scored(line.text) for line in hypotheses_of(hearings, vocabulary)]
    firsts = [as_scored(hearing.text) for hearing in hearings]
    near = islice(_near_misses([line.split() for line in dict.fromkeys(firsts) if line]), MOST_NEAR)
    return tuple(dict.fromkeys(line for line in chain(lines, near) if line))


def as_scored(text: str) -> str:
    """A line as it is put to the recognizers; "" for one with a word that nobody knows."""
    return "" if UNHEARD in text else " ".join(plain_words(text))


def hypotheses_of(
    hearings: Sequence[Hearing], vocabulary: Vocabulary, scored: Sequence[Scored] = ()
) -> list[Hypothesis]:
    """The lines of all hearings, in their order, those put together, and the others scored."""
    shares = _shares(hearings)
    lines: list[Hypothesis] = []
    for at, hearing in enumerate(hearings):
        options = _with_repairs(_ranked(hearing), vocabulary)
        weights = [math.exp(log - options[0][1]) for _, log in options]
        for (text, log), weight in zip(options, weights, strict=True):
            if text:
                first = log >= options[0][1] - REPAIR
                share = shares[at] * weight / sum(weights)
                lines.append(Hypothesis(at, _family(hearing), first, text, share))
    heard = {line.text for line in lines}
    for text, at in _put_together(hearings).items():
        if text not in heard:
            lines.append(Hypothesis(at, _family(hearings[at]), False, text, 0.0))
    return _with_scores(lines, hearings, scored) if scored else lines


def words_heard(hearing: Hearing) -> list[tuple[str, float]]:
    """Its words in plain spelling, each with its confidence."""
    if not hearing.words:
        return [(word, hearing.confidence) for word in plain_words(hearing.text)]
    return [(word, one.confidence) for one in hearing.words for word in plain_words(one.text)]


def plain_words(text: str) -> list[str]:
    """The words of a line as they can be compared between recognizers."""
    return words_of(text.replace("-", " "))


MOST_LINES = 6
REPAIR = 0.7
"""Nats that a repaired line is behind the line that was heard."""
STEP = 1.0
"""Nats by which a line is at least behind the one ranked before it."""
FREE_LEAD, FREE_SOFTNESS = 9.0, 4.0
"""A line along the job's words is believed against a free one while it is not less likely by more
than about nine nats: a factor of e to the ninth for having had to find words of the trade."""
MOST_NEAR = 20
"""Lines that one word makes something else."""
MOST_DIFFERENCES = 3
"""Stretches in which two hearings differ, beyond which they are not put together."""


def _with_scores(
    lines: Sequence[Hypothesis], hearings: Sequence[Hearing], scored: Sequence[Scored]
) -> list[Hypothesis]:
    by_text = {one.text: one for one in scored}
    known = [replace(line, scored=by_text.get(as_scored(line.text))) for line in lines]
    there = {as_scored(line.text) for line in lines}
    near = [
        Hypothesis(at, _family(hearings[at]), False, one.text, 0.0, one)
        for one in scored
        if one.text not in there
        for at in (_nearest(one.text, hearings),)
    ]
    return [*known, *near]


def _nearest(text: str, hearings: Sequence[Hearing]) -> int:
    """The hearing that a line differs from in the fewest words."""
    from rapidfuzz.distance import Levenshtein

    apart = [Levenshtein.distance(text.split(), plain_words(one.text)) for one in hearings]
    return apart.index(min(apart))


def _family(hearing: Hearing) -> str:
    return hearing.recognizer.split()[0]


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
    found: dict[str, float] = {}
    for text, log in options:
        number = numbered(text, vocabulary)
        if number is not None:
            found[number] = max(found.get(number, -math.inf), log)
        found[text] = max(found.get(text, -math.inf), log if number is None else log - REPAIR)
        repair = repaired(text, vocabulary)
        if repair is not None:
            found[repair] = max(found.get(repair, -math.inf), log - REPAIR)
    return list(found.items())


def _shares(hearings: Sequence[Hearing]) -> list[float]:
    """How much of its recognizer each hearing speaks for; they add up to one in each family."""
    free = next((one for one in hearings if one.recognizer.endswith("free")), None)
    shares = []
    for hearing in hearings:
        if free is None or _family(hearing) != _family(free):
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


# --- near misses --------------------------------------------------------------------------------

_ALIKE = """
thirteen thirty; fourteen forty four; fifteen fifty; sixteen sixty sixteenth; seventeen seventy;
eighteen eighty eight; nineteen ninety nine; thirty thirteen three; forty fourteen four; fifty
fifteen five; sixty sixteen six sixteenth; seventy seventeen seven; eighty eighteen eight; ninety
nineteen nine; sixteenth sixteen sixty; sixteenths sixteen eighths; eight eighth a eighty; eighth
eight; eighths eight sixteenths; a eight; four for forty fourteen five; for four; two to ten three;
to two; too two; one nine a; nine five one ninety; five nine four fifty; six sixty eight sixteen;
seven eleven seventy; three thirty eight two; ten two eleven; eleven seven ten; twelve twenty two;
twenty twelve two; half have eighth; quarter four; quarters eighths; oh zero four; zero oh;
used need; need used
"""
"""Words that are taken for each other by sound, each before those it is taken for, the nearest
first; from what recognizers of machine voices and of people wrote, and common sense."""
_RIVALS = {words[0]: words[1:] for words in (one.split() for one in _ALIKE.split(";"))}
_TWO = {
    "forty": "four two", "four two": "forty", "twenty": "twenty two", "sixty": "six two",
    "six two": "sixty", "fifty": "five three", "eighty": "eight two", "eight two": "eighty",
    "ninety": "nine two", "nine two": "ninety", "seventy": "seven two", "thirty": "thirty two",
}  # fmt: skip
"""Rows of words that are taken for one, and one for a row."""


def _near_misses(lines: Sequence[list[str]]) -> Iterator[str]:
    """Each word's nearest rival in its place first, in every line; then those less near."""
    swaps = [list(_swaps(words)) for words in lines]
    for rank in range(max((len(one) for own in swaps for one in own), default=0)):
        for own in swaps:
            for others in own:
                yield from others[rank : rank + 1]


def _swaps(words: list[str]) -> Iterator[list[str]]:
    """By place, the line with something else in that place, the nearest first."""
    for at, word in enumerate(words):
        before, after = words[:at], words[at + 1 :]
        others = [(*before, rival, *after) for rival in _RIVALS.get(word, ())]
        if word in _TWO:
            others.append((*before, _TWO[word], *after))
        pair = " ".join(words[at : at + 2])
        if pair in _TWO:
            others.append((*before, _TWO[pair], *after[1:]))
        if others:
            yield [" ".join(other) for other in others]


# --- putting lines together -------------------------------------------------------------------


def _put_together(hearings: Sequence[Hearing]) -> dict[str, int]:
    """Lines of the first recognizer's words and another's, with the hearing most is taken from."""
    found: dict[str, int] = {}
    if not hearings:
        return found
    own = [word for word, _ in words_heard(hearings[0])]
    for at in range(len(hearings) - 1, 0, -1):
        if _family(hearings[at]) == _family(hearings[0]):
            continue
        other = [word for word, _ in words_heard(hearings[at])]
        for text, of_own in _either(own, other):
            found.setdefault(text, 0 if of_own else at)
    return found


def _either(own: list[str], other: list[str]) -> Iterator[tuple[str, bool]]:
    """Each way of taking the one's words here and the other's there; whether it is mostly own."""
    pieces = _pieces(own, other)
    differing = [at for at, (one, two) in enumerate(pieces) if one != two]
    if not 2 <= len(differing) <= MOST_DIFFERENCES:
        return
    for taken in product((0, 1), repeat=len(differing)):
        if len(set(taken)) == 1:
            continue
        which = dict(zip(differing, taken, strict=True))
        words = [word for at, piece in enumerate(pieces) for word in piece[which.get(at, 0)]]
        yield " ".join(words), 2 * sum(taken) < len(taken)


def _pieces(own: list[str], other: list[str]) -> list[tuple[list[str], list[str]]]:
    """Both lines in the same number of pieces, which are alike and different in turn."""
    from rapidfuzz.distance import Levenshtein

    pieces: list[tuple[list[str], list[str]]] = []
    differed = False
    for step in Levenshtein.opcodes(own, other):
        piece = own[step.src_start : step.src_end], other[step.dest_start : step.dest_end]
        differs = step.tag != "equal"
        if differs and differed:
            piece = pieces[-1][0] + piece[0], pieces.pop()[1] + piece[1]
        pieces.append(piece)
        differed = differs
    return pieces
