"""The trade model by itself, through Vosk: what it hears, what it makes up, what it costs.

    python -m tests.bench.trade_model [--model FOLDER] [--human FOLDER] [--talk FOLDER]

Prints word errors (jiwer, numbers compared however they are written) on sixty dictated phrases by
voices that it was not trained on, clean and with wind and saw 10 dB below; of twenty sentences of
plain talk by the same voices, how many pass as an entry that nobody would be asked about (heard by
the trade recognizer, without the general one); then size, time to load and share of real time on
one core. With a folder of spoken digits as in `tests.bench.hearing`, word errors on strings of
digits, expecting digits only, and expecting numbers and fractions. With a folder of recordings of
people talking of other things, how many of these pass as an entry.
"""

from __future__ import annotations

import argparse
import json
import time
from collections.abc import Iterable, Iterator, Sequence
from itertools import product
from pathlib import Path

import jiwer
import numpy as np
import vosk

from fixtures.voices import VoiceError, mix, noise, silence, speak
from joblog.audio.decode import RATE, Samples, samples
from joblog.dictation import best
from joblog.dictation.judgement import DOUBTFUL
from joblog.model import UNHEARD
from joblog.plan import vocabulary
from joblog.speech.phrases import ONES, TENS
from joblog.speech.trade import TradeRecognizer, _shipped, pcm
from joblog.speech.training.voices import VOICES
from tests.bench.hearing import JOB, NOTES, PHRASES, PLAN, _strings, comparable

UNSEEN = tuple(
    f"{voice.engine} {name}"
    for voice in VOICES
    if not voice.share
    for name in voice.name.split(", ")
)
"""Voices of synthesizers that did not speak for training."""
SHORTEST_TALK = 1.5
"""Seconds."""
SOUNDS = ((None, 0), ("wind", 10), ("saw", 10))
FRACTIONS = "a and half quarter quarters eighth eighths sixteenth sixteenths hundred".split()
GRAMMARS = {"digits": ONES[:10], "numbers and fractions": (*ONES, *TENS, *FRACTIONS)}


def main() -> None:
    ask = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    ask.add_argument("--model", type=Path, default=_shipped())
    ask.add_argument("--human", type=Path, help="folder of spoken digits")
    ask.add_argument("--talk", type=Path, help="folder of recordings of plain talk")
    told = ask.parse_args()
    vosk.SetLogLevel(-1)
    before = time.perf_counter()
    model = vosk.Model(str(told.model))
    print(f"load {time.perf_counter() - before:.3f} s, {_size(told.model) / 1e6:.1f} MB")
    for voice in UNSEEN:
        try:
            _phrases(model, voice)
            _off_subject(told.model, (_said(line, voice) for line in NOTES), voice)
        except VoiceError as missing:
            print(missing)
    if told.human:
        _digits(model, told.human)
    if told.talk:
        _off_subject(told.model, _recordings(told.talk), "people")


def _phrases(model: vosk.Model, voice: str) -> None:
    spent = heard = 0.0
    for under, ratio in SOUNDS:
        found = []
        for number, line in enumerate(PHRASES):
            sound = _said(line, voice)
            if under:
                sound = mix(sound, noise(under, len(sound) / RATE, number), ratio)
            began = time.process_time()
            found.append(comparable(_hear(model, sound)))
            spent += time.process_time() - began
            heard += len(sound) / RATE
        errors = jiwer.wer([comparable(line) for line in PHRASES], found)
        print(
            f"{voice}, {under or 'clean'}{f' {ratio} dB' if under else ''}: {errors:.1%} of words"
        )
    print(f"{spent / heard:.4f} of real time")


def _off_subject(folder: Path, sounds: Iterable[Samples], who: str) -> None:
    """Plain talk that would stand as an entry of another kind than a note, without a doubt."""
    ear = TradeRecognizer(folder)
    job = vocabulary(PLAN, JOB)
    said = passed = unknown = 0
    for sound in sounds:
        (hearing,) = ear.hear(sound, job)
        said += 1
        unknown += UNHEARD in hearing.text or hearing.confidence < DOUBTFUL
        _, reading = best((hearing,), job)
        if not reading.doubts and any(entry.kind != "note" for entry in reading.entries):
            passed += 1
            print(f"  passes: {hearing.text}")
    print(f"{who}, plain talk: {unknown} of {said} unsure, {passed} pass as an entry")


def _recordings(folder: Path) -> Iterator[Samples]:
    """The recordings of a folder that are long enough to say something."""
    for file in sorted(folder.glob("*.wav")):
        sound = samples(file)
        if len(sound) >= SHORTEST_TALK * RATE:
            yield _in_silence(sound)


def _digits(model: vosk.Model, folder: Path) -> None:
    speakers = sorted({path.stem.split("_")[1] for path in folder.glob("*_*_*.wav")})
    for name, words in GRAMMARS.items():
        errors = []
        for speaker in speakers:
            strings = list(_strings(folder, speaker, 40))
            found = [_hear(model, sound, words) or "nothing" for _, sound in strings]
            errors.append(jiwer.wer([said for said, _ in strings], found))
        rows = ", ".join(f"{who} {one:.1%}" for who, one in zip(speakers, errors, strict=True))
        print(f"human digits, expecting {name}: {np.mean(errors):.1%} of words ({rows})")


def _hear(model: vosk.Model, sound: Samples, words: Sequence[str] = ()) -> str:
    pairs = [" ".join(pair) for pair in product(words, words)]
    recognizer = vosk.KaldiRecognizer(model, RATE, *([json.dumps(pairs)] if pairs else []))
    recognizer.AcceptWaveform(pcm(sound))
    return str(json.loads(recognizer.FinalResult())["text"])


def _said(line: str, voice: str) -> Samples:
    return _in_silence(speak(line, voice))


def _in_silence(sound: Samples) -> Samples:
    return np.concatenate([silence(0.25), sound, silence(0.25)])


def _size(folder: Path) -> int:
    return sum(file.stat().st_size for file in folder.rglob("*") if file.is_file())


if __name__ == "__main__":
    main()
