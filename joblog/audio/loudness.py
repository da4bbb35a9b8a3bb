"""How loud one utterance is, and what is beside the voice in it."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from joblog.audio.decode import RATE, Samples

FRAME = RATE * 32 // 1000
"""Samples that are measured at a time."""
LEAST = -90.0
"""dBFS; softer is no sound at all."""


class Loudness(NamedTuple):
    """dBFS; a full-scale square wave is 0."""

    level: float
    """Of the loudest quarter: the voice."""
    noise: float
    """Of the softest tenth: the air before and after the words, and between them."""


def loudness(samples: Samples) -> Loudness:
    """Of the sound of one utterance with a little air around it, mono, -1 to 1."""
    whole = samples[: len(samples) // FRAME * FRAME].astype(np.float64)
    if not len(whole):
        return Loudness(LEAST, LEAST)
    power = np.sort(np.square(whole.reshape(-1, FRAME)).mean(axis=1))
    soft, loud = power[: max(1, len(power) // 10)], power[-max(1, len(power) // 4) :]
    return Loudness(_decibels(loud.mean()), _decibels(soft.mean()))


def _decibels(power: float) -> float:
    return round(max(LEAST, 10 * float(np.log10(max(power, 1e-12)))), 1)
