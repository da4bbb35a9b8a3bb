"""In the place of what takes long and leaves nothing on the disk: ears, microphones, processes."""

from __future__ import annotations

import hashlib
from pathlib import Path
from typing import Any

SAID = ("south eave fourteen and a half", "used four sticks of fascia")
"""What the ear of the ladder hears in what is shorter than `LONGER` seconds, and in all else."""
LONGER = 2.5


def put_in_place() -> None:
    """Files are read and heard in this process, by ears that read what is written in them."""
    from joblog.book import arriving, hearing, intake
    from joblog.cli import demo
    from joblog.listening import doing, ear
    from joblog.speech import streaming
    from tests.in_process import Here

    for room in (intake, arriving, hearing):
        room.Pool = Here  # type: ignore[attr-defined]
    hearing._Ears.__call__ = _hear  # type: ignore[method-assign]
    demo._demo_files = lambda: Path("files/shown").resolve()
    ear.Ear = Hears  # type: ignore[misc, assignment]
    doing.time = StandingStill()  # type: ignore[assignment]
    streaming.WordsSoFar = NoWords  # type: ignore[misc, assignment]


def _hear(_: object, path: Path, vocabulary: Any) -> Any:
    from joblog.service.voice import card_lines
    from joblog.speech import Heard
    from tests.book import fake_ears

    first = path.read_bytes()[:80]
    if first.startswith(b"CARD"):
        lines = card_lines()
        return Heard(10.0 * len(lines), None, tuple(map(fake_ears._utterance, range(99), lines)))
    if first.startswith(b"RIFF"):
        told = (hashlib.sha256(first).hexdigest(),)
        return Heard(20.0, None, tuple(map(fake_ears._utterance, range(1), told)))
    return fake_ears.listen(path, vocabulary, ())


class Hears:
    """An ear that tells two utterances apart by how long they are."""

    def __init__(self, vocabulary: Any, judgement: Any = None) -> None:
        self._vocabulary, self._judgement = vocabulary, judgement

    def wake(self) -> None:
        """It is awake."""

    def hear(self, said: Any) -> Any:
        from joblog.audio.decode import RATE
        from joblog.dictation import SHIPPED, read_heard
        from joblog.model import Utterance
        from tests.listening.talking import hearings

        seconds = len(said.sound) / RATE
        utterance = Utterance(0.0, seconds, hearings(SAID[seconds > LONGER]))
        return read_heard(utterance, self._vocabulary, said.context, self._judgement or SHIPPED)

    def close(self) -> None:
        """There is nothing to close."""


class StandingStill:
    """A clock by which nothing takes any time, so that answers come whatever the machine."""

    def perf_counter(self) -> float:
        return 0.0


class NoWords:
    """Tells no words while somebody speaks."""

    ended = False

    def __init__(self, *_: Any) -> None:
        """It needs no model."""

    def feed(self, sound: Any) -> str:
        return ""

    def begin(self) -> None:
        """It forgets nothing."""
