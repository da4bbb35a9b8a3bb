"""The edges of the sound: soft, too loud, with somebody beside, and no speech at all.

    python -m tests.bench.edges [--count N] [--minutes M]

Takes N plain sentences by each voice that nothing is trained on through the whole of intake: with
the voice softer and softer, cut off by a recorder that it was too loud for, and with somebody else
talking behind it. Prints in % of sentences: one utterance exact, asked about, and wrong without
being asked about. Then what is made of M minutes of each noise and of the hiss of a microphone, and
of song: stretches that the detector finds in it, and utterances that are kept of them.
"""

from __future__ import annotations

import argparse
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np

from fixtures.voices import NOISES, mix, noise, silence, speak
from joblog.audio.decode import RATE, Samples
from joblog.audio.voice import stretches
from joblog.book.hearing import Listened, prepared
from tests.bench import to_hear as whole_way
from tests.bench.corpus import Phrase, exact, to_hear, words
from tests.bench.hearing import NOTES
from tests.bench.spoken import mixed

SOFT = (0.0, 30.0, 45.0, 55.0)
"""dB by which a voice with peaks at half of full scale is turned down."""
LOUD = (12.0, 28.0, 42.0)
"""dB by which it is too loud."""
BESIDE = (16.0, 10.0)
"""dB by which it is louder than whoever talks behind it."""
BEHIND = "flite slt"
VOWELS = np.array(((730, 1090, 2440), (270, 2290, 3010), (570, 840, 2410), (530, 1840, 2480)))
"""Hz; Peterson and Barney, 1952 (from memory)."""


def main() -> None:
    parser = argparse.ArgumentParser("tests.bench.edges", description=__doc__)
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    parser.add_argument("--count", type=int, default=20)
    parser.add_argument("--minutes", type=float, default=5.0)
    asked = parser.parse_args()
    whole_way._hear = prepared(whole_way.ZONE, words(), None, None)
    said = [(one, speak(one.text, voice)) for voice in whole_way.UNTRAINED
            for one in mixed(to_hear())[: asked.count]]  # fmt: skip
    print(f"{'':24}exact  asked  silent")
    for decibels in SOFT:
        _row(f"{decibels:.0f} dB softer", said, lambda _, sound, by=decibels: sound * _ratio(-by))
    for decibels in LOUD:
        _row(f"{decibels:.0f} dB too loud", said, lambda _, sound, by=decibels: _cut(sound, by))
    talk = np.concatenate([speak(note, BEHIND) for note in NOTES[:6]])
    for decibels in BESIDE:
        _row(
            f"somebody {decibels:.0f} dB behind", said,
            lambda at, sound, by=decibels: mix(sound, np.roll(talk, -at * RATE), by),
        )  # fmt: skip
    print("\nno speech                stretches  kept")
    for name, sound in _without_speech(asked.minutes * 60):
        kept = len(_heard(sound).heard)
        print(f"{name:24}{len(list(stretches([sound]))):9}{kept:6}", flush=True)


def _row(
    name: str, said: list[tuple[Phrase, Samples]], change: Callable[[int, Samples], Samples]
) -> None:
    counts = np.zeros(3)
    for at, (sentence, sound) in enumerate(said):
        padded = np.concatenate([silence(1.5), sound, silence(1.5)])
        readings = [one.reading for one in _heard(change(at, padded)).heard]
        right = any(exact(sentence, reading) for reading in readings)
        doubted = any(reading.doubts for reading in readings)
        counts += (right, doubted, not right and not doubted)
    shares = "".join(f"{100 * count / len(said):7.1f}" for count in counts)
    print(f"{name:22}{shares}", flush=True)


def _heard(sound: Samples) -> Listened:
    with tempfile.TemporaryDirectory() as folder:
        return whole_way._heard(sound.astype(np.float32), Path(folder))[0]


def _without_speech(seconds: float) -> Iterator[tuple[str, Samples]]:
    count = round(seconds * RATE)
    for decibels in (-80, -65, -50):
        hiss = np.random.default_rng(5).standard_normal(count) * _ratio(decibels)
        yield f"hiss at {decibels} dBFS", hiss.astype(np.float32)
    for kind in NOISES:
        for decibels in (0, -40):
            yield f"{kind}, {-decibels} dB softer", noise(kind, seconds, 11) * _ratio(decibels)
    for seed in range(6):
        yield f"song {seed + 1}", np.concatenate([silence(1.0), song(8.0, seed), silence(1.0)])


def song(seconds: float, seed: int) -> Samples:
    """Vowels on the notes of a made-up tune, with vibrato: nobody says a word."""
    draw = np.random.default_rng(seed)
    at = np.arange(round(seconds * RATE)) / RATE
    beat = 60 / draw.uniform(80, 140)
    note = (at / beat).astype(int)
    pitches = draw.choice([196, 220, 247, 262, 294, 330, 392], note.max() + 1)
    pitch = pitches[note] * (1 + 0.012 * np.sin(2 * np.pi * 5.5 * at))
    turns = np.cumsum(pitch) / RATE
    formants = VOWELS[draw.integers(0, 4, note.max() + 1)[note]]
    sound = np.zeros(len(at))
    for order in range(1, 20):
        near = (1 / (1 + ((order * pitch[:, None] - formants) / 100) ** 2) / (1, 2, 3)).sum(axis=1)
        sound += np.sin(2 * np.pi * order * turns) * (near + 0.02) / order**0.3
    sound *= np.minimum(1, np.minimum(at % beat / 0.05, (beat - at % beat) / 0.08))
    return (0.15 * sound / np.abs(sound).max()).astype(np.float32)


def _cut(sound: Samples, decibels: float) -> Samples:
    return np.clip(2 * sound * _ratio(decibels), -1.0, 1.0)


def _ratio(decibels: float) -> np.float32:
    return np.float32(10 ** (decibels / 20))


if __name__ == "__main__":
    main()
