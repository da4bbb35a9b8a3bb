"""Whether a high-pass and a gain help or harm: utterances found and words heard, with and without.

    python -m tests.bench.conditioning tune|report [--ways plain,fit,80,…]

The ways: "plain" is the microphone's sound; "fit" what `audio.level.Conditioner` makes for finding
and for hearing; a number is a cut-off in Hz, with speech found and also heard in what it leaves.

Every scene is two seconds of its noise, an utterance, two and a half seconds, another utterance and
two and a half seconds again. Found is an utterance of which at least nine tenths lie in stretches
of speech; false are stretches that hold none. The second utterance is heard by both recognizers,
cut where it is known to be, so that what finding does to hearing stays out of it. Word errors are
jiwer's, numbers compared however they are written. "tune" has five of the voices, to choose by,
"report" the six others.
"""

from __future__ import annotations

import argparse
import itertools
import time
from collections.abc import Iterator
from dataclasses import dataclass

import jiwer
import numpy as np

from fixtures.voices import VOICES, noise, silence, speak
from joblog.audio.decode import RATE, Samples
from joblog.audio.level import Conditioner
from joblog.audio.voice import stretches
from joblog.model import Plan
from joblog.plan import vocabulary
from joblog.speech import recognizers
from tests.bench.hearing import PHRASES, comparable

TUNE = ("espeak", "espeak rp", "flite slt", "flite awb", "festival kal")
REPORT = tuple(voice for voice in VOICES if voice not in TUNE)
SCENES = (
    ("voice -20", -20, None, 0),
    ("voice -45", -45, None, 0),
    ("voice -55", -55, None, 0),
    ("voice -65", -65, None, 0),
    ("wind 0", -26, "wind", 0),
    ("wind -5", -30, "wind", -5),
    ("wind -10", -34, "wind", -10),
    ("saw 5", -26, "saw", 5),
)
"""Name, the voice's loudness in dBFS while it speaks, noise, and voice over noise in dB."""


@dataclass(frozen=True)
class Scene:
    name: str
    said: tuple[str, str]
    sound: np.ndarray
    at: tuple[tuple[float, float], tuple[float, float]]


def loudness(sound: Samples) -> float:
    pieces = sound[: len(sound) // 400 * 400].reshape(-1, 400)
    power = (pieces.astype(float) ** 2).mean(axis=1)
    return float(np.sqrt(power[power > power.max() / 1000].mean()))


def scenes(voices: tuple[str, ...]) -> Iterator[Scene]:
    lines = itertools.cycle(PHRASES)
    for number, (voice, (name, level, kind, ratio)) in enumerate(itertools.product(voices, SCENES)):
        for _ in range(number % 3):
            next(lines)
        said = (next(lines), next(lines))
        first, second = (speak(line, voice) for line in said)
        first, second = (
            one * np.float32(10 ** (level / 20) / loudness(one)) for one in (first, second)
        )
        parts = [silence(2.0), first, silence(2.5), second, silence(2.5)]
        ends = np.cumsum([len(part) for part in parts]) / RATE
        sound = np.concatenate(parts)
        sound = sound + silence(1.0)[np.arange(len(sound)) % RATE]
        if kind:
            under = noise(kind, len(sound) / RATE + 1, seed=number)[: len(sound)]
            sound = sound + under * (10 ** ((level - ratio) / 20) / loudness(under))
        whole = np.clip(np.rint(sound * 32767), -32768, 32767).astype(np.int16)
        yield Scene(name, said, whole, ((ends[0], ends[1]), (ends[2], ends[3])))


def treated(way: str, sound: np.ndarray) -> tuple[Samples, Samples]:
    """The sound to find speech in, and the sound to hear."""
    if way == "plain":
        plain = (sound / 32768).astype(np.float32)
        return plain, plain
    conditioner = Conditioner() if way == "fit" else Conditioner(float(way))
    parts = (conditioner.feed(sound), conditioner.end())
    finding, hearing = (np.concatenate(both) for both in zip(*parts, strict=True))
    return finding, hearing if way == "fit" else finding


def main() -> None:
    parser = argparse.ArgumentParser()
    parser.add_argument("half", choices=("tune", "report"))
    parser.add_argument("--ways", default="plain,fit,120")
    parser.add_argument("--no-hearing", action="store_true")
    options = parser.parse_args()
    begun = time.process_time()
    made = list(scenes(TUNE if options.half == "tune" else REPORT))
    ears, words = recognizers(), vocabulary(Plan())
    for way in options.ways.split(","):
        rows: dict[str, list] = {}
        for scene in made:
            to_find, to_hear = treated(way, scene.sound)
            found = list(stretches([to_find]))
            row = rows.setdefault(scene.name, [0, 0, 0, [], [[], []]])
            for begin, end in scene.at:
                covered = sum(max(0.0, min(one.end, end) - max(one.start, begin)) for one in found)
                row[0] += 1
                row[1] += covered >= 0.9 * (end - begin)
            row[2] += sum(
                all(one.end < begin or one.start > end for begin, end in scene.at) for one in found
            )
            if options.no_hearing:
                continue
            begin, end = scene.at[1]
            cut = to_hear[round((begin - 0.25) * RATE) : round((end + 0.25) * RATE)]
            row[3].append(comparable(scene.said[1]))
            for ear, heard in zip(ears, row[4], strict=True):
                heard.append(comparable(ear.hear(cut, words)[0].text))
        every = [0, 0, 0, [], [[], []]]
        for name, row in [*rows.items(), ("all", every)]:
            if row is not every:
                for k in range(3):
                    every[k] += row[k]
                every[3] += row[3]
                for a, b in zip(every[4], row[4], strict=True):
                    a += b
            errors = [100 * jiwer.wer(row[3], heard) for heard in row[4]] if row[3] else []
            print(
                f"{way:10} {name:10} found {row[1]:3}/{row[0]:3} false {row[2]:2}  "
                + "  ".join(f"{ear.name} {e:5.1f} %" for ear, e in zip(ears, errors, strict=False)),
                flush=True,
            )
        print(f"{time.process_time() - begun:.0f} s of processor time", flush=True)


if __name__ == "__main__":
    main()
