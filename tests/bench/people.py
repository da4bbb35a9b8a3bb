"""How people are heard: strings of numbers, digits, reading aloud, and talk of other things.

    python -m tests.bench.people --corpora FOLDER [--half fit|locked] [--every N] [--model FOLDER]
                                 [--human FOLDER]

FOLDER holds recordings of people: `an4` and `libri`, each with `audio/` and `list.tsv` (file,
speaker, seconds, transcript). Only the speakers of the half that is asked for are heard, none of
whom any model was trained on. Recognizers that expect nothing but words of numbers hear AN4's
strings of numbers, and its strings of digits expecting digits alone; together are all hearings,
weighed as entries are chosen, and silent are strings that are wrong and would not be asked about.
Word errors (jiwer) of the general recognizer, left free, on LibriSpeech's readings. Last, how many
of these readings, and of AN4's spelled letters and commands, pass as an entry other than a note
that nobody would be asked about. Of the locked half only totals are printed, by speaker, no line.
With a folder of spoken digits as in `tests.bench.hearing`, its strings too, expecting digits.
"""

from __future__ import annotations

import argparse
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby, islice
from pathlib import Path

import jiwer
import numpy as np

from joblog.audio.decode import RATE, Samples, samples
from joblog.audio.loudness import loudness
from joblog.dictation import candidates, read_heard
from joblog.dictation.judgement import DOUBTFUL
from joblog.model import Doubt, Entry, Hearing, Reading, Utterance, Vocabulary
from joblog.plan import vocabulary
from joblog.speech import Recognizer, cross_score, recognizers
from joblog.speech.general import GeneralRecognizer
from joblog.speech.phrases import ONES, TENS
from joblog.speech.trade import TradeRecognizer
from joblog.speech.training.people import Reading as Read
from joblog.speech.training.people import half_of, readings, said_as
from tests.bench.hearing import JOB, PLAN, comparable, together
from tests.bench.hearing import _strings as joined_digits

DIGITS = frozenset((*ONES[:10], "oh"))
NUMBERS = frozenset((*ONES, *TENS, "oh", "hundred", "thousand"))
_ORDER = sorted(NUMBERS)
WAYS = ("trade", "general free", "general constrained", "together")


def main() -> None:
    ask = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    ask.add_argument("--corpora", type=Path, required=True)
    ask.add_argument("--half", choices=("fit", "locked"), default="fit")
    ask.add_argument("--every", type=int, default=1, help="every Nth recording of a corpus only")
    ask.add_argument("--human", type=Path, help="folder of spoken digits")
    ask.add_argument("--model", type=Path, help="folder of a trade model, instead of joblog's")
    ask.add_argument("--lines", action="store_true", help="print what was heard wrong (fit only)")
    told = ask.parse_args()
    show = told.lines and told.half == "fit"
    an4 = list(_of(told.corpora / "an4", told.half))
    aloud = list(_of(told.corpora / "libri", told.half))
    for title, words in (("numbers", NUMBERS), ("digits", DIGITS)):
        fitting = [one for one in an4 if words >= set(one.words)][:: told.every]
        _strings(f"{title}, expecting {title}", map(_heard, fitting), words, told.model, show)
    if told.human:
        _strings("joined digits", _joined(told.human, told.every), DIGITS, told.model, False)
    _reading_aloud(aloud[:: told.every])
    other = [one for one in an4 if not NUMBERS & set(one.words)]
    ears = _ears(told.model)
    _off_subject("spelled letters and commands", other[:: told.every], ears, show)
    _off_subject("reading aloud", aloud[:: told.every], ears, show)


@dataclass(frozen=True)
class String:
    """What somebody said, what each of `WAYS` made of it, and how sure all together are."""

    said: str
    ways: tuple[str, ...]
    sure: float


def _of(corpus: Path, half: str) -> Iterator[Read]:
    """The recordings of a half, speaker by speaker."""
    own = (one for one in readings(corpus) if half_of(corpus.name, one.speaker) == half)
    return iter(sorted(own, key=lambda one: one.speaker))


def _ears(model: Path | None) -> tuple[Recognizer, ...]:
    """The recognizers of the program, the trade one with another model where one is named."""
    return tuple(
        TradeRecognizer(model) if model and ear.name == "trade" else ear for ear in recognizers()
    )


# --- strings of numbers -------------------------------------------------------------------------


Said = tuple[str, str, Samples]
"""Who says it, what is said, and its sound."""


def _heard(one: Read) -> Said:
    return one.speaker, " ".join(one.words), samples(one.file)


def _joined(folder: Path, every: int) -> Iterator[Said]:
    for speaker in sorted({path.stem.split("_")[1] for path in folder.glob("*_*_*.wav")}):
        for said, sound in islice(joined_digits(folder, speaker, 40), None, None, every):
            yield speaker, said, sound


def _strings(
    title: str, said: Iterable[Said], words: frozenset[str], model: Path | None, show: bool
) -> None:
    ears = (TradeRecognizer(model, only=words), GeneralRecognizer(only=words))
    print(f"\n{title:28}{'strings right, %':>44}{'word errors, %':>48}{'asked':>8}{'silent':>8}")
    heads = "".join(f"{way.removeprefix('general '):>12}" for way in WAYS)
    print(f"{'':20}{'strings':>8}{heads}{heads}")
    everything: list[String] = []
    for speaker, own in groupby(said, key=lambda one: one[0]):
        rows = [_string(text, sound, ears) for _, text, sound in own]
        _row(speaker, rows)
        for row in rows if show else ():
            if any(way != row.said for way in row.ways):
                print(f"    {row.said}: {' | '.join(row.ways)} ({row.sure:.2f})")
        everything += rows
    _row("all", everything)


def _string(text: str, sound: Samples, ears: Sequence[Recognizer]) -> String:
    hearings = [_spelled(hearing) for ear in ears for hearing in ear.hear(sound, Vocabulary())]
    scored = cross_score(sound, hearings, Vocabulary(), ears, candidates)
    by_name = {hearing.recognizer: hearing.text or "nothing" for hearing in hearings}
    text_of_all, sure = together(hearings, scored, _as_entry)
    heard = (*(by_name.get(way, "nothing") for way in WAYS[:-1]), text_of_all)
    return String(" ".join(said_as(text)), heard, sure)


def _as_entry(text: str) -> Reading:
    """Words of numbers as an entry that tells them from all others; anything else is doubtful."""
    words = text.split()
    code = "".join(f"{_ORDER.index(word):02}" for word in words if word in NUMBERS)
    entry = Entry("used", quantity=Fraction(f"1{code}"))
    whole = bool(words) and set(words) <= NUMBERS
    return Reading((entry,), () if whole else (Doubt(0, "not only numbers"),))


def _spelled(hearing: Hearing) -> Hearing:
    """The hearing with every figure spelled out as a word."""
    words = [
        replace(word, text=spelled) for word in hearing.words for spelled in said_as(word.text)
    ]
    others = [replace(one, text=" ".join(said_as(one.text))) for one in hearing.alternatives]
    text = " ".join(said_as(hearing.text))
    return replace(hearing, text=text, words=tuple(words), alternatives=tuple(others))


def _row(name: str, rows: Sequence[String]) -> None:
    if not rows:
        return
    said = [row.said for row in rows]
    ways = [[row.ways[way] for row in rows] for way in range(len(WAYS))]
    right = [
        100 * np.mean([one == other for one, other in zip(said, way, strict=True)]) for way in ways
    ]
    errors = [100 * jiwer.wer(said, way) for way in ways]
    asked = [row.sure < DOUBTFUL for row in rows]
    silent = [
        row.ways[-1] != row.said and not doubted for row, doubted in zip(rows, asked, strict=True)
    ]
    print(f"{name:20}{len(rows):8}" + "".join(f"{one:12.1f}" for one in (*right, *errors)), end="")
    print(f"{100 * np.mean(asked):8.1f}{sum(silent):8}", flush=True)


# --- reading aloud, and what passes ---------------------------------------------------------------


def _reading_aloud(read: Sequence[Read]) -> None:
    ear = GeneralRecognizer()
    pairs: dict[str, list[tuple[str, str]]] = defaultdict(list)
    for one in read:
        (free, *_) = ear.hear(samples(one.file), Vocabulary())
        pairs[one.speaker].append((comparable(" ".join(one.words)), comparable(free.text)))
    print("\nreading aloud, general free")
    everything = [pair for own in pairs.values() for pair in own]
    for speaker, rows in (*pairs.items(), ("all", everything)):
        said, heard = ([row[side] for row in rows] for side in (0, 1))
        print(f"{speaker:20}{len(rows):8}{100 * jiwer.wer(said, heard):12.1f}", flush=True)


def _off_subject(title: str, read: Sequence[Read], ears: Sequence[Recognizer], show: bool) -> None:
    job = vocabulary(PLAN, JOB)
    passed: dict[str, list[bool]] = defaultdict(list)
    for one in read:
        sound: Samples = samples(one.file)
        hearings = tuple(hearing for ear in ears for hearing in ear.hear(sound, job))
        scored = cross_score(sound, hearings, job, ears, candidates)
        loud = loudness(sound)
        utterance = Utterance(0.0, len(sound) / RATE, hearings, scored, loud.level, loud.noise)
        reading = read_heard(utterance, job).reading
        doubted = {doubt.entry for doubt in reading.doubts}
        facts = [
            entry
            for at, entry in enumerate(reading.entries)
            if entry.kind != "note" and at not in doubted
        ]
        passed[one.speaker].append(bool(facts))
        if facts and show:
            print(f"    {' '.join(one.words)}: {facts}")
    whole = [one for own in passed.values() for one in own]
    print(f"\n{title}: {sum(whole)} of {len(whole)} pass as an entry", flush=True)
    for speaker, own in passed.items():
        if any(own):
            print(f"{speaker:20}{len(own):8}{sum(own):8}")


if __name__ == "__main__":
    main()
