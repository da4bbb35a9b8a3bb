"""What has been heard so far: JSON lines in `tests/bench/.cache/`, one spoken phrase a line."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

from joblog.model import Alternative, Hearing, Scored, Utterance, Word
from tests.bench.corpus import Phrase, phrases

FOLDER = Path(__file__).parents[1] / ".cache"
ROOT = Path(__file__).parents[3]
Key = tuple[str, str, float | None, str]
"""Voice, noise ("" for none), signal to noise in dB (None for clean), text of the phrase."""


class Spoken(NamedTuple):
    """One phrase, spoken once and heard by every recognizer."""

    phrase: Phrase
    voice: str
    noise: str
    """One of `fixtures.voices.NOISES`, or "" for none."""
    snr: float | None
    """dB; None where there is no noise."""
    utterances: list[Utterance]
    """Of each stretch of speech that was found, as `listen` gives them."""

    @property
    def stretches(self) -> list[tuple[Hearing, ...]]:
        """The hearings of each stretch of speech."""
        return [one.hearings for one in self.utterances]


def load_hearings(half: str = "open", heard_by: str | None = None) -> list[Spoken]:
    """All that was heard of one half of the corpus ("open", "held", or "both"), as last heard.

    `heard_by` leaves only what that state of the recognizers heard, such as `last_ears()`.
    In the order of the corpus, then voice, then from clean to the loudest noise.
    """
    by_text = {
        one.text: (at, one)
        for at, one in enumerate(phrases())
        if half == "both" or one.held_out == (half == "held")
    }
    found: dict[tuple[Any, ...], Spoken] = {}
    for row in rows():
        if row["text"] in by_text and heard_by in (None, row["ears"]):
            at, phrase = by_text[row["text"]]
            snr = row["snr"]
            utterances = list(map(utterance_from, row["stretches"]))
            order = (at, row["voice"], -999 if snr is None else -snr, row["noise"])
            found[order] = Spoken(phrase, row["voice"], row["noise"], snr, utterances)
    return [found[order] for order in sorted(found)]


def rows(files: Sequence[Path] | None = None) -> Iterator[dict[str, Any]]:
    """The lines of the cache as they were written; a line cut off by a kill is passed over."""
    for file in sorted(FOLDER.glob("hearings-*.jsonl")) if files is None else files:
        with file.open(encoding="utf-8") as lines:
            for line in lines:
                try:
                    yield json.loads(line)
                except ValueError:
                    continue


def heard_already(ears: str | None) -> set[Key]:
    """What need not be heard again: all that is there, or what this state of the ears heard."""
    return {
        (row["voice"], row["noise"], row["snr"], row["text"])
        for row in rows()
        if ears is None or row["ears"] == ears
    }


def keep(row: dict[str, Any]) -> None:
    """Adds one line to the file of its noise level."""
    FOLDER.mkdir(exist_ok=True)
    level = "clean" if row["snr"] is None else f"{row['snr']:.0f}dB"
    with (FOLDER / f"hearings-{level}.jsonl").open("a", encoding="utf-8") as file:
        file.write(json.dumps(row, ensure_ascii=False) + "\n")


def utterance_as_json(utterance: Utterance) -> dict[str, Any]:
    return {
        "start": round(utterance.start, 3),
        "end": round(utterance.end, 3),
        "hearings": _hearings_as_json(utterance.hearings),
        "scored": [[s.text, s.trade, s.general, s.language] for s in utterance.scored],
        "level": utterance.level,
        "noise": utterance.noise,
    }


def utterance_from(row: dict[str, Any]) -> Utterance:
    """What `utterance_as_json` was given; rows of before have nothing scored."""
    return Utterance(
        row["start"],
        row["end"],
        tuple(map(_hearing, row["hearings"])),
        tuple(Scored(*line) for line in row.get("scored", ())),
        row.get("level"),
        row.get("noise"),
    )


def _hearings_as_json(hearings: Sequence[Hearing]) -> list[dict[str, Any]]:
    return [
        {
            "recognizer": one.recognizer,
            "text": one.text,
            "confidence": round(one.confidence, 4),
            "words": [
                [word.text, round(word.start, 2), round(word.end, 2), round(word.confidence, 4)]
                for word in one.words
            ],
            "alternatives": [[a.text, round(a.log_probability, 3)] for a in one.alternatives],
        }
        for one in hearings
    ]


def last_ears() -> str | None:
    """The state of the recognizers that heard last; None where nothing was heard yet."""
    files = sorted(FOLDER.glob("hearings-*.jsonl"), key=lambda file: file.stat().st_mtime)
    states = [row["ears"] for row in rows(files[-1:])]
    return states[-1] if states else None


EXPECTING = ("generate.py", "productions.json", "productions.py", "trees.py", "hypotheses.py")
"""What makes the phrases that the recognizers expect, and the lines that they score."""


@cache
def ears() -> str:
    """Which state of the rooms that hear this is: changes with their code and their words."""
    files = [
        *sorted(file for file in (ROOT / "joblog" / "speech").rglob("*.*") if _counts(file)),
        *sorted((ROOT / "joblog" / "dictation" / "language").glob("*.py")),
        *(ROOT / "joblog" / "dictation" / name for name in EXPECTING),
        ROOT / "joblog" / "audio" / "voice.py",
        ROOT / "joblog" / "catalog" / "lines.py",
        ROOT / "joblog" / "plan" / "vocabulary.py",
    ]
    return hashlib.sha256(b"".join(file.read_bytes() for file in files)).hexdigest()[:8]


def _counts(file: Path) -> bool:
    return file.is_file() and file.suffix != ".pyc" and "training" not in file.parts


def _hearing(row: dict[str, Any]) -> Hearing:
    return Hearing(
        row["recognizer"],
        row["text"],
        tuple(Word(*word) for word in row["words"]),
        tuple(Alternative(*one) for one in row["alternatives"]),
        row["confidence"],
    )
