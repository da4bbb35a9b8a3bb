"""How well recordings are heard: word errors for each voice, noise and way of hearing.

    python -m tests.bench.hearing [--every N] [--human FOLDER]

Says sixty phrases and twenty notes, all invented, with the voices of `fixtures.voices`, clean and
in noise, and prints the word error rate (jiwer) of each hearing and of the surest one, how often
the surest one has every word right, and how often the trade and the constrained hearing agree
and are right then. Numbers are compared however they are written: "11 7/8" is "eleven and seven
eighths". Then speed, counted in processor time of this process, and memory.

With a folder of spoken digits named digit_speaker_number.wav, such as the Free Spoken Digit
Dataset, it joins three to seven digits of one speaker with short gaps and lets the recognizers
hear nothing but digits. "Together" weighs all hearings as entries are chosen; silent are strings
that are wrong and would not be asked about.
"""

from __future__ import annotations

import argparse
import random
import re
import resource
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path

import jiwer
import numpy as np

from fixtures.voices import mix, noise, silence, speak
from joblog.audio.decode import RATE, Samples, samples
from joblog.dictation import candidates
from joblog.dictation.choose import evidence_of, standing
from joblog.dictation.confidence import confidence
from joblog.dictation.judgement import DOUBTFUL
from joblog.dictation.weigh import likelihoods, meanings_of
from joblog.dictation.words import words_of
from joblog.model import (
    Doubt,
    Entry,
    Hearing,
    Job,
    Plan,
    PlannedTask,
    Reading,
    Scored,
    Task,
    Vocabulary,
)
from joblog.plan import vocabulary
from joblog.speech import Recognizer, cross_score, recognizers
from joblog.speech.general import GeneralRecognizer
from joblog.speech.phrases import ONES
from joblog.speech.trade import TradeRecognizer
from joblog.speech.words import figures

SOUNDS: tuple[tuple[str, str | None, float], ...] = (
    ("piper joe", None, 0),
    ("espeak", None, 0),
    ("espeak scotland", None, 0),
    ("espeak rp", None, 0),
    ("flite slt", None, 0),
    ("flite rms", None, 0),
    ("flite awb", None, 0),
    ("flite kal", None, 0),
    ("festival ked", None, 0),
    ("piper joe", "wind", 15),
    ("flite slt", "wind", 15),
    ("piper joe", "saw", 15),
    ("flite rms", "saw", 15),
    ("piper joe", "compressor", 10),
    ("flite rms", "compressor", 10),
)
"""Voice, noise and its ratio in dB."""
WAYS = ("trade", "general free", "general constrained", "surest")

PHRASES = """
north wall eleven and seven eighths heavy
south overhang fourteen and a half
gable twenty two and three sixteenths
east side nine and five eighths light
thirty one and eleven sixteenths
back porch sixteen and a quarter times nine
cut six at eighteen and three quarters
twelve feet four and a half inches
fascia run forty feet six inches
left rake eight feet two and one eighth
window one thirty four by fifty one and a half
measure the west wall ten and three eighths
garage header one hundred and four inches
soffit depth fifteen and fifteen sixteenths
front gable pitch eight twelve
used three sheets of soffit panel one scrapped
used fourteen pieces of soffit
installed two sticks of j channel
twelve panels on the north side and nine on the south
scrapped two panels cracked in the cold
one soffit panel bent on the brake
delivered forty one soffit panels
delivered six boxes of trim nails
picked up two rolls of house wrap
returned three sticks of f channel
sent back one box of roofing nails
eleven panels left
four sticks of fascia left over
need two more boxes of trim nails
need ten sheets of plywood by thursday
order one roll of trim coil
used half a box of trim nails
used a pound and a half of nails
sixteen squares of siding delivered
started at seven thirty
stopped at four fifteen with one helper
lunch thirty minutes
break fifteen minutes
helper left at noon
two men on the crew today
started at quarter past seven
knocked off at half past five
three hours on the soffit with two men
six and a half hours on fascia
covered the flashing above the garage door
covering the sheathing on the east wall now
photo of the north corner before siding
take a picture of the rotten wood behind the gutter
note the ridge vent is loose
call the inspector about the porch
forty two degrees and windy
rain delay one hour
problem the sub fascia is warped on the south side
the drip edge is missing at the valley
scratch that
scratch that make it nine
no wait make it twelve and a quarter
change that to seven and nine sixteenths
same again on the west side
fifty two linear feet of gutter on the back
""".strip().splitlines()

NOTES = """
my daughter has a soccer game on saturday so i am leaving early
the dog next door keeps barking at the dumpster
remember to pay the electric bill before the end of the month
the customer would like a darker color on the shutters
somebody parked a blue car in front of the driveway again
the man from the insurance company will come by next week
i think the old owner painted over the damage without fixing it
ask about the permit for the second floor bathroom
the radio said there will be thunder in the evening
we should talk about the price of the new windows
the neighbor complained about the noise in the morning
water is coming in behind the kitchen sink
there is a wasp nest under the eave by the chimney
the supply house is closed for the holiday
my knee hurts so no more climbing today
the lady wants to know when we will be finished
tell the painter that the primer is not dry yet
bring the long extension cord and the good saw tomorrow
the foundation has a crack near the basement door
he said the check is in the mail
""".strip().splitlines()

JOB = Job("bench", "America/New_York", ("north wall", "south side", "east wall", "front gable"))
PLAN = Plan(tasks=(PlannedTask(Task("hang soffit", ("soffit",)), 8),), places=JOB.places)  # type: ignore[arg-type]


@dataclass(frozen=True)
class Heard:
    """What was said, what each way made of it (in comparable words), and which was surest."""

    said: str
    ways: dict[str, str]


def main() -> None:
    arguments = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    arguments.add_argument("--every", type=int, default=1, help="say every Nth line only")
    arguments.add_argument("--human", type=Path, help="folder of spoken digits")
    chosen = arguments.parse_args()
    ears = recognizers()
    job = vocabulary(PLAN, JOB)
    for ear in ears:
        ear.hear(silence(1.0), job)
    clock = Clock()
    _head("dictated phrases")
    _table(PHRASES[:: chosen.every], SOUNDS, ears, job, clock)
    _head("plain talk")
    _table(NOTES[:: chosen.every], SOUNDS[:1] + SOUNDS[4:6], ears, job, clock)
    clock.show()
    if chosen.human:
        _digits(chosen.human)


class Clock:
    """Processor time of each recognizer against the length of what it heard."""

    def __init__(self) -> None:
        self.spent: dict[str, float] = {}
        self.sound = 0.0

    def hear(self, ears: Sequence[Recognizer], sound: Samples, job: Vocabulary) -> list[Hearing]:
        hearings: list[Hearing] = []
        self.sound += len(sound) / RATE
        for ear in ears:
            before = time.process_time()
            hearings += ear.hear(sound, job)
            took = time.process_time() - before
            self.spent[ear.name] = self.spent.get(ear.name, 0.0) + took
        return hearings

    def show(self) -> None:
        for name, spent in self.spent.items():
            print(f"{name}: {spent / self.sound:.4f} of real time")
        print(f"together: {sum(self.spent.values()) / self.sound:.4f} of real time")
        print(f"memory: {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")


def comparable(text: str) -> str:
    """The words of a text with numbers spelled out, and without what is said either way.

    "and" goes, "a half", "one half" and "half" are the same, so are singular and plural of a
    fraction, foot and feet.
    """
    spelled: list[str] = []
    for word in words_of(text):
        plain = word.removesuffix("ths").removesuffix("th") if word[0].isdigit() else word
        spelled += figures().get(plain, _long_number(plain))
    said = re.sub(r"\band\b|'", " ", f" {' '.join(spelled)} ")
    said = re.sub(r"\b(?:a|an|one) (half|quarter|eighth|sixteenth|hundred)\b", r"one \1", said)
    said = re.sub(r"\b(eighth|sixteenth|quarter|second)s\b", r"\1", said)
    said = re.sub(r"\bone half\b", "half", said).replace(" foot ", " feet ")
    return " ".join(said.split()) or "nothing"


def _long_number(word: str) -> tuple[str, ...]:
    """A word as it is, but a number of four or more figures digit by digit."""
    return tuple(ONES[int(figure)] for figure in word) if word.isdecimal() else (word,)


def _table(
    lines: Sequence[str],
    sounds: Sequence[tuple[str, str | None, float]],
    ears: Sequence[Recognizer],
    job: Vocabulary,
    clock: Clock,
) -> None:
    everything: list[Heard] = []
    for voice, under, ratio in sounds:
        heard = []
        for number, line in enumerate(lines):
            sound = np.concatenate([silence(0.25), speak(line, voice), silence(0.25)])
            if under:
                sound = mix(sound, noise(under, len(sound) / RATE, number), ratio)
            heard.append(_heard(line, clock.hear(ears, sound, job)))
        _row(f"{voice}{f', {under} {ratio:g} dB' if under else ''}", heard)
        everything += heard
    _row("all", everything)


def _heard(line: str, hearings: Sequence[Hearing]) -> Heard:
    ways = {hearing.recognizer: comparable(hearing.text) for hearing in hearings}
    surest = max(hearings, key=lambda hearing: hearing.confidence)
    return Heard(comparable(line), {**ways, "surest": comparable(surest.text)})


def _head(title: str) -> None:
    print(f"\n{title:32}{'word errors, %':>44}{'surest':>9}{'agree':>8}{'right':>8}")
    print(f"{'':32}" + "".join(f"{way.removeprefix('general '):>12}" for way in WAYS), end="")
    print(f"{'exact, %':>9}{'%':>4}{'then, %':>9}")


def _row(name: str, heard: Sequence[Heard]) -> None:
    said = [one.said for one in heard]
    errors = [jiwer.wer(said, [one.ways[way] for one in heard]) for way in WAYS]
    agree = [one for one in heard if one.ways["trade"] == one.ways["general constrained"]]
    exact = np.mean([one.ways["surest"] == one.said for one in heard])
    right = np.mean([one.ways["trade"] == one.said for one in agree]) if agree else np.nan
    print(f"{name:32}" + "".join(f"{100 * error:12.1f}" for error in errors), end="")
    print(f"{100 * exact:9.1f}{100 * len(agree) / len(heard):6.1f}{100 * right:7.1f}", flush=True)


def _digits(folder: Path) -> None:
    names = ONES[:10]
    ears = (TradeRecognizer(only=names), GeneralRecognizer(only=names))
    open_ear = TradeRecognizer()
    print(f"\nhuman digit strings{'word errors, %':>40}{'together, % of strings':>40}")
    print(f"{'':20}{'trade':>10}{'trade open':>12}{'free':>8}{'constrained':>13}", end="")
    print(f"{'together':>10}{'exact':>8}{'doubt':>8}{'silent':>8}")
    everything: list[DigitString] = []
    for speaker in sorted({path.stem.split("_")[1] for path in folder.glob("*_*_*.wav")}):
        rows = []
        for said, sound in _strings(folder, speaker, 40):
            hearings = [
                _in_digits(hearing) for ear in ears for hearing in ear.hear(sound, Vocabulary())
            ]
            (open_hearing,) = open_ear.hear(sound, Vocabulary())
            trade, free, constrained = hearings
            scored = cross_score(sound, hearings, Vocabulary(), ears, candidates)
            of_all, sure = together(hearings, scored, _as_entry)
            heard = (trade.text, _in_digits(open_hearing).text, free.text, constrained.text)
            rows.append(DigitString(said, (*(text or "nothing" for text in heard), of_all), sure))
        _digit_row(speaker, rows)
        everything += rows
    _digit_row("all", everything)


@dataclass(frozen=True)
class DigitString:
    """A string of digits, what each way made of it, and how sure all together are."""

    said: str
    ways: tuple[str, ...]
    sure: float


def together(
    hearings: Sequence[Hearing], scored: Sequence[Scored], reader: Callable[[str], Reading]
) -> tuple[str, float]:
    """The words that stand as the likeliest entry would, and how sure they are."""
    meanings = meanings_of(hearings, reader, Vocabulary(), scored)
    if not meanings:
        return "nothing", 0.0
    likely = likelihoods(meanings)
    chosen = standing(meanings, likely)
    sure = confidence(evidence_of(0, chosen, meanings, likely))
    return chosen.text or "nothing", sure


def _as_entry(text: str) -> Reading:
    """A string of digits as an entry that holds it, anything else as a doubtful one."""
    figures_of = [str(ONES.index(word)) for word in text.split() if word in ONES[:10]]
    whole = len(figures_of) == len(text.split())
    entry = Entry("used", quantity=Fraction("1" + "".join(figures_of)))
    return Reading((entry,), () if whole else (Doubt(0, "not only digits"),))


def _in_digits(hearing: Hearing) -> Hearing:
    """The hearing with every figure spelled out as a word."""
    words = [
        replace(word, text=digit)
        for word in hearing.words
        for digit in _digit_by_digit(word.text).split()
    ]
    others = [replace(one, text=_digit_by_digit(one.text)) for one in hearing.alternatives]
    text = _digit_by_digit(hearing.text)
    return replace(hearing, text=text, words=tuple(words), alternatives=tuple(others))


def _digit_row(name: str, rows: Sequence[DigitString]) -> None:
    said = [row.said for row in rows]
    errors = [100 * jiwer.wer(said, [row.ways[way] for row in rows]) for way in range(5)]
    widths = (10, 12, 8, 13, 10)
    print(f"{name:20}", end="")
    print("".join(f"{one:{width}.1f}" for one, width in zip(errors, widths, strict=True)), end="")
    exact = [row.ways[4] == row.said for row in rows]
    doubted = [row.sure < DOUBTFUL for row in rows]
    silent = [not right and not asked for right, asked in zip(exact, doubted, strict=True)]
    for shares in (exact, doubted, silent):
        print(f"{100 * np.mean(shares):8.1f}", end="")
    print(flush=True)


def _digit_by_digit(text: str) -> str:
    plain = re.sub(r"\d", lambda figure: f" {ONES[int(figure[0])]} ", text.lower())
    return " ".join(re.findall(r"[a-z]+", plain))


def _strings(folder: Path, speaker: str, count: int) -> Iterator[tuple[str, Samples]]:
    """Digit strings of one speaker: what is said, and its sound. The same every time."""
    draw = random.Random(f"{speaker} 1")
    for _ in range(count):
        digits = [draw.randrange(10) for _ in range(draw.randint(3, 7))]
        parts = [silence(0.3)]
        for digit in digits:
            takes = sorted(folder.glob(f"{digit}_{speaker}_*.wav"))
            spoken = samples(draw.choice(takes))
            loudest = max(float(np.abs(spoken).max()), 1e-6)
            parts += [
                (spoken * (0.5 / loudest)).astype(np.float32),
                silence(draw.uniform(0.05, 0.25)),
            ]
        yield " ".join(ONES[digit] for digit in digits), np.concatenate([*parts, silence(0.25)])


if __name__ == "__main__":
    main()
