"""The plainest thing that listens: every stretch of speech is heard, kept and read back.

It knows nothing of commands, of its own voice or of silence; what it comes to is what a listener
has to be better than.
"""

from __future__ import annotations

import hashlib
import tempfile
from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path
from typing import Any

import numpy as np

from fixtures.voices import speak, write
from joblog.audio.decode import RATE, Samples
from joblog.audio.voice import Stretch, stretches
from joblog.book.hearing import read_out
from joblog.book.keep import keep_recording
from joblog.form import describe
from joblog.model import Moment, Recording, Utterance
from joblog.service import Desk
from joblog.speech import recognizers


class Espeak:
    """Says what is read back."""

    name = "espeak"

    def say(self, text: str) -> tuple[Samples, int]:
        return speak(text, "espeak"), RATE


def listen(desk: Desk, site: Any, voice: Any, told: Callable[..., None]) -> None:
    """Listens until the microphone ends."""
    ears = recognizers()
    for ear in ears:
        ear.hear(np.zeros(RATE, np.float32), desk.vocabulary)
    begun: list[Any] = []

    def sounds() -> Iterator[Samples]:
        for block in site.blocks():
            begun[:] = begun or [block.at]
            yield block.sound.astype(np.float32) / 32768

    for stretch in stretches(sounds()):
        at = begun[0] + timedelta(seconds=stretch.start)
        told("found", start=at, end=at + timedelta(seconds=stretch.end - stretch.start))
        answer = _kept(desk, ears, stretch, Moment(at, "container"))
        if answer:
            site.play(*voice.say(answer))


def _kept(desk: Desk, ears: Any, stretch: Stretch, made: Moment) -> str:
    """Keeps the stretch, if a word was heard in it; what it was understood as, or nothing."""
    hearings = tuple(
        hearing for ear in ears for hearing in ear.hear(stretch.samples, desk.vocabulary)
    )
    if not any(hearing.text for hearing in hearings):
        return ""
    seconds = len(stretch.samples) / RATE
    heard = read_out([Utterance(0.0, seconds, hearings)], made, desk.job.zone, desk.vocabulary)
    with tempfile.TemporaryDirectory() as folder:
        file = write(Path(folder) / f"{made.at:%Y-%m-%d %H.%M.%S.%f}.wav", stretch.samples)
        sha256 = hashlib.sha256(file.read_bytes()).hexdigest()
        recording = Recording(sha256, file.name, made, seconds)
        keep_recording(desk.book, desk.job.name, file, recording, heard)
    return ", ".join(describe(entry) for one in heard for entry in one.reading.entries)
