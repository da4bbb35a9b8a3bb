"""The trade recognizer: Vosk, with a small English model that knows building work and little else.

It listens twice: with its own language model, and expecting the phrases of this job. Which of the
two is believed is decided by their likelihoods; where they differ, the words are unsure.
"""

from __future__ import annotations

import contextlib
import json
import math
import os
import sys
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from importlib.resources import files
from itertools import pairwise, product
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from joblog.model import UNHEARD, Alternative, Hearing, Vocabulary, Word
from joblog.speech import calibration
from joblog.speech.phrases import phrases
from joblog.speech.recognizer import RATE, SpeechError
from joblog.speech.vosk_models import find_model

if TYPE_CHECKING:
    from joblog.audio.decode import Samples

COUNT = 8
"""Competing lines that are asked for in each of the two ways of listening."""
PREFERENCE = 3.0
"""Nats by which a line of the job's own phrases may be less likely and still be believed."""
BREATH = 24.0
"""Decibels by which the noise that is laid under a recording is softer than it.

The model never met perfect silence between words, and recorders that cut noise away make it.
"""
UNKNOWN = "[unk]"
"""What the model calls speech that it knows no word for; a person is shown `UNHEARD`."""
REACH = 4.0
"""Nats behind the best line of a way of listening within which another competes with it."""
SCORED = 200
"""Lines that are asked for when given ones are scored: those that cross over between them too."""
SOFTNESS = 0.3
"""Power to which likelihoods are raised for confidences, because the model is too sure."""


class TradeRecognizer:
    """Hears an utterance with a Vosk model."""

    name = "trade"

    def __init__(self, model: Path | str | None = None, only: Iterable[str] | None = None) -> None:
        """`model` is a folder or the name of a Vosk model; None is the one that comes with joblog.

        With `only` nothing but these words is heard, in any order.
        """
        self._model = model
        self._only = None if only is None else tuple(sorted(only))
        self._loaded: Any = None
        self._open: _Ear | None = None
        self._expecting: dict[Vocabulary, _Ear] = {}

    def hear(
        self, samples: Samples, vocabulary: Vocabulary, start: float = 0.0
    ) -> tuple[Hearing, ...]:
        """One hearing of mono sound at 16 kHz; word times in seconds, `start` added.

        `log_probability` of an alternative is that of it against the other alternatives. Raises
        `SpeechError` when the model is missing or broken.
        """
        sound = pcm(samples)
        self._load()
        lines = self._expectant(vocabulary).lines(sound, PREFERENCE)
        if self._open is not None:
            lines += self._open.lines(sound, 0.0)
        return (_hearing(lines, start),)

    def score(
        self, samples: Samples, lines: Sequence[str], vocabulary: Vocabulary
    ) -> tuple[float | None, ...]:
        """How likely the sound is given each line, from listening for exactly these lines.

        None for a line with a word that the model does not know, and for one that lies further
        behind the best than the decoder's beam reaches. Raises `SpeechError`.
        """
        self._load()
        plain = [" ".join(line.replace("-", " ").split()) for line in lines]
        sayable = [line for line in dict.fromkeys(plain) if line and self._can_say(line)]
        found = _scored(self._loaded, pcm(samples), sayable) if sayable else {}
        return tuple(map(found.get, plain))

    def begin(self) -> None:
        """Forgets what was heard, so that a recording is heard alike whatever came before it.

        Vosk's decoder keeps its tables from one utterance to the next, and the order in them
        decides between lines that are all but equally likely.
        """
        if self._open is not None:
            self._open = _Ear(self._loaded)
        self._expecting = {
            vocabulary: _Ear(self._loaded, ear.expected)
            for vocabulary, ear in list(self._expecting.items())[-1:]
        }

    def _load(self) -> None:
        if self._loaded is None:
            self._loaded = load_trade_model(self._model)
            if self._only is None:
                self._open = _Ear(self._loaded)

    def _expectant(self, vocabulary: Vocabulary) -> _Ear:
        """The ear that expects this job's phrases, or `only` its own words."""
        if self._only is not None:
            vocabulary = Vocabulary()
        if vocabulary not in self._expecting:
            expected = phrases(vocabulary) if self._only is None else _any_order(self._only)
            known = sorted({" ".join(self._known(phrase)) for phrase in expected} - {""})
            self._expecting[vocabulary] = _Ear(self._loaded, known)
        return self._expecting[vocabulary]

    def _known(self, phrase: str) -> list[str]:
        """The phrase's words that the model can hear at all."""
        words = phrase.replace("-", " ").split()
        return [word for word in words if self._loaded.vosk_model_find_word(word) >= 0]

    def _can_say(self, line: str) -> bool:
        return len(self._known(line)) == len(line.split())

    def __getstate__(self) -> dict[str, Any]:
        # A loaded model cannot cross to another process; it is loaded anew there.
        return {**self.__dict__, "_loaded": None, "_open": None, "_expecting": {}}


@dataclass(frozen=True, slots=True)
class _Hypothesis:
    words: tuple[tuple[str, float, float], ...]
    """Text, start, end."""
    likelihood: float

    @property
    def text(self) -> str:
        return " ".join(word for word, _, _ in self.words)


class _Ear:
    """One of Vosk's recognizers, used for one recording."""

    def __init__(self, model: Any, expected: Sequence[str] = ()) -> None:
        from joblog.speech.vosk_alone import vosk

        self.expected = expected
        grammar = [json.dumps(expected)] if expected else []
        self._recognizer = vosk().KaldiRecognizer(model, RATE, *grammar)
        self._recognizer.SetWords(True)
        # With alternatives Vosk gives likelihoods but no confidences of words: ours stand in.
        self._recognizer.SetMaxAlternatives(COUNT)
        self._seconds = 0.0

    def lines(self, sound: bytes, preference: float) -> list[_Hypothesis]:
        """The likeliest lines, `preference` added to their likelihoods; times from the sound's
        start in seconds."""
        self._recognizer.AcceptWaveform(sound)
        heard = json.loads(self._recognizer.FinalResult())
        # Vosk's clock goes on from one utterance to the next.
        before = self._seconds
        self._seconds += len(sound) / 2 / RATE
        found = heard.get("alternatives", ())
        bar = max((one["confidence"] for one in found), default=0.0) - REACH
        return [
            _Hypothesis(
                tuple(
                    (
                        UNHEARD if word["word"] == UNKNOWN else word["word"],
                        word["start"] - before,
                        word["end"] - before,
                    )
                    for word in one.get("result", ())
                ),
                one["confidence"] + preference,
            )
            for one in found
            if one["confidence"] >= bar
        ]


def _scored(model: Any, sound: bytes, lines: Sequence[str]) -> dict[str, float]:
    """By line, its likelihood; a recognizer of its own, so that nothing heard before matters."""
    from joblog.speech.vosk_alone import vosk

    recognizer = vosk().KaldiRecognizer(model, RATE, json.dumps(lines))
    recognizer.SetMaxAlternatives(SCORED)
    recognizer.AcceptWaveform(sound)
    heard = json.loads(recognizer.FinalResult()).get("alternatives", ())
    expected = _expected_from(lines)
    told = {one["text"]: one["confidence"] for one in heard}
    return {line: told[line] - expected(line) for line in lines if line in told}


GRAPH = 0.9
"""The power to which Vosk raises what it expects."""


def _expected_from(lines: Sequence[str]) -> Callable[[str], float]:
    """What a line gets from Vosk before anything is heard, given these lines to expect.

    It goes by how often one word follows another in them, so that a word which all have is
    favoured over the one that stands in its place in one of them.
    """
    pairs = Counter(pair for line in lines for pair in _pairs(line))
    firsts = Counter(first for line in lines for first, _ in _pairs(line))
    return lambda line: (
        GRAPH * sum(math.log(pairs[pair] / firsts[pair[0]]) for pair in _pairs(line))
    )


def _pairs(line: str) -> list[tuple[str, str]]:
    return list(pairwise(["<s>", *line.split(), "</s>"]))


def pcm(samples: Samples) -> bytes:
    """16-bit sound with a breath of noise under it.

    The noise is the same every time, so that the same sound is always heard the same way; Vosk's
    own noise is not, and is turned off.
    """
    sound = samples * 32767
    loudness = float(np.sqrt(np.mean(sound**2))) if len(sound) else 0.0
    breath = np.random.default_rng(0).standard_normal(len(sound), np.float32)
    noisy = sound + breath * max(1.0, loudness * 10 ** (-BREATH / 20))
    return bytes(np.clip(noisy, -32768, 32767).astype("<i2").tobytes())


def load_trade_model(model: Path | str | None) -> Any:
    """Vosk's model in a folder or of a name; None is the one that comes with joblog.

    Raises `SpeechError` when it is missing or broken.
    """
    return _vosk_model(_shipped() if model is None else find_model(model))


def _shipped() -> Path:
    return Path(str(files("joblog.speech") / "trade-en"))


def _any_order(words: Sequence[str]) -> list[str]:
    return [" ".join(pair) for pair in product(words, words)]


def _vosk_model(folder: Path) -> Any:
    from joblog.speech.vosk_alone import vosk

    vosk().SetLogLevel(-1)
    try:
        with _without_complaints():
            return vosk().Model(str(folder))
    except Exception:
        raise SpeechError(
            f"{folder} holds no speech model that Vosk can read; name another folder"
        ) from None


@contextlib.contextmanager
def _without_complaints() -> Iterator[None]:
    """Keeps what Vosk's library writes to the error output by itself from the user's screen."""
    sys.stderr.flush()
    kept = os.dup(2)
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, 2)
        yield
    finally:
        os.dup2(kept, 2)
        os.close(kept)
        os.close(nowhere)


def _hearing(lines: Sequence[_Hypothesis], start: float) -> Hearing:
    """The likeliest line; a word is as sure as all lines together that have it at that time."""
    best_first: dict[str, _Hypothesis] = {}
    for line in sorted(lines, key=lambda line: -line.likelihood):
        best_first.setdefault(line.text, line)
    best = next(iter(best_first.values()), _Hypothesis((), 0.0))
    if not best.words:
        return Hearing("trade", "", confidence=0.0)
    shares = _shares([line.likelihood for line in best_first.values()])
    soft = _shares([line.likelihood * SOFTNESS for line in best_first.values()])
    words = tuple(
        Word(
            text,
            round(start + begin, 2),
            round(start + end, 2),
            round(
                sum(
                    math.exp(share)
                    for line, share in zip(best_first.values(), soft, strict=True)
                    if any(w == text and b < end and e > begin for w, b, e in line.words)
                ),
                4,
            ),
        )
        for text, begin, end in best.words
    )
    alternatives = tuple(
        Alternative(text, round(share, 4)) for text, share in zip(best_first, shares, strict=True)
    )
    confidence = calibration.of_trade(math.exp(soft[0]))
    return Hearing("trade", best.text, words, alternatives, round(confidence, 4))


def _shares(likelihoods: Sequence[float]) -> list[float]:
    """Log-probabilities of each against all."""
    top = max(likelihoods)
    whole = top + math.log(sum(math.exp(one - top) for one in likelihoods))
    return [one - whole for one in likelihoods]
