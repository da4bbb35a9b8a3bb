"""Which meaning is likeliest, and how sure we are of an entry: weights, and what they weigh.

Those for lines that were only heard are fitted with a ridge to machine voices that our recognizer
was not trained on, as no user's was, reading the open half of the phrase corpus, clean and in
noise. Those for scored lines are the same, with a little for the scores: refitted to the models
that ship now, left out by voice and by phrase, they asked no less for as much that is silently
wrong. `python -m tests.bench.calibrate` fits them anew and prints how they hold; `--as-it-is`
judges these.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

_CHOICE_HEARD = (
    0.45, 0.19, -0.93, -0.0, -0.2, 2.05, 0.97, 1.04, 4.15, 1.63, 2.66, -0.21, 0.03, -0.35, -2.17,
    -0.3, -0.62, -0.16, -1.14, -1.79, 1.48, -1.4,
)  # fmt: skip
_CHOICE_SCORED = (
    0.45, 0.19, -0.93, -0.0, -0.2, 2.05, 0.97, 1.04, 4.15, 1.63, 2.66, -0.21, 0.03, -0.35, -2.17,
    -0.3, -0.62, -0.16, -1.14, -1.79, 1.48, -1.4,
    0.0, 0.1, 0.0, 0.0, 0.2, 0.0, 0.0, 0.1, 0.0,
)  # fmt: skip
CHOICE = (*_CHOICE_HEARD, *_CHOICE_SCORED)
"""Of a meaning's signs, in the order of `weigh`: log shares of the two recognizers; then of each
hearing (trade, free, constrained) whether it comes first, that times its confidence, its words
that are kept, words it did not hear; doubts, unread words, a mere note, one with a doubt, entries,
notes, places of the job, other places. All these twice: where no lines were scored, and where they
were. Then the scores: by trade near the best line, at all, and whether it cannot tell; by general
near the best line of the job, behind that one, behind the best of all, and whether it cannot tell;
the language's; how many words more than the line that general likes best."""


@dataclass(frozen=True, slots=True)
class ScoredEvidence:
    """What lines that were put to every recognizer say of one entry."""

    margin: float
    """Nats by which the meaning leads the likeliest of those that say otherwise of the entry."""
    worst: float
    """Probability of the field (number, item, place or kind) that is least agreed on."""
    trade: float
    """Nats by which the entry leads all others by the trade recognizer's scores alone; behind if
    negative, 0 where it cannot tell."""
    general: float
    """The same by the general recognizer."""
    untold: bool
    """Whether the trade recognizer could not tell of any line that holds the entry."""
    numbers: int
    """Number words in the line."""
    above_noise: float | None
    """dB of the voice over what is beside it. How loud it is by itself says nothing that could be
    fitted: every machine voice has its own loudness."""


@dataclass(frozen=True, slots=True)
class Evidence:
    """What speaks for one entry."""

    meaning: float
    """How likely the whole meaning is among all that was heard, 0 to 1."""
    fact: float
    """The same of all meanings that hold this very fact; of a note, whatever its words."""
    everyone: bool
    """Whether the first line of every hearing holds the fact."""
    sure: tuple[float, float, float]
    """Confidence of each hearing (trade, free, constrained) whose first line holds it, else 0."""
    kept: tuple[float, float, float]
    """Share of each hearing's words that the meaning keeps, by their confidence."""
    doubts: bool
    """Whether the words themselves already leave a doubt about the entry."""
    unread: int
    """Words that belong to no entry."""
    note: bool
    measure: bool
    several: bool
    """Whether other entries were told in the same breath."""
    scores: ScoredEvidence | None = None
    """What scored lines add; None where none were scored."""


def confidence(evidence: Evidence) -> float:
    """Probability that nothing of the entry is wrong or missing beside it, from 0 to 1."""
    total = sum(weight * sign for weight, sign in zip(WEIGHTS, signs_of(evidence), strict=True))
    return 1 / (1 + math.exp(-total))


def signs_of(evidence: Evidence) -> tuple[float, ...]:
    """The terms of the logistic regression (Cox 1958), in the order of `WEIGHTS`.

    Those for lines that were only heard, then those for scored ones; the others of the two are 0.
    """
    heard = _signs_heard(evidence)
    if evidence.scores is None:
        return (*heard, *(0.0,) * (len(heard) + SCORE_SIGNS))
    return (*(0.0,) * len(heard), *heard, *_signs_scored(evidence.scores))


def _signs_heard(evidence: Evidence) -> tuple[float, ...]:
    return (
        1.0,
        _log_odds(evidence.meaning),
        _log_odds(evidence.fact),
        float(evidence.everyone),
        *evidence.sure,
        *evidence.kept,
        float(evidence.doubts),
        float(min(evidence.unread, 4)),
        float(evidence.note),
        float(evidence.measure),
        float(evidence.several),
    )


SCORE_SIGNS = 8
MOST = 12.0
"""Nats; a greater lead says no more."""
USUAL_ABOVE = 30.0
"""dB of a voice over a quiet place."""


def _signs_scored(scores: ScoredEvidence) -> tuple[float, ...]:
    above = USUAL_ABOVE if scores.above_noise is None else scores.above_noise
    return (
        _bounded(scores.margin, MOST),
        _log_odds(scores.worst),
        _bounded(scores.trade, MOST),
        _bounded(scores.general, MOST),
        min(0.0, _bounded(scores.general, MOST)),
        float(scores.untold),
        float(min(scores.numbers, 6)),
        min(0.0, max(-4.0, (above - USUAL_ABOVE) / 10)),
    )


def _bounded(number: float, most: float) -> float:
    return max(-most, min(most, number))


def _log_odds(probability: float) -> float:
    return max(-8.0, min(8.0, math.log((probability + 1e-6) / (1 - probability + 1e-4))))


_WEIGHTS_HEARD = (
    -1.32, 0.08, 0.3, -0.25, 1.69, 0.65, 1.06, 0.95, 0.11, 1.1, -1.03, -0.1, -0.45, -0.29, -1.67,
)  # fmt: skip
_WEIGHTS_SCORED = (
    -1.32, 0.08, 0.3, -0.25, 1.69, 0.65, 1.06, 0.95, 0.11, 1.1, -1.03, -0.1, -0.45, -0.29, -1.67,
    0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0,
)  # fmt: skip
WEIGHTS = (*_WEIGHTS_HEARD, *_WEIGHTS_SCORED)
