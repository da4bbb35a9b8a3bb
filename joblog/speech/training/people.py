"""People's recordings as packs, in the form in which `synthesize` makes them of other voices.

    python -m joblog.speech.training.people CORPORA FOLDER [--half train|fit]

CORPORA holds a folder for each of `an4`, `libri`, `cathy`, `arctic` and `ljspeech`, with `audio/`
and `list.tsv` (file, speaker, seconds, transcript). Long readings are cut at pauses; out of AN4's
strings every word of a number is cut, so that `recordings` may join them into fast rows. Words are
found by the trade model, told the transcript; a word cut out counts only when a recognizer that
expects any words of numbers hears it too. Sound goes into FOLDER/an4, FOLDER/libri1 and so on, none
of them above `A_FOLDER` bytes. The command may be stopped and run again.
"""

from __future__ import annotations

import argparse
import json
import math
import os
import re
import unicodedata
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from difflib import SequenceMatcher
from functools import cache
from itertools import islice, pairwise
from pathlib import Path
from typing import Any

import numpy as np

from joblog.dictation.words import words_of as hearing_words
from joblog.model import Vocabulary
from joblog.speech.phrases import ONES, TENS
from joblog.speech.recognizer import Recognizer
from joblog.speech.training.lexicon import words_of
from joblog.speech.training.synthesize import A_PACK, RATE, Sound, read_pack, write_pack
from joblog.speech.training.voices import PEOPLE
from joblog.speech.words import figures

LOCKED = {
    "an4": "fash mblw mcsc mmsh ftmj mtje mjbh mnfe mtos fmjd".split(),
    "libri": "460 1898 163 226".split(),
}
"""Speakers that judge at the very end, and are neither trained on nor looked at before."""
FIT = {
    "an4": (
        "mdxs mmap mdmc mblb fsaf2 fwxs ftal mcen mcrt mwhw mfaa fjmd mtcv mjdr".split()
    ),
    "libri": "332 6272".split(),
}  # fmt: skip
"""Speakers in whose view confidences and checkpoints are chosen; no model is trained on them."""
CORPORA = tuple(corpus.folder for corpus in PEOPLE)
NUMBERS = frozenset((*ONES, *TENS, "oh", "hundred", "thousand"))
WRITTEN = {
    "mr": "mister", "mrs": "missus", "dr": "doctor", "st": "saint", "etc": "et cetera",
}  # fmt: skip
"""Short forms as they are said."""
SHORTEST, LONGEST = 2 * RATE, 10 * RATE
"""Samples of a piece of a reading."""
A_BREATH = round(0.12 * RATE)
"""Samples between two words that are a pause to cut at."""
ALIGNED = 0.75
"""Share of a piece's words that must be found where they should be."""
AROUND = round(0.05 * RATE)
"""Samples before and after a joint between words in which the quietest moment is looked for."""
EDGE = round(0.08 * RATE)
"""Samples of quiet that a word cut out keeps at most on either side."""
MOMENT = round(0.01 * RATE)
LOUD_JOINT = 10 ** (-8 / 20)
"""Of the loudest moment of the softer word: where a joint is louder, the words are one sound."""
A_WORD = (round(0.10 * RATE), round(1.2 * RATE))
"""Samples that a word of a number may last."""
RUNS = 3
"""Words of a short run at most."""
MOST = 34 * 60
"""Seconds of one speaker; more voices teach more than more of one."""
A_FOLDER = 20_000_000
"""Bytes."""


def main() -> None:
    ask = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawTextHelpFormatter
    )
    ask.add_argument("corpora", type=Path)
    ask.add_argument("folder", type=Path)
    ask.add_argument("--half", choices=("train", "fit"), default="train")
    ask.add_argument("--corpus", choices=CORPORA, action="append")
    ask.add_argument("--speakers", type=int, help="the first so many of each corpus only")
    ask.add_argument("--workers", type=int, default=os.cpu_count() or 1)
    asked = ask.parse_args()
    for corpus in asked.corpus or CORPORA:
        made = asked.folder / corpus
        make(asked.corpora / corpus, made, asked.half, asked.speakers, asked.workers)
        for part in parted(made):
            print(f"{part.name}: {json.dumps(counts(part))}", flush=True)


def make(
    corpus: Path, folder: Path, half: str, speakers: int | None = None, workers: int = 1
) -> None:
    """Packs of a corpus' speakers of one half, a speaker's after one another."""
    folder.mkdir(parents=True, exist_ok=True)
    by_speaker: dict[str, list[Reading]] = defaultdict(list)
    seconds: dict[str, float] = defaultdict(float)
    for reading in readings(corpus):
        seconds[reading.speaker] += reading.seconds
        if half_of(corpus.name, reading.speaker) == half and seconds[reading.speaker] <= MOST:
            by_speaker[reading.speaker].append(reading)
    with ProcessPoolExecutor(workers) as pool:
        jobs = [
            pool.submit(_packs_of, own, folder, half == "train")
            for own in islice(by_speaker.values(), speakers)
        ]
        for job in jobs:
            job.result()


def parted(folder: Path) -> tuple[Path, ...]:
    """The folder, or where it has become too large, numbered ones beside it with its packs."""
    packs = sorted(folder.glob("*.jsonl"))
    sizes = [pack.with_suffix(".ogg").stat().st_size + pack.stat().st_size for pack in packs]
    if sum(sizes) <= A_FOLDER:
        return (folder,)
    count = math.ceil(sum(sizes) / (A_FOLDER - max(sizes)))
    upto = 0
    parts = []
    for pack, size in zip(packs, sizes, strict=True):
        part = folder.with_name(f"{folder.name}{1 + upto * count // sum(sizes)}")
        upto += size
        part.mkdir(exist_ok=True)
        for file in (pack, pack.with_suffix(".ogg")):
            file.rename(part / file.name)
        parts.append(part)
    folder.rmdir()
    return tuple(dict.fromkeys(parts))


def half_of(corpus: str, speaker: str) -> str:
    """`locked`, `fit` or `train`."""
    for half, held_out in (("locked", LOCKED), ("fit", FIT)):
        if speaker in held_out.get(corpus, ()):
            return half
    return "train"


def counts(folder: Path) -> dict[str, Any]:
    """Of a folder of packs: bytes, voices, minutes, and utterances by kind."""
    rows = [
        json.loads(line)
        for listing in sorted(folder.glob("*.jsonl"))
        for line in listing.read_text("utf-8").splitlines()
    ]
    kinds: dict[str, int] = defaultdict(int)
    for row in rows:
        kinds[row["kind"]] += 1
    return {
        "bytes": sum(file.stat().st_size for file in folder.iterdir()),
        "voices": len({row["voice"] for row in rows}),
        "minutes": round(sum(row["length"] for row in rows) / RATE / 60, 1),
        "kinds": dict(kinds),
    }


@dataclass(frozen=True)
class Reading:
    """A recording of a corpus."""

    corpus: str
    file: Path
    speaker: str
    seconds: float
    words: tuple[str, ...]
    """As they are said; none where the text has figures, which may be said in many ways."""


@dataclass(frozen=True)
class Placed:
    """A word and the samples where it begins and ends; `found` where it was heard there."""

    word: str
    start: int
    end: int
    found: bool


@dataclass(frozen=True)
class Piece:
    kind: str
    words: tuple[str, ...]
    start: int
    end: int


def readings(corpus: Path) -> Iterator[Reading]:
    """The recordings of a corpus that have a text."""
    for line in (corpus / "list.tsv").read_text("utf-8").splitlines()[1:]:
        file, speaker, seconds, text = line.split("\t")
        words = spoken(text)
        if words:
            yield Reading(corpus.name, corpus / "audio" / file, speaker, float(seconds), words)


def spoken(text: str) -> tuple[str, ...]:
    """The words of a text: lower case, letters and apostrophes; none where it has figures."""
    if re.search(r"\d", text):
        return ()
    plain = unicodedata.normalize("NFKD", text).replace("\N{RIGHT SINGLE QUOTATION MARK}", "'")
    letters = "".join(letter for letter in plain if not unicodedata.combining(letter))
    words = [WRITTEN.get(word, word) for word in words_of(letters)]
    return tuple(" ".join(words).split())


def kind_of(words: Iterable[str]) -> str:
    """Kind of an utterance, as `text` has them."""
    return "digits" if all(word in NUMBERS for word in words) else "general"


def placed(words: Sequence[str], heard: Sequence[tuple[str, int, int]]) -> tuple[Placed, ...]:
    """Every word with its place among the words heard (word, start, end), which are fewer where
    some were not; what was not found lies between its neighbours."""
    matcher = SequenceMatcher(None, words, [word for word, _, _ in heard], autojunk=False)
    places: dict[int, tuple[int, int]] = {
        block.a + step: heard[block.b + step][1:]
        for block in matcher.get_matching_blocks()
        for step in range(block.size)
    }
    rows = []
    for at, word in enumerate(words):
        if at in places:
            rows.append(Placed(word, *places[at], True))
        else:
            before = rows[-1].end if rows else 0
            rows.append(Placed(word, before, before, False))
    return tuple(rows)


def at_pauses(words: Sequence[Placed], length: int, sound: Sound) -> tuple[Piece, ...]:
    """A reading of so many samples in pieces of `SHORTEST` to `LONGEST`, cut in its longest pauses
    first; what cannot be cut so, or is not aligned, is left out."""
    return tuple(
        Piece("general", tuple(word.word for word in part), start, end)
        for part, start, end in _divided(words, 0, length, sound)
        if end - start <= LONGEST and sum(word.found for word in part) >= ALIGNED * len(part)
    )


def _divided(
    words: Sequence[Placed], start: int, end: int, sound: Sound
) -> Iterator[tuple[Sequence[Placed], int, int]]:
    if end - start <= LONGEST:
        yield words, start, end
        return
    pauses = [
        (second.start - first.end, number)
        for number, (first, second) in enumerate(pairwise(words), 1)
        if first.found
        and second.found
        and first.end - start >= SHORTEST
        and end - second.start >= SHORTEST
    ]
    longest, number = max(pauses, default=(0, 0))
    if longest < A_BREATH:
        return
    middle = quietest(sound, words[number - 1].end, words[number].start)
    yield from _divided(words[:number], start, middle, sound)
    yield from _divided(words[number:], middle, end, sound)


def lone(words: Sequence[Placed], sound: Sound) -> tuple[Piece, ...]:
    """Words of numbers, each cut out, and short runs of them; only where the joints are quiet."""
    joints = _joints(words, sound)
    pieces = []
    for first in range(len(words)):
        for size in range(1, RUNS + 1):
            part = words[first : first + size]
            if len(part) < size or not all(word.found and word.word in NUMBERS for word in part):
                break
            left, right = joints[first][1], joints[first + size][0]
            short, long = A_WORD
            whole = size == len(words)
            if left is None or right is None or (whole and size > 1):
                continue
            if size * short <= right - left <= size * long:
                pieces.append(Piece("alone", tuple(word.word for word in part), left, right))
    return tuple(pieces)


def _joints(words: Sequence[Placed], sound: Sound) -> list[tuple[int | None, int | None]]:
    """Before each word and after the last: where the word before ends, and where the next begins;
    None where the two are one sound."""
    joints: list[tuple[int | None, int | None]] = [(None, max(0, words[0].start - EDGE))]
    for before, after in pairwise(words):
        if not before.found or not after.found:
            joints.append((None, None))
            continue
        middle = quietest(sound, before.end - AROUND, after.start + AROUND)
        softer = min(_peak(sound, word.start, word.end) for word in (before, after))
        if _loudness(sound, middle) > LOUD_JOINT * softer:
            joints.append((None, None))
            continue
        ends = min(max(middle, before.end - AROUND), before.end + EDGE)
        begins = max(min(middle, after.start + AROUND), after.start - EDGE)
        joints.append((ends, begins))
    joints.append((min(len(sound), words[-1].end + EDGE), None))
    return joints


def quietest(sound: Sound, start: int, end: int) -> int:
    """The middle of the quietest moment between two samples."""
    steps = range(max(0, start), min(len(sound), max(end, start + 1)), MOMENT // 2)
    return min(steps, key=lambda at: _loudness(sound, at), default=max(0, start))


def _loudness(sound: Sound, at: int) -> float:
    part = sound[max(0, at - MOMENT) : at + MOMENT]
    return float(np.sqrt(np.mean(part**2))) if len(part) else 0.0


def _peak(sound: Sound, start: int, end: int) -> float:
    steps = range(start, max(end, start + 1), MOMENT)
    return max(_loudness(sound, at) for at in steps)


# --- speakers -----------------------------------------------------------------------------------


def _packs_of(own: Sequence[Reading], folder: Path, alone: bool) -> None:
    """A speaker's packs: readings whole or in pieces, and where wanted words cut out."""
    corpus, speaker = own[0].corpus, own[0].speaker
    if any(folder.parent.glob(f"{corpus}*/{corpus}-{speaker}-00.jsonl")):
        return
    said = [piece for reading in own for piece in _said(reading, alone)]
    # The first pack comes last, so that it says that all are there.
    for number in reversed(range(0, len(said), A_PACK)):
        part = said[number : number + A_PACK]
        name = f"{corpus}-{speaker}-{number // A_PACK:02}"
        voice = f"{corpus}/{speaker}"
        write_pack(folder, name, ((voice, kind, text, sound) for kind, text, sound in part), True)


def _said(reading: Reading, alone: bool) -> Iterator[tuple[str, str, Sound]]:
    """Kind, text and sound of what a recording gives."""
    sound = read_pack(reading.file)
    text = " ".join(reading.words)
    if len(sound) <= LONGEST:
        yield kind_of(reading.words), text, sound
    numbers = alone and reading.corpus == "an4" and bool(NUMBERS & set(reading.words))
    if len(sound) <= LONGEST and not numbers:
        return
    words = placed(reading.words, _heard(sound, reading.words))
    if len(sound) > LONGEST:
        for piece in at_pauses(words, len(sound), sound):
            yield piece.kind, " ".join(piece.words), sound[piece.start : piece.end]
    if numbers:
        for piece in lone(words, sound):
            cut_out = _faded(sound[piece.start : piece.end])
            if _is_heard(cut_out, piece.words):
                yield piece.kind, " ".join(piece.words), cut_out


def _faded(sound: Sound) -> Sound:
    """Without a click at either end."""
    ramp = np.linspace(0, 1, MOMENT // 2, dtype=np.float32)
    faded = sound.copy()
    faded[: len(ramp)] *= ramp
    faded[-len(ramp) :] *= ramp[::-1]
    return faded


def _heard(sound: Sound, words: Sequence[str]) -> list[tuple[str, int, int]]:
    """Where the trade model hears the words, told that nothing else is said."""
    import vosk

    from joblog.speech.trade import UNKNOWN, pcm

    model = _trade_model()
    known = [word if model.vosk_model_find_word(word) >= 0 else UNKNOWN for word in words]
    ear = vosk.KaldiRecognizer(model, RATE, json.dumps([" ".join(known)]))
    ear.SetWords(True)
    ear.AcceptWaveform(pcm(sound))
    found = json.loads(ear.FinalResult()).get("result", ())
    return [(one["word"], round(one["start"] * RATE), round(one["end"] * RATE)) for one in found]


def _is_heard(sound: Sound, words: Sequence[str]) -> bool:
    """Whether a recognizer that expects words of numbers hears these."""
    quiet = np.zeros(RATE // 5, np.float32)
    level = np.float32(0.3 / max(float(np.abs(sound).max()), 1e-6))
    row = np.concatenate([quiet, sound * level, quiet])
    wanted = said_as(" ".join(words))
    return any(
        said_as(hearing.text) == wanted
        for ear in _number_ears()
        for hearing in ear.hear(row, Vocabulary())
    )


def said_as(text: str) -> list[str]:
    """The words of a hearing, figures spelled out, long ones figure by figure; "oh" is a zero."""
    spelled = [part for word in hearing_words(text) for part in _as_words(word)]
    return ["zero" if word in ("oh", "o") else word for word in spelled]


def _as_words(word: str) -> Sequence[str]:
    one_by_one = [ONES[int(figure)] for figure in word] if word.isdecimal() else [word]
    return figures().get(word, one_by_one)


@cache
def _trade_model() -> Any:
    from joblog.speech.trade import load_trade_model

    return load_trade_model(None)


@cache
def _number_ears() -> tuple[Recognizer, ...]:
    from joblog.speech.general import GeneralRecognizer
    from joblog.speech.trade import TradeRecognizer

    words = sorted(NUMBERS)
    return TradeRecognizer(only=words), GeneralRecognizer(only=words)


if __name__ == "__main__":
    main()
