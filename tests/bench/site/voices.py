"""Sentences as sound: spoken once and kept, cut close, from afar, through a small radio."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Callable
from pathlib import Path

import numpy as np

from fixtures.voices import speak, write
from joblog.audio.decode import RATE, Samples, samples
from tests.bench.spoken.cache import FOLDER

Say = Callable[[str, str], Samples]
"""What speaks: text and voice to mono float32 at 16 kHz, cut close."""


def say(text: str, voice: str) -> Samples:
    """The text in one of the voices of `fixtures.voices`, from the cache where it was said before,
    without the silence around it. Raises `VoiceError` where the voice is missing."""
    name = hashlib.sha256(text.encode()).hexdigest()[:24]
    file = FOLDER / "speech" / voice.replace(" ", "-") / f"{name}.flac"
    if not file.exists():
        file.parent.mkdir(parents=True, exist_ok=True)
        part = Path(f"{file.with_suffix('')}-{os.getpid()}.flac")
        write(part, speak(text, voice)).replace(file)
    return close(samples(file))


def close(sound: Samples) -> Samples:
    """The sound from its first to its last hundredth of a second within 35 dB of its loudest, so
    that its end is the end of what is said."""
    window = RATE // 100
    pieces = sound[: len(sound) // window * window].reshape(-1, window)
    power = (pieces.astype(np.float64) ** 2).mean(axis=1)
    heard = np.flatnonzero(power > power.max() / 10**3.5)
    return sound[heard[0] * window : (heard[-1] + 1) * window]


def far(sound: Samples, seed: int) -> Samples:
    """The sound some way off between walls: a few echoes and a tail of a third of a second."""
    chance = np.random.default_rng([seed, 11])
    tail = np.exp(-np.arange(RATE // 2) / RATE / chance.uniform(0.04, 0.07))
    room = tail * chance.standard_normal(RATE // 2)
    room /= np.sqrt((room**2).sum()) * 10 ** (chance.uniform(3, 8) / 20)
    room[0] += 1.0
    for _ in range(4):
        room[chance.integers(40, 640)] += chance.uniform(-0.35, 0.35)
    return _through(sound, room)


def on_the_radio(sound: Samples) -> Samples:
    """The sound as a small radio gives it, from 300 to 3400 Hz."""
    spectrum = np.fft.rfft(sound)
    hertz = np.fft.rfftfreq(len(sound), 1 / RATE)
    spectrum *= 1 / (1 + (300 / np.maximum(hertz, 1)) ** 4) / (1 + (hertz / 3400) ** 6)
    return np.fft.irfft(spectrum, len(sound)).astype(np.float32)


def _through(sound: Samples, room: np.ndarray) -> Samples:
    count = len(sound) + len(room)
    size = 1 << (count - 1).bit_length()
    spectrum = np.fft.rfft(sound, size) * np.fft.rfft(room, size)
    return np.fft.irfft(spectrum, size)[:count].astype(np.float32)
