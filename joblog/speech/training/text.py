"""What is said for training: lines of the trade, digits and numbers, lone words, other English.

Deterministic: the same seed gives the same lines. Words of the trade come from the project's
practice phrases and starter catalog, other words from the pronouncing dictionary, so that every
sound is heard beside every other and speech off the subject is known as such.
"""

from __future__ import annotations

import json
import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from itertools import accumulate
from math import exp

from joblog.catalog.lines import starter_catalog
from joblog.dictation.generate import sentences
from joblog.model import Vocabulary
from joblog.speech.phrases import spelled
from joblog.speech.training.lexicon import PRACTICE, chance, lexicon, trade_words, words_of

SHARES = {"trade": 0.40, "digits": 0.22, "word": 0.14, "general": 0.24}
"""How much of each kind is said, by lines."""
GENERATED = 0.6
"""Share of the trade's lines that are sentences of the grammar; the others are practice phrases."""
JOBS = 12
"""Made-up jobs that those sentences speak of."""


@dataclass(frozen=True)
class Sentence:
    """Something to say, in lower case and spelled out."""

    kind: str
    text: str


def lines(seed: int) -> Iterator[Sentence]:
    """Lines without end, of all kinds in their shares."""
    luck = random.Random(seed)
    kinds, shares = list(SHARES), list(SHARES.values())
    while True:
        kind = luck.choices(kinds, shares)[0]
        text = " ".join(words_of(_MAKERS[kind](luck)))
        if text:
            yield Sentence(kind, text)


def lone_numbers(seed: int) -> Iterator[Sentence]:
    """Words of numbers without end, each said alone: digits most often."""
    luck = random.Random(seed)
    while True:
        words = luck.choices((LONE_DIGITS, LONE_COUNTS, LONE_FRACTIONS, BESIDE), (11, 4, 3, 2))[0]
        yield Sentence("alone", luck.choice(words))


# --- numbers ----------------------------------------------------------------------------------

DIGITS = "zero one two three four five six seven eight nine".split()
FRACTIONS = (
    "a half", "a quarter", "three quarters", "an eighth", "one eighth", "three eighths",
    "five eighths", "seven eighths", "a sixteenth", "one sixteenth", "three sixteenths",
    "five sixteenths", "seven sixteenths", "nine sixteenths", "eleven sixteenths",
    "thirteen sixteenths", "fifteen sixteenths", "a third", "two thirds",
)  # fmt: skip

LONE_DIGITS = (*DIGITS, "oh")
LONE_COUNTS = (*(spelled(count) for count in (*range(10, 20), *range(20, 100, 10))), "hundred")
LONE_FRACTIONS = tuple(sorted({words.split()[-1] for words in FRACTIONS}))
BESIDE = ("a", "and", "by", "feet", "foot", "inches", "point", "heavy", "light", "strong")


def _count(luck: random.Random) -> str:
    """A whole number, small ones most often."""
    most = luck.choices((12, 24, 99, 999), (4, 4, 3, 1))[0]
    return spelled(luck.randint(0, most))


def _digit_string(luck: random.Random) -> str:
    count = luck.choices(range(1, 11), (3, 3, 4, 4, 4, 3, 3, 2, 2, 2))[0]
    zero = "oh" if luck.random() < 0.25 else "zero"
    return " ".join(luck.choice((zero, *DIGITS[1:])) for _ in range(count))


def _mixed(luck: random.Random) -> str:
    tail = luck.choice(FRACTIONS)
    joined = luck.choice((" and ", " and ", " "))
    return f"{_count(luck)}{joined}{tail}" + luck.choice(
        ("",) * 4 + (" heavy", " light", " strong")
    )


def _feet(luck: random.Random) -> str:
    feet = f"{_count(luck)} {luck.choice(('feet', 'foot'))}"
    return f"{feet} {luck.choice(('', 'and '))}{luck.choice((_count, _mixed))(luck)}" + luck.choice(
        ("", " inches")
    )


def _decimal(luck: random.Random) -> str:
    after = " ".join(luck.choice(DIGITS) for _ in range(luck.randint(1, 3)))
    return f"{_count(luck)} point {after}"


def _clock(luck: random.Random) -> str:
    minute = luck.choice(
        ("", "oh five", "ten", "fifteen", "twenty", "thirty", "forty five", "fifty")
    )
    mark = luck.choice(("", "", "am", "pm", "o'clock" if not minute else ""))
    return f"{spelled(luck.randint(1, 12))} {minute} {mark}"


def _price(luck: random.Random) -> str:
    return luck.choice(
        (
            f"{_count(luck)} dollars",
            f"{_count(luck)} {spelled(luck.randint(10, 99))} a {luck.choice(('sheet', 'stick'))}",
            f"{_count(luck)} dollars and {spelled(luck.randint(1, 99))} cents",
        )
    )


_NUMBERS: tuple[tuple[Callable[[random.Random], str], int], ...] = (
    (_digit_string, 9), (_count, 4), (_mixed, 6), (_feet, 3), (_decimal, 1), (_clock, 1),
    (_price, 1),
)  # fmt: skip


def _number(luck: random.Random) -> str:
    make = luck.choices([make for make, _ in _NUMBERS], [share for _, share in _NUMBERS])[0]
    if luck.random() < 0.15:
        return f"{make(luck)} by {make(luck)}"
    return make(luck)


# --- lines of the trade -----------------------------------------------------------------------

_FRACTION_WORDS = frozenset(
    "half halves quarter quarters third thirds eighth eighths sixteenth sixteenths".split()
)
_COUNT_WORDS = frozenset(word for number in range(0, 1000) for word in spelled(number).split())


def _trade(luck: random.Random) -> str:
    if luck.random() < GENERATED:
        return next(sentences(_job(luck.randrange(JOBS)), luck))
    return _practised(luck)


@cache
def _job(number: int) -> Vocabulary:
    """A made-up job: the starter's items and tasks, and places of its own."""
    luck = random.Random(number)
    catalog = starter_catalog()
    both = [f"{side} {part}" for side in _SIDES for part in _PARTS]
    places = (*luck.sample(both, 8), *luck.sample(_PARTS, 3))
    return Vocabulary(items=catalog.items, tasks=catalog.tasks, places=places)


_SIDES = ("north", "south", "east", "west", "front", "back", "left", "right", "upper", "lower")
_PARTS = ("eave", "wall", "gable", "porch", "garage", "dormer", "corner", "side", "shed", "entry")


def _practised(luck: random.Random) -> str:
    """A practice phrase with other numbers, now and then with another item of the catalog."""
    words = luck.choice(_practice()).split()
    said: list[str] = []
    at = 0
    while at < len(words):
        end = _number_end(words, at)
        if end == at:
            said.append(words[at])
            at += 1
            continue
        run, at = words[at:end], end
        if luck.random() < 0.25:
            said += run
        elif _FRACTION_WORDS & set(run):
            said.append(_mixed(luck))
        else:
            said.append(_count(luck))
    text = " ".join(said)
    for name in _item_names():
        if f" {name} " in f" {text} " and luck.random() < 0.4:
            return f" {text} ".replace(f" {name} ", f" {luck.choice(_item_names())} ", 1)
    return text


def _number_end(words: list[str], start: int) -> int:
    """Where a run of number words that begins here ends; `start` where none does."""
    at = start
    while at < len(words) and (words[at] in _COUNT_WORDS or words[at] in _FRACTION_WORDS):
        at += 1
        inside = words[at : at + 2]
        if len(inside) == 2 and inside[0] == "and" and inside[1] in _COUNT_WORDS | {"a"}:
            rest = words[at + 1 : at + 3]
            if _FRACTION_WORDS & set(rest):
                return at + 1 + next(n for n, word in enumerate(rest, 1) if word in _FRACTION_WORDS)
    return at


@cache
def _practice() -> tuple[str, ...]:
    rows = (json.loads(line)["text"] for line in PRACTICE.read_text("utf-8").splitlines())
    return tuple(" ".join(words_of(text)) for text in rows if not any(map(str.isdigit, text)))


@cache
def _item_names() -> tuple[str, ...]:
    catalog = starter_catalog()
    names = [name for item in catalog.items for name in (item.name, *item.spoken)]
    return tuple(sorted({" ".join(words_of(name)) for name in names}, key=lambda name: -len(name)))


# --- lone words, and English of any kind --------------------------------------------------------


def _lone_word(luck: random.Random) -> str:
    draw = luck.random()
    if draw < 0.4:
        return luck.choice((*DIGITS, "oh", *(spelled(number) for number in range(10, 100))))
    if draw < 0.55:
        return luck.choice(FRACTIONS).split()[-1]
    return luck.choice(_of_trade() if draw < 0.8 else _every_word())


def _general(luck: random.Random) -> str:
    """Words in no order: half of them as English has them, half of them any, so that all come."""
    count = luck.randint(3, 9)
    often = luck.choices(_every_word(), cum_weights=_weights(), k=count)
    return " ".join(luck.choice((word, luck.choice(_every_word()))) for word in often)


@cache
def _of_trade() -> tuple[str, ...]:
    return tuple(sorted(trade_words()))


@cache
def _every_word() -> tuple[str, ...]:
    return tuple(sorted(lexicon().pronunciations))


@cache
def _weights() -> tuple[float, ...]:
    # The root: the commonest words would drown out all others.
    return tuple(accumulate(exp(0.5 * chance(word)) for word in _every_word()))


_MAKERS = {"trade": _trade, "digits": _number, "word": _lone_word, "general": _general}
