"""The general recognizer: a small transformer that hears people in general.

Its graphs (`training/general/export.py` says what goes in and out) are run through onnxruntime
directly, with our own beam search, because the job needs log-probabilities, competing lines,
decoding along the job's own words, and how likely lines are that others heard.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import chain
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import NDArray

from joblog.model import Alternative, Hearing, Vocabulary, Word
from joblog.speech import calibration
from joblog.speech.beam import Hypothesis, Lane, search
from joblog.speech.recognizer import RATE, SpeechError
from joblog.speech.spelling import Spelling, piece_tree
from joblog.speech.timing import lay_over
from joblog.speech.tokens import BEGIN, END, cut, is_mark, numbered, read_pieces, write_out
from joblog.speech.words import figures, job_words, language_of

if TYPE_CHECKING:
    from joblog.audio.decode import Samples

SHIPPED = Path(__file__).with_name("general-en")
"""The model that comes with joblog."""
FREE_WIDTH = 2
CONSTRAINED_WIDTH = 4
TOKENS_A_SECOND = 8
"""No speaker needs more; what does is the model going round in circles."""
SHORTEST = 0.25
"""Seconds; shorter sound is padded with silence to this, because the encoder needs some."""
AT_ONCE = 64
"""Tokens that are scored in one go; memory grows with them."""

_Logits = NDArray[np.float32]
_Past = list[NDArray[np.float32]]


class GeneralRecognizer:
    """Hears an utterance twice in one go: freely, and along the job's words."""

    name = "general"

    def __init__(self, folder: Path | None = None, only: Iterable[str] | None = None) -> None:
        """`folder` holds the model's files; None are those in the installed package.

        With `only` the constrained hearing has nothing but these words, in any order.
        """
        self._folder = folder
        self._only = None if only is None else frozenset(only)
        self._loaded: _Loaded | None = None

    def hear(
        self, samples: Samples, vocabulary: Vocabulary, start: float = 0.0
    ) -> tuple[Hearing, ...]:
        """The free hearing and the constrained one, of mono sound at 16 kHz.

        Word times are seconds, `start` added; the model gives none, so the words are laid over
        the sound in proportion to their letters. Raises `SpeechError` when the model's files are
        missing.
        """
        loaded = self._load()
        steps = _Decoder(loaded.hear(samples))
        limit = 6 + math.ceil(len(samples) / RATE * TOKENS_A_SECOND)
        expected = loaded.expected(vocabulary) if self._only is None else loaded.any_of(self._only)
        free, constrained = search(steps, (loaded.free, expected), limit)
        sound = _Sound(samples, start)
        along = _hearing("general constrained", constrained, loaded.pieces, sound)
        freely = _hearing("general free", free, loaded.pieces, sound)
        return _with_confidence(freely, along)

    def score(
        self, samples: Samples, lines: Sequence[str], vocabulary: Vocabulary
    ) -> tuple[float | None, ...]:
        """Of each line the natural log-probability that it, and nothing more, is said.

        In mono sound at 16 kHz, as the model spells it, whatever the words of the job. None
        where it cannot spell the line. Raises `SpeechError` when the model's files are missing.
        """
        loaded = self._load()
        spelled = [loaded.spelled(line) for line in lines]
        rows = sorted({row for row in spelled if row}, key=lambda row: (len(row), row))
        heard = loaded.hear(samples)
        found: dict[tuple[int, ...] | None, float] = {}
        for some in _in_batches(rows):
            filled = [row + (END,) * (len(some[-1]) - len(row)) for row in some]
            found |= zip(some, heard.likelihoods(np.array(filled, np.int64)).tolist(), strict=True)
        return tuple(found.get(row) for row in spelled)

    def _load(self) -> _Loaded:
        if self._loaded is None:
            self._loaded = _Loaded(self._folder or SHIPPED)
        return self._loaded

    def __getstate__(self) -> dict[str, Any]:
        # Sessions cannot cross to another process; the model is loaded anew there.
        return {**self.__dict__, "_loaded": None}


class _Loaded:
    """The model in memory, and the searches made for it so far."""

    def __init__(self, folder: Path) -> None:
        try:
            self.encoder = _session(folder / "encoder.onnx")
            self.decoder = _session(folder / "decoder.onnx")
            self.pieces = read_pieces(folder / "pieces.bin")
        except Exception:  # onnxruntime has exceptions of its own that have no common name
            raise SpeechError(
                f"{folder} holds no general speech model that can be read; install joblog again"
            ) from None
        self.heard = [output.name for output in self.encoder.get_outputs()]
        own = [put for put in self.decoder.get_inputs() if put.name.startswith("past")]
        self.past = [put.name for put in own]
        self.present = [name.replace("past", "present") for name in self.past]
        self._heads, self._size = own[0].shape[1], own[0].shape[3]
        self._last: _Heard | None = None
        self._numbers = numbered(self.pieces)
        self._tree = piece_tree(self.pieces)
        self.free = Lane(
            FREE_WIDTH, letters=[_letters(piece.decode(errors="replace")) for piece in self.pieces]
        )
        self._lanes: dict[Vocabulary | frozenset[str], Lane] = {}

    def hear(self, samples: Samples) -> _Heard:
        """What is heard in a sound, remembered until there is another one."""
        last = self._last
        if last is None or not last.is_of(samples):
            self._last = last = _Heard(self, samples)
        return last

    def nothing(self, lines: int) -> _Past:
        """What went before the first token of each line."""
        none = np.zeros((lines, self._heads, 0, self._size), np.float32)
        return [none] * len(self.past)

    def spelled(self, line: str) -> tuple[int, ...] | None:
        """The tokens of a line from its beginning to its end; None where it has strange letters."""
        words = line.lower().replace("-", " ").split()
        said = " ".join(chain.from_iterable(figures().get(word, (word,)) for word in words))
        try:
            return (BEGIN, *cut(said, self._numbers), END)
        except ValueError:
            return None

    def expected(self, vocabulary: Vocabulary) -> Lane:
        """The search along the job's words, in the order in which they are likely."""
        if vocabulary not in self._lanes:
            words = job_words(vocabulary)
            expectation = language_of(vocabulary)
            spelling = Spelling(words, self._tree)
            self._lanes[vocabulary] = Lane(CONSTRAINED_WIDTH, spelling, expectation)
        return self._lanes[vocabulary]

    def any_of(self, words: frozenset[str]) -> Lane:
        """The search along these words in any order."""
        if words not in self._lanes:
            self._lanes[words] = Lane(CONSTRAINED_WIDTH, Spelling(words, self._tree))
        return self._lanes[words]


class _Heard:
    """What the encoder made of one sound, the same for all lines."""

    def __init__(self, loaded: _Loaded, samples: Samples) -> None:
        self._loaded = loaded
        self._samples = samples
        short = max(0, int(SHORTEST * RATE) - len(samples))
        outputs = loaded.encoder.run(loaded.heard, {"sound": np.pad(samples, (0, short))[None]})
        self._states = dict(zip(loaded.heard, outputs, strict=True))

    def is_of(self, samples: Samples) -> bool:
        """Whether this is what was heard in this sound."""
        return samples is self._samples or np.array_equal(samples, self._samples)

    def decoded(self, tokens: NDArray[np.int64], past: _Past | None) -> tuple[_Logits, _Past]:
        """Logits (lines, count, pieces) after tokens (lines, count), and what goes on from there.

        `past` is what went before, None at the beginning.
        """
        loaded = self._loaded
        before = past or loaded.nothing(len(tokens))
        logits, *present = loaded.decoder.run(
            ["logits", *loaded.present],
            {"tokens": tokens, **dict(zip(loaded.past, before, strict=True)), **self._states},
        )
        return logits, present

    def likelihoods(self, tokens: NDArray[np.int64]) -> NDArray[np.float64]:
        """Of each line (lines, count), begun and ended, its natural log-probability."""
        loaded = self._loaded
        before = dict(zip(loaded.past, loaded.nothing(len(tokens)), strict=True))
        (logits,) = loaded.decoder.run(
            ["logits"], {"tokens": tokens[:, :-1], **before, **self._states}
        )
        after = tokens[:, 1:, None]
        said = np.take_along_axis(logits, after, axis=2)[:, :, 0] - _log_of_sum(logits)
        # An end comes once; behind it lines are filled up with further ones.
        first = np.cumsum(tokens[:, 1:] == END, axis=1) - (tokens[:, 1:] == END) == 0
        total: NDArray[np.float64] = np.where(first, said, 0).sum(axis=1, dtype=np.float64)
        return total


class _Decoder:
    """The decoder's memory of one utterance, for all lines of a search at once."""

    def __init__(self, heard: _Heard) -> None:
        self._heard = heard
        self._past: _Past = []

    def first(self) -> _Logits:
        logits, self._past = self._heard.decoded(np.array([[BEGIN]], np.int64), None)
        return logits[:, -1]

    def next(self, tokens: Sequence[int], rows: Sequence[int]) -> _Logits:
        if list(rows) != list(range(len(self._past[0]))):
            self._past = [kept[list(rows)] for kept in self._past]
        said = np.array(tokens, np.int64)[:, None]
        logits, self._past = self._heard.decoded(said, self._past)
        return logits[:, -1]


def _in_batches(rows: Sequence[tuple[int, ...]]) -> Iterator[list[tuple[int, ...]]]:
    """Rows, shortest first, so many together as may be scored in one go."""
    some: list[tuple[int, ...]] = []
    for row in rows:
        if some and (len(some) + 1) * len(row) > AT_ONCE:
            yield some
            some = []
        some.append(row)
    if some:
        yield some


def _log_of_sum(logits: _Logits) -> _Logits:
    largest = logits.max(axis=-1, keepdims=True)
    sums: _Logits = np.log(np.exp(logits - largest).sum(axis=-1)) + largest[..., 0]
    return sums


def _session(path: Path) -> Any:
    import onnxruntime

    onnxruntime.disable_telemetry_events()  # what Windows itself would collect
    options = onnxruntime.SessionOptions()
    # Intake hears two recordings at a time on two cores.
    options.intra_op_num_threads = options.inter_op_num_threads = 1
    options.log_severity_level = 3
    return onnxruntime.InferenceSession(str(path), options, providers=["CPUExecutionProvider"])


@dataclass(frozen=True, slots=True)
class _Sound:
    samples: Samples
    start: float


def _hearing(
    name: str,
    lines: Sequence[Hypothesis],
    pieces: Sequence[bytes],
    sound: _Sound,
) -> Hearing:
    if not lines or not (spoken := _spoken(lines[0], pieces)):
        return Hearing(name, "", confidence=0.0)
    times = lay_over([text for text, _ in spoken], sound.samples)
    words = tuple(
        Word(
            text,
            round(sound.start + begin, 2),
            round(sound.start + end, 2),
            round(confidence, 4),
        )
        for (text, confidence), (begin, end) in zip(spoken, times, strict=True)
    )
    alternatives = tuple(
        Alternative(write_out(line.tokens, pieces), round(line.total, 4)) for line in lines
    )
    probability = math.exp(lines[0].total / len(lines[0].tokens))
    return Hearing(name, alternatives[0].text, words, alternatives, probability)


def _with_confidence(free: Hearing, constrained: Hearing) -> tuple[Hearing, Hearing]:
    """Both hearings with their pieces' mean probability turned into a confidence."""
    along = calibration.of_constrained(constrained.confidence) if constrained.text else 0.0
    if not free.text:
        freely = 0.0
    elif constrained.text and _letters(free.text) == _letters(constrained.text):
        freely = along
    else:
        behind = constrained.alternatives[0].log_probability if constrained.text else -math.inf
        lead = (free.alternatives[0].log_probability - behind) / len(free.words)
        freely = calibration.of_free(free.confidence, lead)
    return (
        replace(free, confidence=round(freely, 4)),
        replace(constrained, confidence=round(along, 4)),
    )


def _letters(text: str) -> str:
    return "".join(character for character in text.lower() if character.isalnum())


def _spoken(line: Hypothesis, pieces: Sequence[bytes]) -> list[tuple[str, float]]:
    """The words of a line, each with the probability of its least sure piece."""
    words: list[tuple[bytes, float]] = []
    for token, log in zip(line.tokens, line.logs, strict=True):
        if is_mark(token, pieces):
            continue
        first, *others = pieces[token].split(b" ")
        if first:
            begun, sure = words.pop() if words else (b"", 0.0)
            words.append((begun + first, min(sure, log)))
        words.extend((other, log) for other in others)
    return [(text.decode("utf-8", errors="replace"), math.exp(log)) for text, log in words if text]
