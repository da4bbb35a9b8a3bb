"""When words were said, for a recognizer that does not tell."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from joblog.speech.recognizer import RATE

FRAME = RATE // 100
FLOOR = 0.02
"""A frame with less of the loudest frame's power than this counts as a pause."""


def lay_over(words: Sequence[str], samples: NDArray[np.float32]) -> list[tuple[float, float]]:
    """Start and end of each word in seconds: sounding time shared out by the number of letters.

    An estimate, good to a few tenths of a second; pauses get no letters.
    """
    if not words:
        return []
    lengths = np.array([len(word) + 1 for word in words], float)
    sounding = _sounding(samples)
    marks = np.concatenate([[0.0], np.cumsum(lengths)]) / lengths.sum()
    run = np.concatenate([[0.0], np.cumsum(sounding)])
    run /= run[-1]
    seconds = np.linspace(0.0, len(samples) / RATE, len(run))
    # Where the run stands still is a pause: a word begins after it and ends before it.
    starts = [seconds[np.searchsorted(run, mark, "right") - 1] for mark in marks[:-1]]
    ends = [seconds[min(np.searchsorted(run, mark - 1e-9), len(run) - 1)] for mark in marks[1:]]
    return [
        (float(begin), float(max(begin, min(end, after))))
        for begin, end, after in zip(starts, ends, [*starts[1:], seconds[-1]], strict=True)
    ]


def _sounding(samples: NDArray[np.float32]) -> NDArray[np.float64]:
    frames = len(samples) // FRAME
    if frames == 0:
        return np.ones(1)
    power = np.square(samples[: frames * FRAME].astype(float)).reshape(frames, FRAME).mean(axis=1)
    loud = np.quantile(power, 0.95)
    sounding = (power > FLOOR * loud).astype(float)
    return sounding if sounding.any() else np.ones(frames)
