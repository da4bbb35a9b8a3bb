"""Every phrase said by every voice, clean and in noise, and heard by all recognizers."""

from __future__ import annotations

import hashlib
import multiprocessing
import os
import time
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

import numpy as np

from fixtures.voices import NOISES, VoiceError, mix, noise, silence, speak, write
from joblog.audio.decode import RATE, Samples, samples
from joblog.audio.loudness import loudness
from joblog.audio.voice import Stretch, stretches
from joblog.dictation import candidates
from joblog.model import Hearing, Utterance, Vocabulary
from joblog.speech import Recognizer, cross_score, recognizers
from tests.bench.corpus import Phrase, words
from tests.bench.spoken.cache import FOLDER, Key, ears, heard_already, keep, utterance_as_json
from tests.bench.spoken.wording import aloud

VOICES = (
    "espeak", "espeak scotland", "flite slt", "flite rms", "festival kal", "festival ked",
    "piper joe",
)  # fmt: skip
LEVELS: tuple[float | None, ...] = (None, 10.0, 20.0, 5.0)
"""Signal to noise in dB, None for clean, in the order in which they are worth having."""
WORKERS = 2
PAD = 1.0
"""Seconds of quiet room, or of the noise alone, before and after what is said."""


def hear(
    phrases: Sequence[Phrase],
    voices: Sequence[str] = VOICES,
    levels: Sequence[float | None] = LEVELS,
    again: bool = False,
) -> None:
    """Fills the cache with what is missing; may be stopped at any time and goes on from there.

    Level by level, and in each phrase by phrase as `mixed` has them, so that what is there is a
    fair sample at any time. `again` hears anew what another state of the recognizers heard.
    Raises `VoiceError` where a synthesizer is missing.
    """
    done = heard_already(ears() if again else None)
    todo = [
        key
        for level in levels
        for phrase in mixed(phrases)
        for voice in voices
        if (key := _key(phrase.text, voice, level)) not in done
    ]
    print(f"{len(todo)} to hear, {len(done)} in the cache", flush=True)
    if not todo:
        return
    began = time.monotonic()
    context = multiprocessing.get_context("spawn")
    with context.Pool(min(WORKERS, len(todo)), _wake) as pool:
        for count, row in enumerate(pool.imap_unordered(_heard, todo, chunksize=4), 1):
            if "missing" in row:
                raise VoiceError(row["missing"])
            keep(row)
            if count in (20, 100) or count % 500 == 0:
                left = (time.monotonic() - began) / count * (len(todo) - count) / 60
                print(f"{count} heard, about {left:.0f} minutes left", flush=True)


def mixed(phrases: Iterable[Phrase]) -> list[Phrase]:
    """The phrases in an order without meaning, always the same one: its start is a fair sample."""
    return sorted(phrases, key=lambda phrase: _digest(phrase.text))


def _key(text: str, voice: str, level: float | None) -> Key:
    if level is None:
        return voice, "", None, text
    return voice, NOISES[_digest(f"{text} {voice} {level}") % len(NOISES)], level, text


def _digest(text: str) -> int:
    return int.from_bytes(hashlib.sha256(text.encode()).digest()[-4:], "big")


def _wake() -> None:
    global _vocabulary, _recognizers
    os.nice(10)
    _vocabulary, _recognizers = words(), recognizers()


_vocabulary: Vocabulary
_recognizers: tuple[Recognizer, ...]


def _heard(key: Key) -> dict[str, Any]:
    voice, kind, snr, text = key
    try:
        said = _said(aloud(text), voice)
    except VoiceError as error:
        return {"missing": str(error)}
    clip = np.concatenate([silence(PAD), said, silence(PAD)])
    if snr is not None:
        seed = _digest(f"{text} {voice} {kind} {snr}")
        clip = mix(clip, noise(kind, len(clip) / RATE, seed), snr)
    began = time.process_time()
    found = list(stretches([clip]))
    cost = {"voice activity": time.process_time() - began}
    heard = [utterance_as_json(_utterance(stretch, cost)) for stretch in found]
    return {
        "text": text,
        "voice": voice,
        "noise": kind,
        "snr": snr,
        "ears": ears(),
        "seconds": round(len(clip) / RATE, 3),
        "cpu": {name: round(seconds, 4) for name, seconds in cost.items()},
        "stretches": heard,
    }


def _utterance(stretch: Stretch, cost: dict[str, float]) -> Utterance:
    """What `listen` makes of a stretch; processor seconds are added to `cost`."""
    hearings: list[Hearing] = []
    for recognizer in _recognizers:
        began = time.process_time()
        hearings += recognizer.hear(stretch.samples, _vocabulary, stretch.start)
        _add(cost, recognizer.name, began)
    began = time.process_time()
    scored = cross_score(stretch.samples, hearings, _vocabulary, _recognizers, candidates)
    _add(cost, "cross-scoring", began)
    loud = loudness(stretch.samples)
    return Utterance(stretch.start, stretch.end, tuple(hearings), scored, loud.level, loud.noise)


def _add(cost: dict[str, float], name: str, began: float) -> None:
    cost[name] = cost.get(name, 0.0) + time.process_time() - began


def _said(text: str, voice: str) -> Samples:
    """The text in this voice, from the cache if it was ever said before."""
    name = hashlib.sha256(text.encode()).hexdigest()[:24]
    file = FOLDER / "speech" / voice.replace(" ", "-") / f"{name}.flac"
    if not file.exists():
        file.parent.mkdir(parents=True, exist_ok=True)
        part = Path(f"{file.with_suffix('')}-{os.getpid()}.flac")
        write(part, speak(text, voice)).replace(file)
    return samples(file)
