"""One utterance heard by every recognizer and read, in a process that may die without harm."""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from functools import partial
from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from joblog.audio.decode import RATE
from joblog.listening.commands import spoken_commands
from joblog.model import HeardUtterance, Utterance, Vocabulary
from joblog.workers import HEARING, Limits, Lost, Pool

if TYPE_CHECKING:
    from joblog.dictation import Context, Judgement
    from joblog.speech import Recognizer


@dataclass(frozen=True, slots=True)
class Said:
    """The sound of one utterance, mono at 16 kHz, -1 to 1, and what holds from before."""

    sound: NDArray[np.float32]
    context: Context


@dataclass(frozen=True, slots=True)
class Unheard:
    """Why an utterance could not be heard, in words; its sound is kept all the same."""

    why: str


class Ear:
    """Hears utterances in a process of its own, which is begun anew when it is lost."""

    def __init__(
        self,
        vocabulary: Vocabulary,
        *,
        recognizers: Sequence[Recognizer] | None = None,
        judgement: Judgement | None = None,
        limits: Limits | None = None,
    ) -> None:
        """`recognizers` and `judgement` are those of joblog unless others are given."""
        expected = replace(vocabulary, commands=spoken_commands())
        ready = partial(_prepared, expected, recognizers, judgement)
        self._pool: Pool[Said, HeardUtterance | Unheard] = Pool(ready, 1, limits or HEARING)

    def hear(self, said: Said) -> HeardUtterance | Unheard:
        """What every recognizer made of it and what that was read as; word times from its start."""
        [(_, outcome)] = self._pool.answers([said])
        if isinstance(outcome, Lost):
            return Unheard(f"what hears it {_LOST[outcome.how]}")
        return outcome

    def wake(self) -> None:
        """Loads the models, so that the first utterance need not wait for them."""
        from joblog.dictation import Context

        self.hear(Said(np.zeros(8_000, np.float32), Context()))

    def close(self) -> None:
        self._pool.__exit__(None, None, None)


_LOST = {
    "died": "came to an end; it is begun anew",
    "stuck": "got stuck; it is begun anew",
    "memory": "took too much memory; it is begun anew",
}


def _prepared(
    vocabulary: Vocabulary,
    recognizers: Sequence[Recognizer] | None,
    judgement: Judgement | None,
) -> Callable[[Said], HeardUtterance | Unheard]:
    return _Listener(vocabulary, recognizers, judgement).hear


class _Listener:
    def __init__(
        self,
        vocabulary: Vocabulary,
        recognizers: Sequence[Recognizer] | None,
        judgement: Judgement | None,
    ) -> None:
        self._vocabulary, self._recognizers = vocabulary, recognizers
        self._judgement = judgement
        self._threads: ThreadPoolExecutor | None = None
        self._refreshing: threading.Thread | None = None

    def hear(self, said: Said) -> HeardUtterance | Unheard:
        from joblog.dictation import SHIPPED, read_heard

        try:
            judgement = self._judgement or SHIPPED
            return read_heard(self._utterance(said), self._vocabulary, said.context, judgement)
        except Exception as error:  # One sentence must not end the day.
            return Unheard(str(error) or type(error).__name__)

    def _utterance(self, said: Said) -> Utterance:
        from joblog.audio.loudness import loudness
        from joblog.dictation import candidates
        from joblog.speech import cross_score

        if self._recognizers is None:
            from joblog.speech import recognizers

            self._recognizers = recognizers()
        if self._threads is None:
            self._threads = ThreadPoolExecutor(len(self._recognizers))
        if self._refreshing is not None:
            self._refreshing.join()
        # Side by side, because he waits for the answer.
        heard = self._threads.map(
            lambda one: one.hear(said.sound, self._vocabulary), self._recognizers
        )
        hearings = tuple(hearing for some in heard for hearing in some)
        scored = cross_score(
            said.sound,
            hearings,
            self._vocabulary,
            self._recognizers,
            candidates,
            self._threads.map,
        )
        # Every utterance is a recording of its own, heard alike whatever came before it.
        self._refreshing = threading.Thread(target=self._refresh, daemon=True)
        self._refreshing.start()
        loud = loudness(said.sound)
        seconds = len(said.sound) / RATE
        return Utterance(0.0, seconds, hearings, scored, loud.level, loud.noise)

    def _refresh(self) -> None:
        for recognizer in self._recognizers or ():
            if (begin := getattr(recognizer, "begin", None)) is not None:
                begin()
