"""The last seconds of a sound, found again by where in it they were."""

from __future__ import annotations

from collections import deque
from typing import Any, Generic, TypeVar

import numpy as np
from numpy.typing import NDArray

from joblog.audio.decode import RATE

Sample = TypeVar("Sample", bound=np.generic)

REMEMBERED = 30 * RATE
"""Samples at 16 kHz: the longest utterance and what is around it."""


class Track(Generic[Sample]):
    """Sound by the number of its samples, counted from the first that ever came."""

    def __init__(self, remembered: int = REMEMBERED) -> None:
        self._pieces: deque[NDArray[Sample]] = deque()
        self._remembered = remembered
        self._first = 0
        self.end = 0
        """How many samples came so far."""

    def add(self, sound: NDArray[Sample]) -> None:
        self._pieces.append(sound)
        self.end += len(sound)
        while self.end - self._first - len(self._pieces[0]) >= self._remembered:
            self._first += len(self._pieces.popleft())

    def part(self, begin: int, end: int) -> NDArray[Sample]:
        """The samples from `begin` up to `end`, as far as they came and are still remembered."""
        found: list[NDArray[Sample]] = []
        at = self.end
        # From the end, where what is asked for nearly always lies.
        for piece in reversed(self._pieces):
            at -= len(piece)
            found.append(piece[max(0, begin - at) : max(0, end - at)])
            if at <= begin:
                break
        whole: NDArray[Any] = np.concatenate(found[::-1])
        return whole
