"""Plain sentences said, heard and read the whole way that a recording takes.

    python -m tests.bench.plain [--voices A,B | --locked] [--levels clean,15,10] [--count N]
                                [--show]

Sixty sentences of a contractor's day, whose text is read right without a doubt, are said by each
voice, clean and with wind, a saw or a compressor under them, written to a file and taken through
what intake does with a file: decoding, finding the utterances, all recognizers, the choice. Prints
in % of sentences: exact entries, asked about, wrong without being asked about ("silent"), asked
about though exact ("needless"), and nothing heard at all ("lost", which counts as silent); then the
word errors (jiwer) of each recognizer's own hearing. At the end what it cost: processor time
against the length of the sound, and the memory of one process with both recognizers.

The voices are those that nothing is trained on, or `--voices`; `--locked` takes the ones that
nothing was even fitted to, for a last count. Of these no single sentence is ever shown; of the
others `--show` prints what was not exact, and what was asked about needlessly.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import multiprocessing
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import jiwer
import numpy as np
import psutil

from fixtures.voices import LOCKED, NOISES, VOICES, VoiceError, mix, noise, silence, speak, write
from joblog.audio.decode import RATE, Samples
from joblog.book.hearing import Listened, Outcome, Sound, Task, prepared
from joblog.book.media import Stowed
from joblog.form import entry_to_json
from joblog.model import Moment, Problem, Reading
from tests.bench.corpus import Phrase, exact, to_hear, words
from tests.bench.spoken import comparable, mixed

UNTRAINED = ("festival kal", "festival ked", "piper joe")
LEVELS: tuple[float | None, ...] = (None, 15.0, 10.0)
"""Signal to noise in dB, None for clean."""
WAYS = ("trade", "general free", "general constrained")
ZONE = "America/New_York"
EVENING = datetime(2026, 10, 5, 18, tzinfo=ZoneInfo(ZONE))
"""When all of it is said: no hour of the day's work is still to come."""
PAD = 1.0
"""Seconds of quiet room, or of the noise alone, before and after what is said."""
WORKERS = 2
EVERY_VOICE = "all voices"


@dataclass(frozen=True)
class Said:
    """One sentence said once, and what became of it."""

    text: str
    voice: str
    level: float | None
    exact: bool
    asked: bool
    lost: bool
    words: dict[str, str]
    """What each way of hearing made of it, in comparable words."""
    shown: str
    sound: float
    """Seconds of sound."""
    spent: float
    """Seconds of processor time."""
    memory: int
    """Bytes of the process that heard it."""


@dataclass
class Score:
    """Counts over sentences."""

    said: list[Said] = field(default_factory=list)

    def share(self, of: Callable[[Said], bool]) -> float:
        return 100 * sum(map(of, self.said)) / len(self.said)

    def errors(self, way: str) -> float:
        wanted = [comparable(one.text) for one in self.said]
        return 100 * float(jiwer.wer(wanted, [one.words.get(way, "") for one in self.said]))


def main(arguments: Sequence[str] | None = None) -> None:
    asked = _arguments(arguments)
    sentences = mixed(to_hear())[: asked.count]
    todo = [(one, voice, asked.levels) for voice in asked.voices for one in sentences]
    scores: dict[tuple[str, float | None], Score] = {}
    with multiprocessing.get_context("spawn").Pool(WORKERS, _wake) as pool:
        try:
            for said in pool.imap(_said, todo):
                for one in said:
                    for whose in (one.voice, EVERY_VOICE):
                        scores.setdefault((whose, one.level), Score()).said.append(one)
        except VoiceError as error:
            sys.exit(str(error))
    _print(scores, asked)


_hear: Callable[[Task], Outcome]


def _wake() -> None:
    global _hear
    _hear = prepared(ZONE, words(), None, None)
    with tempfile.TemporaryDirectory() as folder:
        _heard(silence(1.0), Path(folder))


def _said(task: tuple[Phrase, str, Sequence[float | None]]) -> list[Said]:
    sentence, voice, levels = task
    spoken = np.concatenate([silence(PAD), speak(sentence.text, voice), silence(PAD)])
    with tempfile.TemporaryDirectory() as folder:
        return [_at(sentence, voice, level, spoken, Path(folder)) for level in levels]


def _at(sentence: Phrase, voice: str, level: float | None, spoken: Samples, folder: Path) -> Said:
    sound = spoken
    if level is not None:
        chance = hashlib.sha256(f"{sentence.text} {voice} {level}".encode()).digest()
        kind, seed = NOISES[chance[0] % len(NOISES)], int.from_bytes(chance[1:5], "big")
        sound = mix(spoken, noise(kind, len(spoken) / RATE, seed), level)
    listened, spent = _heard(sound, folder)
    readings = [one.reading for one in listened.heard]
    whole = _joined(readings)
    right = exact(sentence, whole)
    return Said(
        text=sentence.text,
        voice=voice,
        level=level,
        exact=right,
        asked=bool(whole.doubts),
        lost=not listened.heard,
        words=_words(listened),
        shown=_shown(sentence, whole, listened, right),
        sound=len(sound) / RATE,
        spent=spent,
        memory=psutil.Process().memory_info().rss,
    )


def _heard(sound: Samples, folder: Path) -> tuple[Listened, float]:
    """What intake makes of a file of this sound, and the processor time that it took."""
    path = write(folder / "said.wav", sound)
    task = Sound(path, path, Stowed("", "", path.stat().st_size), Moment(EVENING, "file name"))
    began = time.process_time()
    outcome = _hear(task)
    spent = time.process_time() - began
    if isinstance(outcome, Problem):
        raise RuntimeError(outcome.why)
    assert isinstance(outcome, Listened)
    return outcome, spent


def _joined(readings: Sequence[Reading]) -> Reading:
    """The entries and doubts of all stretches of one sentence."""
    entries = tuple(entry for one in readings for entry in one.entries)
    return Reading(entries, tuple(doubt for one in readings for doubt in one.doubts))


def _words(listened: Listened) -> dict[str, str]:
    heard: dict[str, list[str]] = {}
    for one in listened.heard:
        for hearing in one.utterance.hearings:
            heard.setdefault(hearing.recognizer, []).append(hearing.text)
    return {way: comparable(" ".join(texts)) for way, texts in heard.items()}


def _shown(sentence: Phrase, whole: Reading, listened: Listened, right: bool) -> str:
    mark = ("ASKED" if whole.doubts else "SILENT") if not right else "needless"
    lines = [f"{mark} {sentence.text}"]
    for one in listened.heard:
        for hearing in one.utterance.hearings:
            lines.append(f"   {hearing.recognizer:20} {hearing.confidence:.2f} {hearing.text}")
    lines += [f"   because {doubt.why}" for doubt in whole.doubts]
    if not right:
        found = [entry_to_json(entry) for entry in whole.entries]
        brief = [{k: v for k, v in one.items() if v is not None} for one in found]
        lines.append(f"   found {json.dumps(brief)}")
    return "\n".join(lines)


def _print(scores: dict[tuple[str, float | None], Score], asked: argparse.Namespace) -> None:
    print(
        f"{'voice':18}{'noise':7}{'said':>5}{'exact':>7}{'asked':>7}{'silent':>8}{'needless':>10}"
        f"{'lost':>6}   word errors: {' / '.join(WAYS)}"
    )
    for whose in (*asked.voices, EVERY_VOICE):
        for level in asked.levels:
            _print_row(whose, level, scores[whose, level])
    everything = [one for level in asked.levels for one in scores[EVERY_VOICE, level].said]
    spent, sound = sum(one.spent for one in everything), sum(one.sound for one in everything)
    print(
        f"processor time {spent / sound:.3f} of the sound's length, pauses and decoding counted; "
        f"memory of one process {max(one.memory for one in everything) / 1e6:.0f} MB"
    )
    if asked.show:
        for one in everything:
            if one.voice not in LOCKED and (one.asked or not one.exact):
                print(f"\n[{one.voice}, {_name(one.level)}] {one.shown}")


def _print_row(whose: str, level: float | None, score: Score) -> None:
    shares = (
        (score.share(lambda one: one.exact), 7),
        (score.share(lambda one: one.asked), 7),
        (score.share(lambda one: not one.exact and not one.asked), 8),
        (score.share(lambda one: one.exact and one.asked), 10),
        (score.share(lambda one: one.lost), 6),
    )
    figures = "".join(f"{share:{width}.1f}" for share, width in shares)
    errors = " / ".join(f"{score.errors(way):.1f}" for way in WAYS)
    print(f"{whose:18}{_name(level):7}{len(score.said):5}{figures}   {errors}", flush=True)


def _name(level: float | None) -> str:
    return "clean" if level is None else f"{level:.0f} dB"


def _arguments(arguments: Sequence[str] | None) -> Any:
    parser = argparse.ArgumentParser("tests.bench.plain", description=__doc__)
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    parser.add_argument("--voices", type=_voices, default=UNTRAINED)
    parser.add_argument("--locked", action="store_const", const=LOCKED, dest="voices")
    parser.add_argument("--levels", type=_levels, default=LEVELS)
    parser.add_argument("--count", type=int)
    parser.add_argument("--show", action="store_true")
    return parser.parse_args(arguments)


def _voices(said: str) -> tuple[str, ...]:
    voices = tuple(said.split(","))
    if unknown := set(voices) - {*VOICES, *LOCKED}:
        raise argparse.ArgumentTypeError(f"no voice is called {', '.join(sorted(unknown))}")
    return voices


def _levels(said: str) -> tuple[float | None, ...]:
    return tuple(None if one == "clean" else float(one) for one in said.split(","))


if __name__ == "__main__":
    main()
