"""How sure it is that two recordings hold the same sound: copies against others, at every margin.

    python -m tests.bench.copies [FOLDER of more recordings]

Copies are the demo's recordings coded anew in nine ways, whole, cut and trimmed. Others are those
recordings against each other, the same sentence said again with other noise, noise, hum, and
near-silence. What is printed must stand well on either side of `ALIKE` in `joblog.audio.sameness`.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterator
from itertools import combinations
from pathlib import Path

import numpy as np

from fixtures.voices import write
from joblog.audio.decode import RATE, Samples, samples
from joblog.audio.sameness import ALIKE, Prints, SoundPrint, sound_print

DEMO = Path(__file__).parents[2] / "fixtures" / "demo" / "recordings"
CODED = {
    "aac.m4a": {}, "aac 48 kHz.m4a": {"codec_rate": 48_000}, "mp3.mp3": {}, "opus.opus": {},
    "vorbis.ogg": {}, "amr.amr": {}, "8 kHz.wav": {"codec_rate": 8_000},
    "44.1 kHz.flac": {"codec_rate": 44_100}, "stereo.mp3": {"channels": 2},
}  # fmt: skip


def main(folders: list[Path]) -> None:
    files = [path for folder in (DEMO, *folders) for path in sorted(folder.iterdir())]
    sounds = {path.name: samples(path) for path in files}
    prints = {name: sound_print([sound]) for name, sound in sounds.items()}
    known = Prints(prints)
    with tempfile.TemporaryDirectory() as scratch:
        for coded, how in CODED.items():
            shares = [
                share(
                    known, sound_print([samples(write(Path(scratch) / coded, copy, **how))]), name
                )
                for name, sound in sounds.items()
                for copy in parts(sound)
            ]
            print(f"copies, {coded:16} least {min(shares):.2f}, mean {np.mean(shares):.2f}")
    others = dict(pairs(prints)) | dict(invented(sounds))
    most = sorted(others.items(), key=lambda pair: -pair[1])
    over = sum(value >= ALIKE for value in others.values())
    print(f"{len(others)} pairs of others: {over} taken for copies; the most alike:")
    for what, value in most[:5]:
        print(f"  {value:.2f}  {what}")


def parts(sound: Samples) -> Iterator[Samples]:
    """The whole, its first four fifths, its first half, and without its first two seconds."""
    yield sound
    yield sound[: len(sound) * 4 // 5]
    yield sound[: len(sound) // 2]
    yield sound[2 * RATE :]


def share(known: Prints[str], copy: SoundPrint, name: str) -> float:
    return max((like.mine for like in known.like(copy) if like.other == name), default=0.0)


def pairs(prints: dict[str, SoundPrint]) -> Iterator[tuple[str, float]]:
    for (a, one), (b, two) in combinations(prints.items(), 2):
        likes = Prints({b: two}).like(one)
        yield f"{a} and {b}", max((max(like.mine, like.theirs) for like in likes), default=0.0)


def invented(sounds: dict[str, Samples]) -> Iterator[tuple[str, float]]:
    random = np.random.default_rng(1)
    seconds = np.arange(20 * RATE) / RATE

    def noise(level: float, count: int = 20 * RATE) -> Samples:
        return random.normal(0, level, count).astype(np.float32)

    hum = sum(0.1 / n * np.sin(2 * np.pi * 60 * n * seconds) for n in range(1, 40))
    saw = 0.3 * np.sin(2 * np.pi * 440 * seconds) * (np.sin(2 * np.pi * 3 * seconds) > 0)
    kinds = {
        "white noise": lambda: noise(0.1),
        "near-silence": lambda: noise(3e-4),
        "the same hum in other noise": lambda: (hum + noise(0.01)).astype(np.float32),
        "the same beeping in other noise": lambda: (saw + noise(0.01)).astype(np.float32),
    }
    for what, make in kinds.items():
        yield from pairs({f"{what} {n}": sound_print([make()]) for n in range(8)})
    for name, sound in sounds.items():
        # A voice never says a sentence twice alike: here five per cent slower, in other noise.
        at = np.arange(0, len(sound) - 1, 1 / 1.05)
        slower = np.interp(at, np.arange(len(sound)), sound) + noise(0.003, len(at))
        both = {name: sound_print([sound]), "again, slower": sound_print([slower.astype("f4")])}
        yield from pairs(both)


if __name__ == "__main__":
    main(list(map(Path, sys.argv[1:])))
