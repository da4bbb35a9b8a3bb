"""The microphone's sound made fit for finding speech and for hearing it, and how loud it is.

Everything works in frames of 32 ms whatever the blocks that come, so that the same sound gives the
same result however it is split.
"""

from __future__ import annotations

import math
from collections import deque
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from joblog.audio.decode import RATE, Samples

Whole = NDArray[np.int16]
Exact = NDArray[np.float64]

FULL_SCALE = 32_768
FRAME = 512
"""Samples that are measured and changed at a time."""
STEP = FRAME / RATE
"""Seconds of a frame."""
_LONG = 4 * FRAME
"""Samples among whose frequencies 150 Hz can be told apart."""
_FFT = 1024
"""Samples transformed at a time: a frame and what the filter looks back on, and no more."""
CUT_OFF = 120.0
"""Hz below which speech is not looked for. In wind three times as loud as the voice it finds nine
utterances of ten instead of six; from 200 Hz on it loses some that it would find without."""
TAPS = 511
"""Of the filter: it falls from nothing to 50 dB within 104 Hz around the cut-off."""
LAG = (TAPS - 1) // 2
"""Samples that the filter waits for: 16 ms."""

RUMBLE = 150.0
"""Hz below which wind has most of its power, and a voice little."""
WINDY = 0.7
"""The share of the power that lies below it in wind."""
LOUD_WIND = -45.0
"""dBFS of a rumble that is worth a word."""
LEARNING = 3.0
"""Seconds from which the noise of the place is learned."""

TARGET = -24.0
"""dBFS to which a quiet voice is lifted, while it sounds."""
MOST_GAIN = 30.0
"""dB."""
HEADROOM = 0.9
"""Of full scale; nothing is lifted above it."""
FALLS, RISES = 0.5, 10.0
"""Seconds in which the gain goes most of the way: down when the voice is louder, up when softer."""
RECOVERS = 12.0
"""dB a second at which the gain comes back after a loud knock."""

CLIPPED = 32_700
"""Of 32,768: as loud as a microphone gets."""
MUCH_CLIPPED = 0.0005
"""The share of samples; a loud voice that only just fits has none for seconds."""
NOTHING = -70.0
"""dBFS; softer than the noise of any open microphone on a site."""
NOTHING_FOR = 10.0
"""Seconds."""
QUIET = -50.0
"""dBFS of a voice below which recognizers begin to mishear."""
REMEMBERED = 5.0
"""Seconds that the meter looks back."""


class Conditioned(NamedTuple):
    """The same moments twice, mono float32 at 16 kHz, -1 to 1."""

    for_finding: Samples
    """A quiet voice lifted, and nothing in it from below the voice: for telling where somebody
    speaks. Recognizers hear it worse, for they learned voices with all that is in them."""
    for_hearing: Samples
    """A quiet voice lifted, everything in it: for recognizers."""


@dataclass(frozen=True, slots=True)
class Noise:
    """What the place sounds like while nobody speaks."""

    floor: float
    """dBFS."""
    low: float
    """The share of its power below 150 Hz, 0 to 1."""

    @property
    def windy(self) -> bool:
        return self.floor > LOUD_WIND and self.low > WINDY


class Conditioner:
    """What comes out is what went in, moment for moment, but up to 48 ms later.

    `noise` is learned from the first three seconds, from their quieter half; None until then.
    """

    def __init__(self, cut_off: float = CUT_OFF) -> None:
        self.noise: Noise | None = None
        self._beginning = np.zeros(0, np.int16)
        self._frames = _Frames()
        self._before = np.zeros(TAPS - 1)
        self._response = np.fft.rfft(_high_pass(cut_off), _FFT)
        self._finding, self._hearing = _Gain(), _Gain()
        self._early = LAG
        self._waiting = 0

    def feed(self, sound: Whole) -> Conditioned:
        """As much of both as can be told by now; often nothing, where little is given."""
        self._learn(sound)
        self._waiting += len(sound)
        return self._next(sound)

    def end(self) -> Conditioned:
        """The rest."""
        waiting = self._waiting
        rest = self._next(np.zeros(LAG + FRAME, np.int16))
        return Conditioned(rest.for_finding[:waiting], rest.for_hearing[:waiting])

    def _next(self, sound: Whole) -> Conditioned:
        finding, hearing = [np.zeros(0)], [np.zeros(0)]
        for frame in self._frames.of(sound):
            window = np.concatenate([self._before, frame])
            self._before = window[FRAME:]
            filtered = np.fft.irfft(np.fft.rfft(window, _FFT) * self._response, _FFT)
            high, plain = filtered[TAPS - 1 : TAPS - 1 + FRAME], window[LAG : LAG + FRAME]
            finding.append((high * self._finding.over(high))[self._early :])
            hearing.append((plain * self._hearing.over(plain))[self._early :])
            self._early = 0  # what lay before the beginning
        both = (np.concatenate(finding), np.concatenate(hearing))
        self._waiting -= len(both[0])
        return Conditioned(*(np.clip(one, -1.0, 1.0).astype(np.float32) for one in both))

    def _learn(self, sound: Whole) -> None:
        if self.noise is None:
            self._beginning = np.concatenate([self._beginning, sound])
            if len(self._beginning) >= LEARNING * RATE:
                self.noise = noise_of(self._beginning[: round(LEARNING * RATE)])
                self._beginning = self._beginning[:0]


def noise_of(sound: Whole) -> Noise:
    """The noise of a place, from a few seconds in most of which nobody speaks."""
    pieces = sound[: len(sound) // _LONG * _LONG].reshape(-1, _LONG) / FULL_SCALE
    power = (pieces**2).mean(axis=1)
    quiet = pieces[np.argsort(power)[: max(1, len(pieces) // 2)]]
    return Noise(_decibels(float(np.median((quiet**2).mean(axis=1)))), _share_below(quiet))


class Meter:
    """How loud the last five seconds were, and what is wrong with them."""

    def __init__(self) -> None:
        self._frames = _Frames()
        self._long = _Frames(_LONG)
        most = round(REMEMBERED * RATE)
        self._levels: deque[_Level] = deque(maxlen=most // FRAME)
        self._rumbles: deque[tuple[float, float]] = deque(maxlen=most // _LONG)
        self._voice = _VoiceLevel()
        self._silent = 0.0

    def feed(self, sound: Whole) -> None:
        """The next sound, of any length."""
        for frame in self._frames.of(sound):
            power, peak = float(np.mean(frame**2)), float(np.abs(frame).max())
            clipped = int(np.count_nonzero(np.abs(frame) >= CLIPPED / FULL_SCALE))
            self._levels.append(_Level(power, peak, clipped))
            self._voice.feed(_decibels(power))
            self._silent = self._silent + STEP if _decibels(power) < NOTHING else 0.0
        for piece in self._long.of(sound):
            self._rumbles.append((float(np.mean(piece**2)), _share_below(piece[np.newaxis])))

    @property
    def level(self) -> float:
        """dBFS of the last half second; a full-scale square wave is 0."""
        last = list(self._levels)[-round(0.5 / STEP) :]
        return _decibels(float(np.mean([one.power for one in last])) if last else 0.0)

    @property
    def peak(self) -> float:
        """dBFS of the loudest sample of the last five seconds."""
        return _decibels(max((one.peak for one in self._levels), default=0.0) ** 2)

    @property
    def clipped(self) -> float:
        """The share of the last five seconds' samples that are as loud as can be, 0 to 1."""
        count = len(self._levels) * FRAME
        return sum(one.clipped for one in self._levels) / count if count else 0.0

    @property
    def voice(self) -> float | None:
        """dBFS of what stands out of the noise, over the last seconds of it; None before any."""
        return self._voice.level

    @property
    def warning(self) -> str | None:
        """What a person should do about the microphone now, in a plain phrase."""
        if self._silent >= NOTHING_FOR:
            return "the microphone hears nothing; is it muted or covered?"
        if self.clipped > MUCH_CLIPPED:
            return "the microphone is too loud and clips; turn it down or hold it farther away"
        if self._windy():
            return "wind or a rumble covers the voice; shield the microphone or turn away"
        if self.voice is not None and self.voice < QUIET:
            return "the voice is very quiet; turn the microphone up or hold it nearer"
        return None

    def _windy(self) -> bool:
        power = sum(one for one, _ in self._rumbles)
        if len(self._rumbles) < (self._rumbles.maxlen or 0) or not power:
            return False
        low = sum(one * share for one, share in self._rumbles) / power
        return Noise(_decibels(power / len(self._rumbles)), low).windy


class _Level(NamedTuple):
    power: float
    peak: float
    clipped: int


class _Frames:
    """Sound of any length in, frames of one length out, -1 to 1; the rest waits."""

    def __init__(self, length: int = FRAME) -> None:
        self._length = length
        self._rest = np.zeros(0, np.int16)

    def of(self, sound: Whole) -> Exact:
        sound = np.concatenate([self._rest, sound])
        whole = len(sound) - len(sound) % self._length
        self._rest = sound[whole:]
        return np.asarray(sound[:whole].reshape(-1, self._length) / FULL_SCALE, np.float64)


class _VoiceLevel:
    """The level, in dBFS, of what stands out of the noise: slow up, slower down."""

    STANDS_OUT = 12.0
    """dB over the noise."""
    NOISE_RISES = 1.0
    """dB a second by which the noise's level follows a louder one; it falls at once."""
    LEAST = -90.0

    def __init__(self) -> None:
        self.level: float | None = None
        self._noise: float | None = None

    def feed(self, level: float) -> None:
        risen = level if self._noise is None else self._noise + self.NOISE_RISES * STEP
        self._noise = max(min(level, risen), self.LEAST)
        if level < self._noise + self.STANDS_OUT:
            return
        if self.level is None:
            self.level = level
        seconds = FALLS if level > self.level else RISES
        self.level += (level - self.level) * STEP / seconds


class _Gain:
    """By how much to multiply each sample so that a quiet voice comes near to `TARGET`."""

    def __init__(self) -> None:
        self._voice = _VoiceLevel()
        self._last = 1.0

    def over(self, frame: Exact) -> Exact:
        """Never under 1, and never so much that the frame would be clipped."""
        self._voice.feed(_decibels(float(np.mean(frame**2))))
        level = self._voice.level
        wanted = 0.0 if level is None else min(max(TARGET - level, 0.0), MOST_GAIN)
        most = HEADROOM / max(float(np.abs(frame).max()), 1e-9)
        recovered = self._last * _factor(RECOVERS * STEP)
        gain = max(1.0, min(_factor(wanted), most, recovered))
        # Up in a slope; down at once, for the frame's first sample may be its loudest.
        before, self._last = min(self._last, gain), gain
        return np.linspace(before, gain, FRAME)


def _share_below(pieces: Exact) -> float:
    """Of the pieces' power, how much lies below `RUMBLE`, 0 to 1; what is steady does not count."""
    shaped = (pieces - pieces.mean(axis=1, keepdims=True)) * np.hanning(pieces.shape[1])
    power = (np.abs(np.fft.rfft(shaped)) ** 2).sum(axis=0)
    below = np.fft.rfftfreq(pieces.shape[1], 1 / RATE) < RUMBLE
    return float(power[below].sum() / max(float(power.sum()), 1e-30))


def _high_pass(cut_off: float) -> Exact:
    """A linear-phase filter by the window method: all but a low-pass shaped by Hamming's window."""
    at = np.arange(TAPS) - LAG
    low = np.sinc(2 * cut_off / RATE * at) * np.hamming(TAPS)
    response = -low / low.sum()
    response[LAG] += 1.0
    return np.asarray(response, np.float64)


def _decibels(power: float) -> float:
    """Of full scale, for the mean square of samples of -1 to 1; -120 for none."""
    return 10 * math.log10(max(power, 1e-12))


def _factor(decibels: float) -> float:
    return float(10 ** (decibels / 20))
