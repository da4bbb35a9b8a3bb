"""Rows of numbers said by people, heard by the recognizers, and kept as spoken phrases are.

    python -m tests.bench.spoken.people FOLDER [--limit N]

FOLDER holds `audio/` and `list.tsv` (file, speaker, seconds, transcript), as in AN4. Only speakers
whom no model was trained on are heard, of those only what is numbers and nothing else: once with
all the words of a job to choose from, once with those of numbers. May be stopped and goes on.
"""

from __future__ import annotations

import argparse
import csv
import json
import multiprocessing
import os
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from pathlib import Path
from typing import Any, NamedTuple

from joblog.audio.decode import samples
from joblog.audio.loudness import loudness
from joblog.dictation import candidates
from joblog.dictation.hypotheses import plain_words
from joblog.model import Doubt, Entry, Hearing, Reading, Utterance, Vocabulary
from joblog.speech import Recognizer, cross_score, recognizers
from joblog.speech.general import GeneralRecognizer
from joblog.speech.phrases import ONES, TENS
from joblog.speech.trade import TradeRecognizer
from joblog.speech.words import figures
from tests.bench.corpus import words
from tests.bench.spoken import cache
from tests.bench.spoken.cache import ears, utterance_as_json, utterance_from

FIT = frozenset("mdxs mmap mdmc mblb fsaf2 fwxs ftal mcen mcrt mwhw mfaa fjmd mtcv mjdr".split())
"""Speakers in whose view confidences are fitted; no model is trained on them."""
NUMBERS = (*ONES, *TENS, "oh", "hundred", "thousand")
WAYS = ("job", "numbers")
"""Which words there are to choose from."""


class Said(NamedTuple):
    """A row of numbers by a person."""

    text: str
    speaker: str
    way: str
    """One of `WAYS`."""
    utterance: Utterance


def main() -> None:
    arguments = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    arguments.add_argument("folder", type=Path)
    arguments.add_argument("--limit", type=int)
    asked = arguments.parse_args()
    done = {(row["file"], row["way"]) for row in _rows() if row["ears"] == ears()}
    todo = [
        (file, speaker, text, way)
        for file, speaker, text in _strings(asked.folder)
        for way in WAYS
        if (file.name, way) not in done
    ][: asked.limit]
    print(f"{len(todo)} to hear, {len(done)} in the cache", flush=True)
    if todo:
        with multiprocessing.get_context("spawn").Pool(2, _wake) as pool:
            for row in pool.imap_unordered(_heard, todo, chunksize=4):
                cache.FOLDER.mkdir(exist_ok=True)
                with _file().open("a", encoding="utf-8") as file:
                    file.write(json.dumps(row) + "\n")


def load_people(half: str = "fit") -> list[Said]:
    """All that was heard of people, as last heard; empty where nobody was."""
    latest = {(row["file"], row["way"]): row for row in _rows() if row["half"] == half}
    return [
        Said(row["text"], row["speaker"], row["way"], utterance_from(row["utterance"]))
        for _, row in sorted(latest.items())
    ]


def number_of(text: str) -> Reading:
    """A row of numbers as an entry that tells it from every other; anything else is doubtful."""
    said = plain_words(text)
    numbers = [word for word in said if word in NUMBERS]
    code = "".join(f"{NUMBERS.index(word):02}" for word in numbers)
    others = " ".join(word for word in said if word not in NUMBERS)
    doubts = (Doubt(0, "not only numbers"),) if others or not numbers else ()
    return Reading((Entry("used", quantity=Fraction(f"1{code}")),), doubts, others)


def spelled(hearing: Hearing) -> Hearing:
    """The hearing with every figure in words."""
    said = [
        replace(word, text=one) for word in hearing.words for one in _words_of(word.text).split()
    ]
    others = [replace(one, text=_words_of(one.text)) for one in hearing.alternatives]
    text = _words_of(hearing.text)
    return replace(hearing, text=text, words=tuple(said), alternatives=tuple(others))


def _words_of(text: str) -> str:
    return " ".join(" ".join(figures().get(word, (word,))) for word in plain_words(text))


def _strings(folder: Path) -> Iterator[tuple[Path, str, str]]:
    """File, speaker and words."""
    with (folder / "list.tsv").open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file, delimiter="\t"):
            text = row["transcript"].lower()
            if row["speaker"] in FIT and set(text.split()) <= set(NUMBERS):
                yield folder / "audio" / row["file"], row["speaker"], text


def _rows() -> Iterator[dict[str, Any]]:
    return cache.rows([_file()] if _file().exists() else [])


def _file() -> Path:
    return cache.FOLDER / "people.jsonl"


def _wake() -> None:
    global _ears
    os.nice(10)
    _ears = {
        "job": (words(), recognizers()),
        "numbers": (
            Vocabulary(),
            (TradeRecognizer(only=NUMBERS), GeneralRecognizer(only=NUMBERS)),
        ),
    }


_ears: dict[str, tuple[Vocabulary, tuple[Recognizer, ...]]]


def _heard(key: tuple[Path, str, str, str]) -> dict[str, Any]:
    file, speaker, text, way = key
    vocabulary, ways = _ears[way]
    sound = samples(file)
    hearings = [
        spelled(hearing) for recognizer in ways for hearing in recognizer.hear(sound, vocabulary)
    ]
    scored = cross_score(sound, hearings, vocabulary, ways, candidates)
    loud = loudness(sound)
    utterance = Utterance(0.0, 0.0, tuple(hearings), scored, loud.level, loud.noise)
    return {
        "file": file.name,
        "speaker": speaker,
        "text": text,
        "way": way,
        "half": "fit",
        "ears": ears(),
        "utterance": utterance_as_json(utterance),
    }


if __name__ == "__main__":
    main()
