"""The general recognizer: a small transformer that hears people in general.

Its files are put beside this one by `build_general.py`. They are run through onnxruntime
directly, with our own beam search, because the job needs log-probabilities, competing lines, and
decoding along the job's own words.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
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
from joblog.speech.tokens import BEGIN, is_mark, read_pieces, write_out
from joblog.speech.words import SOUND_ALIKES, figures, job_words, language_of

if TYPE_CHECKING:
    from joblog.audio.decode import Samples

SHIPPED = Path(__file__).with_name("general-en")
"""The model that comes with joblog; `build_general.py` puts it there."""
FREE_WIDTH = 2
CONSTRAINED_WIDTH = 6
LAYERS = 6
HEADS, SIZE = 8, 36
TOKENS_A_SECOND = 8
"""No speaker needs more; what does is the model going round in circles."""
SHORTEST = 0.25
"""Seconds; shorter sound is padded with silence to this, because the encoder needs some."""


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
        steps = _Decoder(loaded, samples)
        limit = 6 + math.ceil(len(samples) / RATE * TOKENS_A_SECOND)
        expected = loaded.expected(vocabulary) if self._only is None else loaded.any_of(self._only)
        free, constrained = search(steps, (loaded.free, expected), limit)
        sound = _Sound(samples, start)
        respelled = expected.spelling.respelled if expected.spelling else str
        along = _hearing("general constrained", constrained, loaded.pieces, respelled, sound)
        freely = _hearing("general free", free, loaded.pieces, str, sound)
        return _with_confidence(freely, along)

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
            self.encoder = _session(folder / "encoder_model.ort")
            self.decoder = _session(folder / "decoder_model_merged.ort")
            self.pieces = read_pieces(folder / "tokenizer.bin")
        except Exception:  # onnxruntime has exceptions of its own that have no common name
            raise SpeechError(
                f"{folder} holds no general speech model that can be read; install joblog again"
            ) from None
        self._tree = piece_tree(self.pieces)
        self.free = Lane(
            FREE_WIDTH, letters=[_letters(piece.decode(errors="replace")) for piece in self.pieces]
        )
        self._lanes: dict[Vocabulary | frozenset[str], Lane] = {}

    def expected(self, vocabulary: Vocabulary) -> Lane:
        """The search along the job's words, in the order in which they are likely."""
        if vocabulary not in self._lanes:
            words = job_words(vocabulary)
            expectation = language_of(vocabulary)
            spelling = Spelling(words, self._tree, SOUND_ALIKES)
            self._lanes[vocabulary] = Lane(CONSTRAINED_WIDTH, spelling, expectation, figures())
        return self._lanes[vocabulary]

    def any_of(self, words: frozenset[str]) -> Lane:
        """The search along these words in any order, spelled out or in figures."""
        if words not in self._lanes:
            written = {figure: said for figure, said in figures().items() if words.issuperset(said)}
            spelling = Spelling(words | written.keys(), self._tree)
            self._lanes[words] = Lane(CONSTRAINED_WIDTH, spelling, figures=written)
        return self._lanes[words]


class _Decoder:
    """The decoder's memory of one utterance, for all lines of a search at once."""

    def __init__(self, loaded: _Loaded, samples: Samples) -> None:
        self._session = loaded.decoder
        short = max(0, int(SHORTEST * RATE) - len(samples))
        sound = np.pad(samples, (0, short))[None]
        self._heard = np.ones(sound.shape, np.int64)
        (self._states,) = loaded.encoder.run(
            None, {"input_values": sound, "attention_mask": self._heard}
        )
        self._past: list[NDArray[np.float32]] = []
        self._encoded: list[NDArray[np.float32]] = []

    def first(self) -> NDArray[np.float32]:
        nothing = np.zeros((1, HEADS, 0, SIZE), np.float32)
        logits, *present = self._session.run(
            [*LOGITS, *OWN_PRESENT, *HEARD_PRESENT],
            {
                **self._inputs(np.array([[BEGIN]], np.int64), cached=False),
                **dict.fromkeys(OWN_PAST + HEARD_PAST, nothing),
            },
        )
        self._past, self._encoded = present[: 2 * LAYERS], present[2 * LAYERS :]
        return logits[:, -1]  # type: ignore[no-any-return]

    def next(self, tokens: Sequence[int], rows: Sequence[int]) -> NDArray[np.float32]:
        if list(rows) != list(range(len(self._past[0]))):
            self._past = [kept[list(rows)] for kept in self._past]
        # What was heard is the same for every line, so it goes in once and is broadcast.
        logits, *self._past = self._session.run(
            [*LOGITS, *OWN_PRESENT],
            {
                **self._inputs(np.array(tokens, np.int64)[:, None], cached=True),
                **dict(zip(OWN_PAST, self._past, strict=True)),
                **dict(zip(HEARD_PAST, self._encoded, strict=True)),
            },
        )
        return logits[:, -1]  # type: ignore[no-any-return]

    def _inputs(self, tokens: NDArray[np.int64], cached: bool) -> dict[str, Any]:
        return {
            "input_ids": tokens,
            "encoder_attention_mask": self._heard,
            "encoder_hidden_states": self._states,
            "use_cache_branch": np.array([cached]),
        }


def _names(front: str, side: str) -> list[str]:
    return [
        f"{front}.{layer}.{side}.{part}" for layer in range(LAYERS) for part in ("key", "value")
    ]


LOGITS = ["logits"]
OWN_PAST, HEARD_PAST = _names("past_key_values", "decoder"), _names("past_key_values", "encoder")
OWN_PRESENT, HEARD_PRESENT = _names("present", "decoder"), _names("present", "encoder")


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
    respelled: Callable[[str], str],
    sound: _Sound,
) -> Hearing:
    if not lines or not (spoken := _spoken(lines[0], pieces)):
        return Hearing(name, "", confidence=0.0)
    times = lay_over([text for text, _ in spoken], sound.samples)
    words = tuple(
        Word(
            respelled(text),
            round(sound.start + begin, 2),
            round(sound.start + end, 2),
            round(confidence, 4),
        )
        for (text, confidence), (begin, end) in zip(spoken, times, strict=True)
    )
    alternatives = tuple(
        Alternative(respelled(write_out(line.tokens, pieces)), round(line.total, 4))
        for line in lines
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
