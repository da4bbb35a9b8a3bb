"""What a recognizer is: anything that hears an utterance."""

from __future__ import annotations

from collections.abc import Sequence
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


@runtime_checkable
class Scorer(Protocol):
    """A recognizer that tells of any line how likely the sound is if that was said."""

    name: str

    def score(
        self, samples: Samples, lines: Sequence[str], vocabulary: Vocabulary
    ) -> tuple[float | None, ...]:
        """Natural log-likelihood of the sound given each line; comparable among these alone.

        `lines` are in lower case, without punctuation. None for a line that it cannot say, or that
        is too far from what it hears to be told. Raises `SpeechError`.
        """
        ...
