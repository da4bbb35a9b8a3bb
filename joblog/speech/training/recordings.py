"""Recordings for training: a folder's packs in one long row of samples, and drawing from them.

Single utterances, two of one voice after one another, and words said alone that are joined into
rows with short gaps or none, as people dictate digits.
"""

from __future__ import annotations

import json
import random
from collections import defaultdict
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import torch
from torch import Tensor

from joblog.speech.trade import UNKNOWN
from joblog.speech.training.augment import Pieces
from joblog.speech.training.features import RATE
from joblog.speech.training.lfmmi import PhoneChances, Pronunciations, Said, said, shortest

LONGEST = 10 * RATE
"""Samples of a joined recording at most."""
TOO_FAR_OFF = {"trade": 0.02, "word": 0.01, "general": 0.12}
"""How often a word of each kind of text is learned as speech of no known word."""
SINGLE, PAIR, ROW = 0.5, 0.12, 0.38
"""Shares of single utterances, pairs and rows of words."""
TIGHT = 0.5
"""Share of the rows whose words are cut where they begin and end, as some recorders do."""
CLOSE = 0.3
"""Share of the rows whose words follow one another without a gap: "four two" is not "forty"."""
FAINT = 10 ** (-35 / 20)
"""Of an utterance's loudest moment: what is softer, before it and after it, is no word."""
ROWABLE = 6
"""Words of numbers that a voice says alone, for rows to be of these only."""
OF_NUMBERS = 0.75
"""Share of the rows that are."""
ENGINES = {
    "hibari": 0.23, "kokoro": 0.09, "espeak": 0.2, "flite": 0.14,
    "an4": 0.18, "libri": 0.1, "cathy": 0.02, "arctic": 0.02, "ljspeech": 0.02,
}  # fmt: skip
"""How often each synthesizer and each corpus of people is heard, however much there is of it."""
ALONE = 1 / 6
"""How often it is a word of numbers said alone, where a voice has both."""
POOL = 5000
"""Recordings that are drawn before they are put together by length."""


@dataclass(frozen=True)
class Utterance:
    start: int
    """Sample of the store."""
    length: int
    voice: str
    kind: str
    words: tuple[str, ...]
    spoken: tuple[int, int]
    """First and last sample that is heard, counted from the start."""


@dataclass(frozen=True)
class Batch:
    """What to join for each recording, how many samples it has then, and what is said in it."""

    pieces: Pieces
    lengths: Tensor
    said: Said


def load(folders: Sequence[Path]) -> tuple[Tensor, tuple[Utterance, ...]]:
    """All packs of the folders as 16-bit samples in one row, and the utterances in it."""
    from joblog.speech.training.synthesize import read_pack

    rows = [
        (folder / row["pack"], row)
        for folder in folders
        for listing in sorted(folder.glob("*.jsonl"))
        if listing.name != "manifest.jsonl"
        for row in map(json.loads, listing.read_text("utf-8").splitlines())
    ]
    packs = sorted({pack for pack, _ in rows})
    with ThreadPoolExecutor(8) as readers:
        sounds = list(readers.map(lambda pack: _whole(read_pack(pack)), packs))
    offsets = dict(zip(packs, np.cumsum([0, *map(len, sounds)]).tolist(), strict=False))
    store = np.concatenate(sounds)
    utterances = tuple(
        Utterance(
            start := offsets[pack] + row["start"],
            row["length"],
            row["voice"],
            row["kind"],
            tuple(row["text"].split()),
            _heard(store[start : start + row["length"]]),
        )
        for pack, row in rows
    )
    return torch.from_numpy(store), utterances


class Batches(torch.utils.data.IterableDataset[Batch]):
    """Batches without end, of recordings of about the same length."""

    def __init__(
        self,
        utterances: Sequence[Utterance],
        words: Pronunciations,
        chances: PhoneChances,
        samples: int,
        seed: int,
    ) -> None:
        """`samples` is how many samples a batch has at most, padding counted."""
        self._words = words
        self._chances = chances
        self._samples = samples
        self._seed = seed
        self._rows: dict[str, list[Utterance]] = defaultdict(list)
        self._voices: dict[str, list[Utterance]] = defaultdict(list)
        self._engines: dict[str, tuple[list[Utterance], list[Utterance]]] = {}
        alone: dict[str, list[Utterance]] = defaultdict(list)
        for one in utterances:
            self._voices[one.voice].append(one)
            said_and_alone = self._engines.setdefault(_engine(one.voice), ([], []))
            said_and_alone[one.kind == "alone"].append(one)
            if one.kind in ("word", "digits") and len(one.words) <= 2:
                self._rows[one.voice].append(one)
            if one.kind == "alone":
                alone[one.voice].append(one)
        self._spellers: dict[str, list[list[Utterance]]] = defaultdict(list)
        for voice, said_alone in alone.items():
            if len(said_alone) >= ROWABLE:
                self._spellers[_engine(voice)].append(said_alone)

    def __iter__(self) -> Iterator[Batch]:
        worker = torch.utils.data.get_worker_info()
        if worker:
            torch.set_num_threads(1)
        draw = random.Random(1000 * self._seed + (worker.id if worker else 0))
        while True:
            pool = [self._recording(draw) for _ in range(POOL)]
            fitting = [one for one in pool if one is not None]
            fitting.sort(key=lambda one: one.samples)
            batches: list[list[_Recording]] = [[]]
            for one in fitting:
                if (len(batches[-1]) + 1) * one.samples > self._samples:
                    batches.append([])
                batches[-1].append(one)
            draw.shuffle(batches)
            yield from (self._batch(batch) for batch in batches if batch)

    def _recording(self, draw: random.Random) -> _Recording | None:
        shares = [ENGINES.get(engine, 0.1) for engine in self._engines]
        engine = draw.choices(list(self._engines), shares)[0]
        whole, alone = self._engines[engine]
        first = draw.choice(alone if alone and (not whole or draw.random() < ALONE) else whole)
        form = draw.choices(("single", "pair", "row"), (SINGLE, PAIR, ROW))[0]
        chosen = [first]
        gaps = [0.0 if draw.random() < 0.15 else draw.uniform(0.02, 0.6)]
        tempo = draw.uniform(0.82, 1.22)
        if form == "pair":
            chosen.append(draw.choice(self._voices[first.voice]))
            gaps.append(draw.uniform(0.02, 0.5))
        tight = False
        if form == "row":
            words = self._rows[first.voice]
            if self._spellers[engine] and draw.random() < OF_NUMBERS:
                words = draw.choice(self._spellers[engine])
            chosen = draw.choices(words, k=draw.randint(1, 7)) if words else [first]
            narrow = draw.uniform(0.0, 0.3)
            close = draw.random() < CLOSE
            gaps += [0.0 if close else narrow + draw.uniform(0.0, 0.15) for _ in chosen[1:]]
            tempo *= draw.uniform(0.95, 1.45)
            tight = close or draw.random() < TIGHT
        pieces = [
            _Piece(
                *(_tightly(one, draw) if tight else (one.start, one.length)),
                tempo * draw.uniform(0.96, 1.04),
                10 ** (draw.uniform(-4, 4) / 20),
                round(gap * RATE),
            )
            for one, gap in zip(chosen, gaps, strict=False)
        ]
        text = [self._word(word, one.kind, draw) for one in chosen for word in one.words]
        tail = 0.0 if draw.random() < 0.15 else draw.uniform(0.05, 0.6)
        samples = sum(piece.gap + piece.outcome for piece in pieces) + round(tail * RATE)
        if samples > LONGEST or not self._can_be_said(text, samples):
            return None
        return _Recording(tuple(pieces), samples, tuple(text))

    def _word(self, word: str, kind: str, draw: random.Random) -> str:
        return learned(word, kind, self._words, draw)

    def _can_be_said(self, text: Sequence[str], samples: int) -> bool:
        """Whether there are frames enough for every phone."""
        return shortest(text, self._words) + len(text) + 2 <= (samples - 400) // 480

    def _batch(self, recordings: Sequence[_Recording]) -> Batch:
        lengths = torch.tensor([one.samples for one in recordings])
        graphs = said([one.text for one in recordings], self._words, self._chances)
        return Batch(pieces_of(recordings), lengths, graphs)


def pieces_of(recordings: Sequence[_Recording]) -> Pieces:
    """The pieces of all recordings, padded to as many as the one with the most of them has."""
    width = max(len(one.pieces) for one in recordings)
    empty = _Piece(0, 0, 1.0, 0.0, 0)
    rows = [[*one.pieces, *[empty] * (width - len(one.pieces))] for one in recordings]
    return Pieces(
        torch.tensor([[piece.start for piece in row] for row in rows]),
        torch.tensor([[piece.outcome for piece in row] for row in rows]),
        torch.tensor([[piece.speed for piece in row] for row in rows]),
        torch.tensor([[piece.gain for piece in row] for row in rows]),
        torch.tensor([[piece.gap for piece in row] for row in rows]),
    )


def learned(word: str, kind: str, words: Pronunciations, draw: random.Random) -> str:
    """The word, or speech of no known word: where nobody knows how it is said, and now and then."""
    far_off = draw.random() < TOO_FAR_OFF.get(kind, 0.0)
    unknown = word not in words or (far_off and len(words[word][0]) > 2)
    return UNKNOWN if unknown else word


@dataclass(frozen=True)
class _Piece:
    start: int
    length: int
    speed: float
    gain: float
    gap: int

    @property
    def outcome(self) -> int:
        """Samples that it has when it is said at its speed."""
        return int(self.length / self.speed)


@dataclass(frozen=True)
class _Recording:
    pieces: tuple[_Piece, ...]
    samples: int
    text: tuple[str, ...]


def _engine(voice: str) -> str:
    return voice.split("/")[0]


def _tightly(one: Utterance, draw: random.Random) -> tuple[int, int]:
    """Start and length of an utterance with little around the word, or a little of it lost."""
    first, last = one.spoken
    first = max(0, first - round(draw.uniform(-0.02, 0.05) * RATE))
    last = min(one.length, last + round(draw.uniform(-0.02, 0.06) * RATE))
    return one.start + first, max(last - first, RATE // 20)


def _heard(sound: np.ndarray[tuple[int], np.dtype[np.int16]]) -> tuple[int, int]:
    """From where to where anything is heard."""
    loud = np.abs(sound.astype(np.int32))
    heard = np.flatnonzero(loud >= max(1, FAINT * loud.max(initial=0)))
    return (int(heard[0]), int(heard[-1])) if len(heard) else (0, len(sound))


def _whole(
    sound: np.ndarray[tuple[int], np.dtype[np.float32]],
) -> np.ndarray[tuple[int], np.dtype[np.int16]]:
    return np.clip(np.round(sound * 32767), -32768, 32767).astype(np.int16)
