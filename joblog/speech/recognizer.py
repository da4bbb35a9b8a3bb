"""What a recognizer is: anything that hears an utterance."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol, runtime_checkable

from joblog.model import Hearing, Vocabulary

if TYPE_CHECKING:
    from joblog.audio.decode import Samples

RATE = 16_000
"""Samples per second of every sound that a recognizer is given."""


class SpeechError(Exception):
    """A recognizer that cannot work; the text is a plain sentence that says what to do."""


@runtime_checkable
class Recognizer(Protocol):
    """Hears utterances. Holds no model until it first hears something, and can be pickled."""

    name: str

    def hear(
        self, samples: Samples, vocabulary: Vocabulary, start: float = 0.0
    ) -> tuple[Hearing, ...]:
        """What it makes of one utterance, once or in several ways, the most trusted first.

        `samples` is mono float32 at 16 kHz, -1 to 1. Word times are seconds with `start` added.
        Where nothing was said a hearing has an empty text. Raises `SpeechError`.
        """
        ...
