"""How sure we are of an entry, from what the recognizers' lines say of it.

A logistic regression (Cox, J. R. Stat. Soc. B 1958) on a handful of signs of agreement, fitted
with a ridge to machine voices reading the open half of the phrase corpus:
`python -m tests.bench.calibrate` fits it anew and prints how it holds on the other half.
"""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Evidence:
    """What speaks for one entry; shares and confidences from 0 to 1."""

    trade: float
    """Share of the trade recognizer's lines that hold the very same fact."""
    general: float
    """The same of the general recognizer's lines, free and constrained."""
    trade_numbers: bool
    """Whether the trade recognizer heard the same numbers, whatever else it made of them."""
    free_numbers: bool
    """Whether the general recognizer, left free, heard the same numbers."""
    sure: float
    """Confidence of the constrained hearing in itself."""
    agreed: bool
    """Whether the first line of both recognizers holds the fact."""
    doubts: bool
    """Whether the words themselves already leave a doubt."""


def confidence(evidence: Evidence) -> float:
    """Probability that the entry is right in kind, item and every number, from 0 to 1."""
    total = sum(weight * sign for weight, sign in zip(WEIGHTS, signs_of(evidence), strict=True))
    return 1 / (1 + math.exp(-total))


def signs_of(evidence: Evidence) -> tuple[float, ...]:
    """The terms of the regression, in the order of `WEIGHTS`."""
    both = min(evidence.trade, evidence.general) >= HEARD_IT
    numbers = evidence.trade_numbers and evidence.free_numbers
    return (
        1.0,
        float(both),
        float(evidence.trade >= MEANS_IT),
        float(evidence.general >= MEANS_IT),
        float(evidence.trade_numbers),
        float(evidence.free_numbers),
        float(both and numbers),
        float(evidence.agreed),
        float(evidence.agreed and numbers),
        evidence.sure,
        float(evidence.sure >= MEANS_IT),
        float(evidence.doubts),
    )


HEARD_IT, MEANS_IT = 0.15, 0.75
"""Shares from which a recognizer heard a fact at all, and from which it means it."""

WEIGHTS = (0.23, 0.97, 0.26, 1.22, 0.03, 0.66, 0.06, 0.65, 0.11, 0.61, -0.66, -2.25)
