"""How sure one must be of what was heard: weights, the least confidence, words that are mixed up.

What comes with joblog holds for voices it has never met; `joblog.voice` learns another one from
what a person decides.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from joblog.dictation.confidence import WEIGHTS

DOUBTFUL = 0.958
"""Confidence below which an entry waits for a person, of a voice of which nothing is known: as the
promise of one in 200 wrong without a question asks of strangers (`voice.promise`). Of what three
machine voices that nothing was trained on said, clean and at 10 dB, 7 of 1,688 entries were wrong
above it, and 21 in 100 were asked about."""


@dataclass(frozen=True, slots=True)
class Judgement:
    """What decides whether an entry that was heard waits for a person."""

    weights: tuple[float, ...] = WEIGHTS
    """Of the signs, in their order; see `confidence.signs_of`."""
    asks_below: float = DOUBTFUL
    mixed_up: tuple[tuple[str, float], ...] = ()
    """Words that were taken for others before, and what that takes off the log-odds, above 0."""

    def sureness(self, signs: Sequence[float], words: Collection[str] = ()) -> float:
        """Probability that nothing of an entry is wrong, 0 to 1; `words` are those of its facts."""
        total = math.fsum(
            weight * sign for weight, sign in zip(self.weights, signs, strict=True)
        ) - self.off(words)
        return 1 / (1 + math.exp(-max(-700.0, total)))

    def off(self, words: Collection[str]) -> float:
        """What the worst of these words takes off the log-odds."""
        return max((off for word, off in self.mixed_up if word in words), default=0.0)


SHIPPED = Judgement()
"""For a voice of which nothing is known."""
