"""How likely words follow one another on a job, learned from phrases."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterable
from itertools import chain

Context = tuple[str, ...]

BEGUN: Context = ("", "")
"""The context of an utterance's first word."""
FINISH = ""
"""The word after the last one."""


class Expectation:
    """Probabilities of the next word given the two before it.

    Witten-Bell smoothing (Witten and Bell 1991): each context keeps room for words it has not
    been followed by, in proportion to how many different ones it has been followed by, and that
    room is shared out as the shorter context would.
    """

    def __init__(self, phrases: Iterable[str], words: int) -> None:
        """`words` is how many different words there may be at all."""
        self._words = words
        rows = [(*BEGUN, *phrase.split(), FINISH) for phrase in phrases]
        triples = Counter(
            chain.from_iterable(zip(row, row[1:], row[2:], strict=False) for row in rows)
        )
        self._after: dict[Context, Counter[str]] = defaultdict(Counter)
        for (before, last, word), times in triples.items():
            for context in ((before, last), (last,), ()):
                self._after[context][word] += times
        self._totals = {context: after.total() for context, after in self._after.items()}
        self._known: dict[tuple[Context, str], float] = {}

    def log_probability(self, word: str, context: Context) -> float:
        """Natural log-probability of a word (or `FINISH`) after the last two words."""
        key = (context, word)
        if key not in self._known:
            self._known[key] = math.log(self._probability(word, context))
        return self._known[key]

    def _probability(self, word: str, context: Context) -> float:
        shorter = self._probability(word, context[1:]) if context else 1 / self._words
        after = self._after.get(context)
        if not after:
            return shorter
        return (after[word] + len(after) * shorter) / (self._totals[context] + len(after))
