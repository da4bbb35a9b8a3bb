"""How much speech is found in noise, and what finding it costs: `python -m tests.bench.voices`.

Every voice of `fixtures/voices.py` says two lines in every noise. Prints, for each noise and ratio,
the share of the speech that lies inside a stretch (all voices, worst voice), how many stretches
there are for the two lines, and how many seconds of stretch an hour of that noise alone gives.
"""

from __future__ import annotations

import sys
import time

import numpy as np

from fixtures.voices import NOISES, VOICES, VoiceError, mix, noise, silence, speak
from joblog.audio.decode import RATE, Samples
from joblog.audio.voice import stretches

LINES = ("north eave eleven and seven eighths heavy", "used six sheets on the north eave")
RATIOS = (15.0, 5.0, 0.0, -3.0)


def main() -> None:
    try:
        spoken = [_spoken(voice) for voice in VOICES]
    except VoiceError as error:
        sys.exit(str(error))
    print("noise        dB  found  worst  stretches  alone s/h")
    _row("none", 0.0, spoken, 0.0)
    for kind in NOISES:
        alone = noise(kind, 120.0, 3)
        hourly = 30 * sum(stretch.end - stretch.start for stretch in stretches([alone]))
        for ratio in RATIOS:
            noisy = [
                (mix(sound, noise(kind, len(sound) / RATE, seed), ratio), speech)
                for seed, (sound, speech) in enumerate(spoken)
            ]
            _row(kind, ratio, noisy, hourly)
    sound = np.concatenate([sound for sound, _ in spoken])
    list(stretches([sound[:RATE]]))
    began = time.process_time()
    list(stretches([sound]))
    print(f"cost: {(time.process_time() - began) * RATE / len(sound):.4f} of real time, one core")


def _spoken(voice: str) -> tuple[Samples, Samples]:
    """The lines with pauses, and 1 where their sound is within 30 dB of its loudest."""
    pause = silence(1.5)
    sounds, marks = [pause], [np.zeros_like(pause)]
    for line in LINES:
        said = speak(line, voice)
        level = np.convolve(said**2, np.ones(800) / 800, "same")
        sounds += [said, pause]
        marks += [(level > level.max() / 1000).astype(np.float32), np.zeros_like(pause)]
    return np.concatenate(sounds), np.concatenate(marks)


def _row(kind: str, ratio: float, spoken: list[tuple[Samples, Samples]], hourly: float) -> None:
    shares, counts = [], []
    for sound, speech in spoken:
        found = list(stretches([sound]))
        inside = np.zeros(len(sound), bool)
        for stretch in found:
            inside[round(stretch.start * RATE) : round(stretch.end * RATE)] = True
        shares.append(float(inside[speech > 0].mean()))
        counts.append(len(found))
    figures = f"{np.mean(shares):5.1%}  {min(shares):5.1%}  {np.mean(counts):9.2f}  {hourly:9.1f}"
    print(f"{kind:<11}{ratio:>4.0f}  {figures}", flush=True)


if __name__ == "__main__":
    main()
