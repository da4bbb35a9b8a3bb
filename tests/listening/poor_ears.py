"""Recognizers that go wrong when they are told to, in the process where hearing is done.

The loudness of a sound is the order: what is meant by it stands in `ORDERS`.
"""

from __future__ import annotations

import os
import time

import numpy as np

from joblog.model import Alternative, Hearing, Vocabulary, Word

ORDERS = {0.1: "dies", 0.2: "hangs", 0.3: "fails", 0.4: "fails without a word", 0.5: "hears"}
LINE = "eleven and seven eighths"


def sound(order: str, seconds: float = 1.0) -> np.ndarray:
    [loud] = [loud for loud, what in ORDERS.items() if what == order]
    return np.full(round(16_000 * seconds), loud, np.float32)


class Poor:
    """Hears LINE, with how often it was begun anew, and in which process."""

    def __init__(self, name: str) -> None:
        self.name, self.begun = name, 0

    def begin(self) -> None:
        self.begun += 1

    def hear(
        self, samples: np.ndarray, vocabulary: Vocabulary, start: float = 0.0
    ) -> tuple[Hearing, ...]:
        order = ORDERS.get(round(float(samples.max()), 1), "hears")
        if order == "dies":
            os._exit(1)
        if order == "hangs":
            time.sleep(3600)
        if order == "fails":
            raise ValueError("the model is of another make")
        if order == "fails without a word":
            raise ValueError
        expected = "pause" in vocabulary.commands
        told = Alternative(f"{os.getpid()} {self.begun} {expected}", -1.0)
        words = tuple(Word(word, start, start + 1, 1.0) for word in LINE.split())
        return (Hearing(self.name, LINE, words, (Alternative(LINE, 0.0), told), 1.0),)


class PoorOfTwo(Poor):
    """One that cannot be begun anew, and hears twice."""

    begin = None  # type: ignore[assignment]

    def hear(
        self, samples: np.ndarray, vocabulary: Vocabulary, start: float = 0.0
    ) -> tuple[Hearing, ...]:
        [one] = super().hear(samples, vocabulary, start)
        return (one, Hearing(f"{self.name} again", *[one.text, one.words, one.alternatives, 1.0]))
