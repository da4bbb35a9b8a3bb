"""A stretch of a recording to listen to: cut out, as loud as it should be, slower if wanted."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path
from typing import Any

import av
import numpy as np

from joblog.audio.decode import RATE, AudioError, Samples, blocks

SLOWER = 0.6
"""Times the speed it was said at: slow enough to hear each number, fast enough to be speech."""
PEAK = 0.7
"""Of full scale, to which the loudest of a softer stretch is brought."""
MOST = 24.0
"""Decibels by which it is made louder at most, as the detector of speech does (`lift.py`)."""


def stretch(path: Path, start: float, end: float, *, whole: bool = True) -> Samples:
    """What is heard from `start` to `end`, in seconds of the recording, mono at 16 kHz.

    Where `whole` is False the recording has holes, its own times do not count, and everything
    before is decoded. Raises `AudioError` where nothing of it is there.
    """
    stream = blocks(path, start if whole else 0.0)
    at, last = round(stream.begins * RATE), round(end * RATE)
    parts: list[Samples] = []
    for block in stream:
        parts.append(block[max(0, round(start * RATE) - at) : max(0, last - at)])
        at += len(block)
        if at >= last:
            break
    sound = np.concatenate(parts) if parts else np.zeros(0, np.float32)
    if not len(sound):
        raise AudioError(path, stream.trouble or f"ends after {at / RATE:.0f} s, before that")
    return _loud(sound)


def slowed(sound: Samples, speed: float = SLOWER) -> Samples:
    """The same at `speed` times its pace, 0.5 to 1, as high as before (FFmpeg's atempo)."""
    graph = av.filter.Graph()
    source = graph.add_abuffer(
        sample_rate=RATE, format="flt", layout="mono", time_base=Fraction(1, RATE)
    )
    pace, sink = graph.add("atempo", str(speed)), graph.add("abuffersink")
    source.link_to(pace)
    pace.link_to(sink)
    graph.configure()
    frame = av.AudioFrame.from_ndarray(sound[np.newaxis], format="flt", layout="mono")
    frame.sample_rate, frame.pts, frame.time_base = RATE, 0, Fraction(1, RATE)
    source.push(frame)
    source.push(None)
    parts = [frame.to_ndarray().reshape(-1) for frame in _pulled(sink)]
    return np.concatenate(parts) if parts else sound


def _pulled(sink: Any) -> Iterator[Any]:
    while True:
        try:
            yield sink.pull()
        except (av.EOFError, BlockingIOError):
            return


def _loud(sound: Samples) -> Samples:
    peak = max(float(np.abs(sound).max()), 1e-9)
    gain = min(max(1.0, PEAK / peak), 10 ** (MOST / 20))
    return (sound * np.float32(gain)).astype(np.float32)
