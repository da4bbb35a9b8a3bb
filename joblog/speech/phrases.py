"""What is likely to be said on a job: sentences of the grammar, for recognizers to expect.

Nothing is refused because it is not here; what is here is merely expected.
"""

from __future__ import annotations

import random
from functools import lru_cache
from itertools import islice

from joblog.dictation.generate import sentences
from joblog.dictation.grammar import known_words
from joblog.dictation.numbers import spelled
from joblog.dictation.productions import productions
from joblog.model import Vocabulary
from joblog.quantity import SPOKEN_UNITS

__all__ = ["ONES", "TENS", "expected_words", "phrases", "spelled"]

COUNT = 30_000
"""Phrases drawn: every fraction comes after every number some time."""

COMMANDED = 6
"""Times that each command is among the phrases: two hundred of them are then one in twenty-five."""

ONES = tuple(map(spelled, range(20)))
TENS = tuple(map(spelled, range(20, 100, 10)))


@lru_cache(maxsize=8)
def phrases(vocabulary: Vocabulary) -> tuple[str, ...]:
    """Phrases that may be said on this job, in lower case and spelled out, the same every time."""
    said = islice(sentences(vocabulary, random.Random(7)), COUNT)
    return (*said, *vocabulary.commands * COMMANDED)


def expected_words() -> frozenset[str]:
    """Every word that a phrase can have on any job."""
    units = " ".join(name for pair in SPOKEN_UNITS.values() for name in pair)
    numbers = (*ONES, *TENS, "hundred", "thousand")
    return known_words() | productions().words() | {*units.split(), *numbers}
