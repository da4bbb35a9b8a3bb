"""Recognizers that "hear" what is written in a text file: one utterance a line, ten seconds apart.

A first word in capitals makes trouble. Everything behind the hearing is the real thing.
"""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Sequence
from pathlib import Path

from PIL import Image

from joblog.audio.decode import AudioError
from joblog.model import Alternative, Hearing, Utterance, Vocabulary, Word
from joblog.speech import Heard, SpeechError


def listen(path: Path, vocabulary: Vocabulary, recognizers: Sequence[object]) -> Heard:
    lines = path.read_text().splitlines()
    first = lines[0] if lines else ""
    if first == "DIES":
        os.kill(os.getpid(), signal.SIGKILL)
    if first == "CORRUPT":
        raise AudioError(path, "is not a recording that can be read")
    if first == "DEAF":
        raise SpeechError("there is no model in the folder; name another")
    if first == "SURPRISES":
        raise RuntimeError("a codec went wrong")
    if first.startswith("SLOW"):
        time.sleep(float(first.split()[1]))
    said = [line for line in lines if not line.split()[0].isupper()]
    return Heard(10.0 * len(lines), None, tuple(map(_utterance, range(len(said)), said)))


def _utterance(number: int, line: str) -> Utterance:
    start = 10.0 * number + 1 / 3
    words = tuple(Word(word, start, start + 2, 1.0) for word in line.split())
    hearings = (
        Hearing("trade", line, words, (Alternative(line, 0.0),)),
        Hearing("general free", line, words, (Alternative(line, 0.0),)),
        Hearing("general constrained", line, words, (Alternative(line, 0.0),)),
    )
    return Utterance(start, start + 2, hearings)


def recording(folder: Path, name: str, *lines: str) -> Path:
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text("\n".join(lines))
    return path


def photo(folder: Path, name: str, taken: str, shade: int = 0) -> Path:
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    exif = Image.Exif()
    exif.get_ifd(0x8769)[0x9003] = taken
    exif.get_ifd(0x8769)[0x9011] = "-04:00"
    Image.new("RGB", (64, 48), (shade, 128, 128)).save(path, exif=exif)
    return path


class Says:
    """A recognizer that hears the same in every utterance, or one thing after the other."""

    def __init__(self, *lines: str, name: str = "trade") -> None:
        self.name, self.lines = name, lines or ("used three sheets of soffit",)

    def begin(self) -> None:
        self.heard = 0

    def hear(self, samples: object, vocabulary: Vocabulary, start: float) -> tuple[Hearing, ...]:
        line = self.lines[min(self.heard, len(self.lines) - 1)]
        self.heard += 1
        words = tuple(Word(word, start, start + 1, 1.0) for word in line.split())
        said = (Alternative(line, 0.0),)
        return tuple(Hearing(name, line, words, said) for name in (self.name, "general free"))
