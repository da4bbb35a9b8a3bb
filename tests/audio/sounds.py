"""Sounds and files for these tests."""

from __future__ import annotations

import struct
from pathlib import Path

import av
import numpy as np

from joblog.audio.decode import RATE, Samples
from tests.structured import EIGHT, SIXTEEN, checksum, coded_number

FORMANTS = np.array(((730, 1090, 2440), (270, 2290, 3010), (570, 840, 2410), (530, 1840, 2480)))
"""Hz, four vowels of men; Peterson and Barney, 1952 (from memory)."""


def tone(hertz: float = 1000.0, seconds: float = 2.0) -> Samples:
    """A sine at half of full scale."""
    return (0.5 * np.sin(2 * np.pi * hertz * np.arange(round(seconds * RATE)) / RATE)).astype(
        np.float32
    )


def babble(seconds: float, pitch: float = 120.0) -> Samples:
    """Vowels one after another, four syllables a second: a voice that says nothing."""
    t = np.arange(round(seconds * RATE)) / RATE
    turns = np.cumsum(pitch * (1 + 0.08 * np.sin(2 * np.pi * 1.3 * t))) / RATE
    formants = FORMANTS[(t * 4).astype(int) % 4]
    sound = np.zeros(len(t))
    for order in range(1, 40):
        off = (order * pitch - formants) / 90
        near = ((1 / (1 + off**2)) / (1, 2, 3)).sum(axis=1)
        sound += np.sin(2 * np.pi * order * turns) * (near + 0.02) / order**0.3
    sound *= np.sin(np.pi * (t * 4 % 1)) ** 0.7
    return (0.4 * sound / np.abs(sound).max()).astype(np.float32)


def even_babble(seconds: float, pitch: float = 120.0, decibels: float = 0.0) -> Samples:
    """Babble whose syllables are as loud as one another, so much louder than usual."""
    sound, syllable = babble(seconds, pitch), RATE // 4
    parts = [sound[at : at + syllable] for at in range(0, len(sound), syllable)]
    loud = [max(0.02, float(np.sqrt(np.mean(np.square(part))))) for part in parts]
    even = [0.1 * part / power for part, power in zip(parts, loud, strict=True)]
    return np.concatenate(even) * np.float32(10 ** (decibels / 20))


def quiet(seconds: float) -> Samples:
    return np.zeros(round(seconds * RATE), np.float32)


def chords(seconds: float) -> Samples:
    """Three-note chords with overtones, a new one every half second."""
    t = np.arange(round(seconds * RATE)) / RATE
    roots = np.array((220.0, 174.6, 261.6, 196.0))[(t * 2).astype(int) % 4]
    phase = np.cumsum(roots) / RATE
    notes = [
        np.sin(2 * np.pi * phase * ratio * order) / order
        for ratio in (1, 1.25, 1.5)
        for order in range(1, 6)
    ]
    return (0.1 * np.sum(notes, axis=0) * np.exp(-3 * (t * 2 % 1))).astype(np.float32)


def loudest_hertz(sound: Samples) -> float:
    """The frequency with the most power, to the hertz in a second of sound."""
    spectrum = np.abs(np.fft.rfft(sound * np.hanning(len(sound))))
    return float(np.argmax(spectrum) * RATE / len(sound))


def write_float_wave(path: Path, sound: Samples) -> Path:
    """A WAV file of 32-bit floats, byte by byte."""
    head = struct.pack("<4sI4s4sIHHIIHH", b"RIFF", 36 + sound.nbytes, b"WAVE", b"fmt ", 16,
                       3, 1, RATE, RATE * 4, 4, 32)  # fmt: skip
    path.write_bytes(head + struct.pack("<4sI", b"data", sound.nbytes) + sound.tobytes())
    return path


def write_titled_wave(path: Path, title: bytes, sound: Samples) -> Path:
    """A WAV file of 16-bit samples with a title of any bytes, such as Latin-1."""
    data = (sound * 32767).astype("<i2").tobytes()
    kind = struct.pack("<4sIHHIIHH", b"fmt ", 16, 1, 1, RATE, RATE * 2, 2, 16)
    titled = (
        struct.pack("<4sI4s4sI", b"LIST", 12 + len(title), b"INFO", b"INAM", len(title)) + title
    )
    body = b"WAVE" + kind + titled + struct.pack("<4sI", b"data", len(data)) + data
    path.write_bytes(struct.pack("<4sI", b"RIFF", len(body)) + body)
    return path


def write_tagged(
    path: Path, container: str, codec: str, tags: dict[str, str], **options: str
) -> Path:
    """A tenth of a second of nothing, with these tags."""
    with av.open(str(path), "w", format=container, options=options) as file:
        file.metadata.update(tags)
        stream = file.add_stream(codec, rate=RATE, layout="mono")
        frame = av.AudioFrame.from_ndarray(np.zeros((1, 1600), np.int16), "s16", "mono")
        frame.sample_rate = RATE
        file.mux(stream.encode(frame))
        file.mux(stream.encode(None))
    return path


def silent_flac(seconds: int, rate: int, value: int = 0) -> bytes:
    """A FLAC of nothing but one value, in as few bytes as RFC 9639 allows: a constant subframe in
    each of the largest blocks."""
    largest, total = 65_535, seconds * rate
    described = ((rate << 44) | (15 << 36) | total).to_bytes(8)
    head = struct.pack(">HH", largest, largest) + bytes(6) + described + bytes(16)
    parts = [b"fLaC\x80\0\0\x22", head]
    for number, at in enumerate(range(0, total, largest)):
        size = min(largest, total - at)
        begin = b"\xff\xf8\x70\x08" + coded_number(number) + struct.pack(">H", size - 1)
        begin += bytes([checksum(begin, EIGHT, 8)])
        frame = begin + b"\0" + struct.pack(">h", value)
        parts += [frame, struct.pack(">H", checksum(frame, SIXTEEN, 16))]
    return b"".join(parts)
