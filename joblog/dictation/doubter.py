"""A second opinion on what an utterance holds, from its words alone. It only raises doubts.

Whoever reads by rules can be sure and wrong: a new word for "spoiled" makes a piece used. From rows
of one to three words, with numbers, items and places put together, logistic regressions tell which
kinds of entries and which facts an utterance holds (`tests/bench/train_doubter.py`); where the
reading lacks what is surely there, or has what is surely not, the entries are asked about.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files
from itertools import compress, pairwise
from math import floor
from operator import gt
from struct import Struct

from joblog.dictation.grammar import (
    CLOCK,
    FRAC,
    HUGE,
    ITEM,
    MIX,
    NUM,
    SPOT,
    TWELFTHS,
    Atom,
    chars_in,
)
from joblog.model import Entry

FILE = "doubter.json"


def second_opinion(atoms: Sequence[Atom], entries: Sequence[Entry]) -> str | None:
    """What the words sound like that these entries do not hold, or hold beside it, in words for a
    person; None where they may well be all that was said."""
    opinion = _opinion()
    sums = opinion.sums(rows_of(atoms))
    held = held_by(entries)
    if "several" not in held and held.issuperset(compress(NAMES, map(gt, sums, opinion.limits))):
        return None  # All that is surely there is held.
    scores = opinion.scored(sums)
    worst, why = 0.0, None
    for name, over in contradictions(scores, held):
        if over > worst:
            worst, why = over, name
    return None if why is None else _said_plainly(why, entries)


def contradictions(
    scores: Mapping[str, float], held: frozenset[str]
) -> Iterator[tuple[str, float]]:
    """Each fact that is surely there and not held, or held beside others and surely not there,
    with the log-odds by which that is surer than it must be."""
    counted = "fact" in held
    kinds = {name for name in held if name.startswith("kind ")}
    # Width and height are two measures, however they are said.
    several = "several" in held and kinds != {"kind measure"}
    for name, score in scores.items():
        if name in held:
            if several and name in _BESIDE:
                yield name, -score - _BESIDE[name]
        elif counted == (name != "fact") and not (name == "item" and kinds & _OF_NO_ITEM):
            yield name, score - SURE


_OF_NO_ITEM = frozenset(
    f"kind {kind}"
    for kind in ("todo", "extra", "expense", "drive", "inspection", "visit", "problem", "covered")
)
"""Kinds that speak of material in their notes."""
SURE = 1.7
"""Log-odds above which a fact that is lacking is asked about; of phrases that are read right this
disturbs one in a hundred and fifty (`tests/bench/train_doubter.py --cross`)."""
_BESIDE = {"inches": 2.4, "kind measure": 2.4, "several": 3.4}
"""And below which one that is held beside other facts is."""


def rows_of(atoms: Iterable[Atom]) -> list[str]:
    """Rows of one to three words; numbers, items and places are one word each."""
    marks = _marks()
    rows: list[str] = []
    words: list[str] = []
    for atom in atoms:
        char = atom.char
        if char in _TOKENS:
            words.append(_TOKENS[char])
            continue
        if char in marks:
            rows += marks[char]
        words += atom.words.split()
    rows += words
    framed = ["^", *words, "$"]
    pairs = [f"{one} {other}" for one, other in pairwise(framed)]
    rows += pairs
    rows += [f"{one} {other}" for one, other in zip(framed, pairs[1:], strict=False)]
    return rows


@cache
def _marks() -> dict[str, tuple[str, ...]]:
    """Of each word or phrase of the tables the classes it stands in, of those that tell a kind."""
    marks: dict[str, list[str]] = {}
    for name in TELLING:
        for char in chars_in(name):
            marks.setdefault(char, []).append(f"@{name}")
    return {char: tuple(names) for char, names in marks.items()}


TELLING = (
    "USED", "SPOIL", "DELIVER", "RETURN", "NEED", "LEFTOVER", "COUNTED", "OUTOF", "START", "STOP",
    "ARRIVE", "BREAK", "WORKED", "HOURWORD", "TAKEBACK", "INSTEAD", "AGAIN", "PHOTO", "COVER",
    "TROUBLE", "FAULT", "NOTE", "SKY", "DEGREES", "TALK", "FUTURE", "UNIT", "FOOT", "INCH", "MONEY",
    "DIMENSION", "CUT", "PART", "SIDE", "HELPER", "OTHER",
)  # fmt: skip


def held_by(entries: Iterable[Entry]) -> frozenset[str]:
    """What entries hold: their kinds, and which facts."""
    held: set[str] = set()
    facts = 0
    for entry in entries:
        if entry.kind == "correction":
            held.add("kind correction")
            if entry.replacement is None:
                continue
            entry = entry.replacement
        held.add(f"kind {entry.kind}")
        facts += entry.kind != "note"
        held.update(
            name for name in FACTS if getattr(entry, name) is not None and name not in entry.carried
        )
    if facts:
        held.add("fact")
    if facts > 1:
        held.add("several")
    return frozenset(held)


FACTS = (
    "item", "quantity", "unit", "place", "unit_cost", "price", "inches", "square_inches", "pitch",
    "pieces", "time", "minutes", "workers", "hours", "fahrenheit", "size", "dimension", "day",
    "miles",
)  # fmt: skip
_TOKENS = {
    NUM: "#", MIX: "#+", FRAC: "#/", CLOCK: "#:", TWELFTHS: "#12", HUGE: "#", ITEM: "ITEM",
    SPOT: "SPOT",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Opinion:
    biases: tuple[float, ...]
    weights: dict[str, list[int]]
    """By row of words: number of a name and its weight in `scale`, in turn."""
    scale: float
    summed: dict[str, int] = field(default_factory=dict)
    """The weights of a row as one number, `BITS` for each name: all are added at once."""
    limits: tuple[int, ...] = field(init=False)
    """Sums up to which nothing is surely there."""

    def __post_init__(self) -> None:
        least = [floor((SURE - bias) / self.scale) - 1 + _HALF for bias in self.biases]
        object.__setattr__(self, "limits", tuple(least))

    def scores(self, rows: Iterable[str]) -> dict[str, float]:
        """Log-odds that each is there."""
        return self.scored(self.sums(rows))

    def scored(self, sums: Iterable[int]) -> dict[str, float]:
        scale = self.scale
        return {
            name: (one - _HALF) * scale + bias
            for name, one, bias in zip(NAMES, sums, self.biases, strict=True)
        }

    def sums(self, rows: Iterable[str]) -> Sequence[int]:
        """Of each name the sum of its weights, and `_HALF`."""
        summed, weights = self.summed, self.weights
        total = _ZERO
        for row in weights.keys() & rows:
            one = summed.get(row)
            if one is None:
                one = summed[row] = _in_one(weights[row])
            total += one
        return _EACH.unpack(total.to_bytes(_EACH.size, "little"))


def _in_one(weighed: Sequence[int]) -> int:
    pairs = zip(weighed[::2], weighed[1::2], strict=True)
    return sum(weight << (BITS * at) for at, weight in pairs)


@cache
def _opinion() -> _Opinion:
    shown = json.loads(files("joblog.dictation").joinpath(FILE).read_text("utf-8"))
    return _Opinion(tuple(shown["biases"]), shown["weights"], shown["scale"])


def _said_plainly(name: str, entries: Sequence[Entry]) -> str:
    held = held_by(entries)
    if name in held:
        return f"{SAYS}one fact, not several: is each of them meant?"
    if name == "several":
        return f"{SAYS}more than is here: was anything left out?"
    kinds = {entry.kind for entry in entries if entry.kind != "note"}
    read_as = SOUNDS.get(f"kind {min(kinds)}") if len(kinds) == 1 else None
    if read_as is None or not name.startswith("kind "):
        return f"{SAYS}{SOUNDS[name]}"
    return f"{SAYS}{SOUNDS[name]}, not {_SOMETHING.sub('', read_as)}"


_SOMETHING = re.compile("^something (was|is) ")
SAYS = "sounds like "
"""With what every such doubt begins."""


SOUNDS = {
    "fact": "more than a note: is there something to count?",
    "item": "a material was named, and it is not here",
    "inches": "something was measured",
    "unit_cost": "a price was said, and it is not here",
    "price": "a price was said, and it is not here",
    "miles": "miles were driven",
    "kind measure": "something was measured",
    "kind used": "something was used",
    "kind spoiled": "something was spoiled",
    "kind delivered": "something was delivered",
    "kind returned": "something was sent back",
    "kind on_hand": "something was left over",
    "kind needed": "something is needed",
    "kind start": "work was begun",
    "kind stop": "work was stopped",
    "kind break": "a break was taken",
    "kind labor": "hours were worked",
    "kind weather": "the weather",
    "kind covered": "something gets covered",
    "kind problem": "a problem",
    "kind photo": "a photo",
    "kind extra": "extra work",
    "kind price": "what a thing costs now",
    "kind expense": "money was spent",
    "kind drive": "a drive",
    "kind inspection": "an inspection",
    "kind visit": "a visit",
    "kind correction": "an earlier entry was put right",
}
"""What is told of an utterance, and how a person is asked about it."""
NAMES = (*SOUNDS, "several")

BITS = 32
"""Room for the sum of the weights of more rows than an utterance has: each is at most 127."""
_HALF = 1 << (BITS - 1)
_EACH = Struct(f"<{len(NAMES)}I")
_ZERO = sum(_HALF << (BITS * at) for at in range(len(NAMES)))
