"""Which meaning is likeliest, and how sure we are of an entry: weights, and what they weigh.

Both are fitted with a ridge to machine voices that our recognizer was not trained on, as no user's
was, reading the open half of the phrase corpus, clean and in noise. `python -m
tests.bench.calibrate` fits them anew and prints how they hold on phrases that were left out.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

CHOICE = (
    0.45, 0.19, -0.93, -0.0, -0.2, 2.05, 0.97, 1.04, 4.15, 1.63, 2.66, -0.21, 0.03, -0.35, -2.17,
    -0.3, -0.62, -0.16, -1.14, -1.79, 1.48, -1.4,
)  # fmt: skip
"""Of a meaning's signs, in the order of `weigh`: log shares of the two recognizers; then of each
hearing (trade, free, constrained) whether it comes first, that times its confidence, its words
that are kept, words it did not hear; doubts, unread words, a mere note, one with a doubt, entries,
notes, places of the job, other places."""


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


def confidence(evidence: Evidence) -> float:
    """Probability that nothing of the entry is wrong or missing beside it, from 0 to 1."""
    total = sum(weight * sign for weight, sign in zip(WEIGHTS, signs_of(evidence), strict=True))
    return 1 / (1 + math.exp(-total))


def signs_of(evidence: Evidence) -> tuple[float, ...]:
    """The terms of the logistic regression (Cox 1958), in the order of `WEIGHTS`."""
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


def _log_odds(probability: float) -> float:
    return max(-8.0, min(8.0, math.log((probability + 1e-6) / (1 - probability + 1e-4))))


WEIGHTS = (
    -1.32, 0.08, 0.3, -0.25, 1.69, 0.65, 1.06, 0.95, 0.11, 1.1, -1.03, -0.1, -0.45, -0.29, -1.67,
)  # fmt: skip
