"""What a building site sounds like when nobody speaks to the log, a second at a time.

Any second can be had without those before it, and is the same every time: a day that was broken
off goes on as if it had not been. Shapes and levels are our own, by ear.
"""

from __future__ import annotations

import functools
import zlib
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from joblog.audio.decode import RATE, Samples
from tests.bench.site.voices import Say, far, on_the_radio

Curve = NDArray[np.float64]


@dataclass(frozen=True)
class Sounding:
    """Something that sounds for a while: seconds from the day's start, and its loudness in dB
    below full scale."""

    kind: str
    at: float
    seconds: float
    level: float
    number: int
    """Makes it unlike others of its kind."""
    text: str = ""
    voice: str = ""
    """What is said, and by which voice, where it is speech."""

    @property
    def end(self) -> float:
        return self.at + self.seconds


def loud(decibels: float) -> float:
    """The amplitude of so many dB, 0 being full scale."""
    return float(10 ** (decibels / 20))


class Bed:
    """All noises of one day, mixed. `say` is what speaks for other people."""

    def __init__(self, seed: int, soundings: tuple[Sounding, ...], say: Say) -> None:
        self._seed, self._say = seed, say
        self._by_second: dict[int, list[Sounding]] = {}
        for one in soundings:
            for second in range(int(one.at), int(one.end) + 1):
                self._by_second.setdefault(second, []).append(one)
        self._pieces: OrderedDict[tuple[str, int], Samples] = OrderedDict()
        self._whole: OrderedDict[Sounding, Samples] = OrderedDict()

    def second(self, number: int) -> NDArray[np.int16]:
        """One second of it, from `number` seconds on."""
        t = number + np.arange(RATE) / RATE
        sound = self._air(number, t) + self._wind(number, t)
        last = self._by_second.get(number, [])
        for one in last:
            if one.kind in _LONG:
                sound += loud(one.level) * _edges(one, t) * _LONG[one.kind](self, one, number, t)
            elif one.kind not in ("clipping", "dropout"):
                self._lay(one, number, sound)
        for one in last:
            inside = (t >= one.at) & (t < one.end)
            if one.kind == "clipping":
                sound[inside] *= loud(one.level)
            elif one.kind == "dropout":
                sound[inside] = 0
        return np.clip(np.round(sound * 32767), -32768, 32767).astype(np.int16)

    def stretch(self, start: float, end: float) -> Samples:
        """What sounds between two moments, as floats."""
        whole = np.concatenate([self.second(k) for k in range(int(start), int(end) + 1)])
        first = round((start - int(start)) * RATE)
        return (whole[first : first + round((end - start) * RATE)] / 32768).astype(np.float32)

    def _air(self, number: int, t: Curve) -> Curve:
        drift = _curve(self._seed, "air", 1 / 120, t)
        return loud(-58) * 10 ** (drift * 4 / 20) * self._noise("air", number)

    def _wind(self, number: int, t: Curve) -> Curve:
        weather = _curve(self._seed, "weather", 1 / 1500, t)
        gust = np.exp(0.9 * _curve(self._seed, "gust", 0.35, t) + 0.7 * weather)
        buffet = np.abs(_curve(self._seed, "buffet", 7.0, t)) * np.clip(gust - 1.0, 0, 3)
        rumble = gust * self._noise("rumble", number) * loud(-47)
        hiss = gust**2 * self._noise("hiss", number) * loud(-62)
        # A gust that hits the microphone pushes its membrane to the stop.
        hit = np.tanh(2 * buffet * self._noise("buffet", number) * loud(-28)) / 2
        return rumble + hiss + hit

    def _noise(self, kind: str, number: int) -> Curve:
        """Steady noise of one spectrum, RMS 1: halves of two overlapping pieces."""
        before, here = self._piece(kind, number - 1), self._piece(kind, number)
        return (before[RATE:] + here[:RATE]).astype(np.float64)

    def _piece(self, kind: str, number: int) -> Samples:
        if (kind, number) not in self._pieces:
            chance = np.random.default_rng([self._seed, _crc(kind), number + 1])
            white = chance.standard_normal(2 * RATE)
            shaped = np.fft.irfft(np.fft.rfft(white) * _gain(kind), 2 * RATE)
            self._pieces[kind, number] = (shaped * _FADE).astype(np.float32)
            if len(self._pieces) > 24:
                self._pieces.popitem(last=False)
        return self._pieces[kind, number]

    def _lay(self, one: Sounding, number: int, sound: Curve) -> None:
        """Adds a short sound, made whole once and kept while it lasts."""
        if one not in self._whole:
            self._whole[one] = self._made(one)
            if len(self._whole) > 8:
                self._whole.popitem(last=False)
        whole = self._whole[one]
        begin = round((one.at - number) * RATE)
        first, last = max(begin, 0), min(begin + len(whole), RATE)
        if first < last:
            sound[first:last] += whole[first - begin : last - begin]

    def _made(self, one: Sounding) -> Samples:
        chance = np.random.default_rng([self._seed, _crc(one.kind), one.number])
        if one.text:
            said = self._say(one.text, one.voice)
            said = on_the_radio(said) if one.kind == "radio" else far(said, one.number)
            return said * np.float32(loud(one.level) / max(loudness(said), 1e-9))
        sound = _SHORT[one.kind](one.seconds, chance)
        return (loud(one.level) * sound).astype(np.float32)


def loudness(sound: Any) -> float:
    """RMS of those fortieths of a second that are within 30 dB of the loudest one."""
    window = RATE // 40
    pieces = np.asarray(sound, np.float64)
    pieces = pieces[: len(pieces) // window * window].reshape(-1, window)
    power = (pieces**2).mean(axis=1)
    if not power.size or power.max() == 0:
        return 0.0
    return float(np.sqrt(power[power > power.max() / 1000].mean()))


def without_rumble(sound: Samples) -> Samples:
    """What is left above 200 Hz, where voices are."""
    spectrum = np.fft.rfft(sound)
    spectrum[np.fft.rfftfreq(len(sound), 1 / RATE) < 200] = 0
    return np.fft.irfft(spectrum, len(sound)).astype(np.float32)


def _crc(text: str) -> int:
    return zlib.crc32(text.encode())


_FADE = np.sin(np.pi * (np.arange(2 * RATE) + 0.5) / (2 * RATE))
_SPECTRA: dict[str, Callable[[Curve], Curve]] = {
    "air": lambda hertz: 1 / (1 + (hertz / 500) ** 1.2),
    "rumble": lambda hertz: (hertz > 5) / (1 + (hertz / 120) ** 1.7),
    "hiss": lambda hertz: 1 / (1 + (hertz / 2500) ** 2),
    "buffet": lambda hertz: (hertz > 4) / (1 + (hertz / 40) ** 3),
    "rain": lambda hertz: (hertz > 300) / (1 + (hertz / 6000) ** 2),
    "tearing": lambda hertz: (hertz > 300) / (1 + (hertz / 5000) ** 2),
    "hose": lambda hertz: 1 / (1 + (hertz / 1200) ** 2),
}


@functools.cache
def _gain(kind: str) -> Curve:
    """The spectrum, scaled so that white noise of deviation 1 comes out with RMS 1."""
    gain = _SPECTRA[kind](np.fft.rfftfreq(2 * RATE, 1 / RATE)).astype(np.float64)
    return gain / np.sqrt((gain**2).mean())


@functools.lru_cache(maxsize=16)
def _knots(seed: int, name: str) -> Curve:
    return np.random.default_rng([seed, _crc(name)]).standard_normal(4096)


def _curve(seed: int, name: str, hertz: float, t: Curve) -> Curve:
    """A random curve of mean 0 and deviation about 1 that changes `hertz` times a second."""
    knots = _knots(seed, name)
    at = t * hertz
    low = at.astype(np.int64)
    part = (1 - np.cos(np.pi * (at - low))) / 2
    # Far apart in a list that comes round: no day is long enough to hear it again.
    here, there = low * 1999 % len(knots), (low + 1) * 1999 % len(knots)
    return (1 - part) * knots[here] + part * knots[there]


def _edges(one: Sounding, t: Curve) -> Curve:
    """0 outside, 1 inside, and a hundredth of a second between."""
    return np.clip(np.minimum(t - one.at, one.end - t) * 100, 0, 1)


def _saw(bed: Bed, one: Sounding, number: int, t: Curve) -> Curve:
    # A 24-tooth blade at 5000 turns a minute meets the wood 2000 times a second. It spins up at
    # once and coasts down for the last two seconds.
    since, on = t - one.at, max(one.seconds - 2.0, 0.5)
    up = since < on
    speed = np.where(up, 1 - np.exp(-np.maximum(since, 0) / 0.15), np.exp(-(since - on) / 0.6))
    # The integral of the speed.
    early = since + 0.15 * (np.exp(-np.maximum(since, 0) / 0.15) - 1)
    turned = np.where(up, early, on - 0.15 + 0.6 * (1 - np.exp(-(since - on) / 0.6)))
    load = np.clip(2 * _curve(one.number, "load", 0.25, t) + 0.5, 0, 1) * (up & (since > 0.5))
    turns = 83 * turned - 0.4 * np.sin(0.7 * since)
    whine = sum(
        np.sin(2 * np.pi * turns * order) * strength
        for order, strength in ((6, 0.5), (12, 0.4), (24, 0.8), (48, 0.4), (72, 0.2))
    )
    rough = 1 + 0.3 * _curve(one.number, "rough", 30.0, t)
    tearing = bed._noise("tearing", number) * (0.25 + 0.9 * load) * rough
    return speed**2 * (whine * (0.6 + 0.4 * load) + tearing) / 1.2


def _compressor(bed: Bed, one: Sounding, number: int, t: Curve) -> Curve:
    turns = 29 * (t - one.at) + 0.3 * np.sin(0.5 * t)
    hammer = sum(np.sin(2 * np.pi * turns * order + order) / order**0.7 for order in range(1, 16))
    hum = 0.4 * np.sin(2 * np.pi * 120 * t)
    hose = bed._noise("hose", number) * (0.4 + 0.8 * (turns % 1.0 < 0.25))
    return (hammer + hum + hose) / 1.6


def _rain(bed: Bed, one: Sounding, number: int, t: Curve) -> Curve:
    chance = np.random.default_rng([one.number, number, 7])
    drops = np.zeros(RATE)
    for at in chance.integers(0, RATE - 400, 60):
        drops[at : at + 400] += chance.uniform(1, 5) * _DROP * chance.choice([-1, 1])
    swell = np.minimum(1, np.minimum(t - one.at, one.end - t) / 20)
    return np.clip(swell, 0, 1) * (bed._noise("rain", number) + drops)


_DROP = np.exp(-np.arange(400) / 60) * np.sin(2 * np.pi * 1800 * np.arange(400) / RATE)
_LONG = {"saw": _saw, "ripping": _saw, "compressor": _compressor, "rain": _rain}


def _hammering(seconds: float, chance: np.random.Generator) -> Curve:
    sound = np.zeros(round(seconds * RATE))
    length = RATE // 3
    t = np.arange(length) / RATE
    at = 0.1
    while at < seconds - 0.4:
        tone = chance.uniform(0.9, 1.1)
        blow = chance.standard_normal(length) * np.exp(-t / 0.006)
        for hertz, decay in ((310, 0.05), (940, 0.03), (2300, 0.02)):
            blow += np.sin(2 * np.pi * hertz * tone * t) * np.exp(-t / decay)
        first = round(at * RATE)
        sound[first : first + length] += chance.uniform(0.5, 1.0) * blow[: len(sound) - first]
        at += chance.uniform(0.35, 0.7)
    return sound / 2


def _car(seconds: float, chance: np.random.Generator) -> Curve:
    count = round(seconds * RATE)
    t = np.linspace(-1, 1, count)
    spectrum = np.fft.rfft(chance.standard_normal(count))
    hertz = np.fft.rfftfreq(count, 1 / RATE)
    tyres = np.fft.irfft(spectrum * (hertz > 60) / (1 + (hertz / 900) ** 1.5), count)
    near = 1 / (1 + (t / 0.25) ** 2) * np.cos(np.pi * t / 2)
    return near * tyres / max(float(tyres.std()), 1e-9)


def _handling(seconds: float, chance: np.random.Generator) -> Curve:
    count = round(seconds * RATE)
    t = np.arange(count) / RATE
    sound = np.zeros(count)
    for at in chance.uniform(0, 0.8 * seconds, chance.integers(1, 5)):
        late = np.maximum(t - at, 0)
        hertz = chance.uniform(50, 140)
        knock = np.exp(-late / 0.04) * np.sin(2 * np.pi * hertz * late) * (t >= at)
        click = np.exp(-late / 0.002) * chance.standard_normal(count) * (t >= at)
        sound += chance.uniform(0.4, 1.0) * (knock + 0.6 * click)
    return sound


def _tune(seconds: float, chance: np.random.Generator) -> Curve:
    """Chords over a beat: no song, but like one from afar."""
    count = round(seconds * RATE)
    t = np.arange(count) / RATE
    beat = chance.uniform(0.35, 0.6)
    sound = np.zeros(count)
    for first in np.arange(0, seconds, 4 * beat):
        root = 110 * 2 ** (chance.choice([0, 3, 5, 7, 10]) / 12)
        held = (t >= first) & (t < first + 4 * beat)
        for step in (0, 4, 7, 12, 19):
            voice = root * 2 ** (step / 12)
            tone = sum(np.sin(2 * np.pi * voice * n * t[held]) / n**1.5 for n in (1, 2, 3, 4))
            sound[held] += tone * np.exp(-((t[held] - first) % beat) / 0.3)
    sound = sound * np.clip(np.minimum(t, seconds - t) * 2, 0, 1)
    return sound / max(float(sound.std()), 1e-9)


_SHORT: dict[str, Callable[[float, np.random.Generator], Curve]] = {
    "hammering": _hammering,
    "car": _car,
    "handling": _handling,
    "tune": _tune,
}
