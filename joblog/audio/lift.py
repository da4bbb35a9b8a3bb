"""Soft sound brought up, so that the detector of speech finds what is said far from the microphone.

Recorded words count on it where a phone lay in a pocket or on a sawhorse. What is kept and heard
stays as it was recorded.
"""

from __future__ import annotations

import math

import numpy as np

from joblog.audio.decode import RATE, Samples

TARGET = -30.0
"""dBFS to which the loudest of the last seconds is brought, where it is softer. At this and above
the detector needs no help, so what is recorded well goes through unchanged."""
MOST = 24.0
"""dB. What a microphone makes by itself in a silent room, -70 dBFS and softer, stays far below any
speech; a voice of -70 dBFS is found."""
FALLS = 3.0
"""dB a second by which what was loud is forgotten: no pause in a sentence makes a difference."""


class Lift:
    """Frame by frame, and without looking ahead: full at the beginning, down at once."""

    def __init__(self) -> None:
        self._loudest = TARGET - MOST
        self._last = MOST

    def over(self, frame: Samples) -> Samples:
        """The frame as loud as it should be, never clipped by it."""
        faded = self._loudest - FALLS * len(frame) / RATE
        self._loudest = max(_decibels(frame), faded, TARGET - MOST)
        peak = max(float(np.abs(frame).max(initial=0.0)), 1e-9)
        gain = max(0.0, min(TARGET - self._loudest, MOST, -20 * math.log10(peak)))
        before, self._last = min(self._last, gain), gain
        if gain == before == 0.0:
            return frame
        slope = np.linspace(before, gain, len(frame))
        return (frame * 10 ** (slope / 20)).astype(np.float32)

    def stays(self, peak: float) -> bool:
        """Whether sound of no higher peak changes nothing about how the next will be brought up."""
        least = TARGET - MOST
        return self._loudest == least and self._last == MOST and peak < 10 ** (least / 20)


def _decibels(frame: Samples) -> float:
    return 10 * math.log10(float(np.mean(np.square(frame))) + 1e-12)
