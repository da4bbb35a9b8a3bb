"""Short tones for those who want no voice, told apart by rhythm.

Not by pitch alone: earmuffs and years of saws take the high tones first, so all of them lie low.
"""

from __future__ import annotations

from collections.abc import Mapping
from itertools import chain
from typing import Literal

import numpy as np
from numpy.typing import NDArray

Samples = NDArray[np.float32]
Beep = Literal["kept", "doubtful", "dropped", "not understood", "paused", "resumed"]

RATE = 16_000
SHORT, LONG, GAP = 0.09, 0.32, 0.09
"""Seconds. A long tone is more than three short ones."""
PEAK = 0.5

RHYTHMS: Mapping[Beep, tuple[str, float]] = {
    "kept": (".", 880.0),
    "doubtful": (".-", 660.0),
    "dropped": ("-", 440.0),
    "not understood": ("...", 550.0),
    "paused": ("--", 440.0),
    "resumed": ("-.", 660.0),
}
"""Short and long tones, and their pitch in Hz."""


def beep(name: Beep) -> tuple[Samples, int]:
    """The tones of that meaning, mono float32, and their samples per second."""
    rhythm, pitch = RHYTHMS[name]
    tones = [_tone(LONG if sign == "-" else SHORT, pitch) for sign in rhythm]
    gap = np.zeros(round(GAP * RATE), np.float32)
    with_gaps = list(chain.from_iterable((tone, gap) for tone in tones))[:-1]
    return np.concatenate(with_gaps), RATE


def _tone(seconds: float, pitch: float) -> Samples:
    at = np.arange(round(seconds * RATE)) / RATE
    # It swells and fades within a hundredth of a second; a tone cut off hard clicks.
    edge = np.minimum(1.0, np.minimum(at, at[::-1]) / 0.01)
    sound: Samples = (PEAK * edge * np.sin(2 * np.pi * pitch * at)).astype(np.float32)
    return sound
