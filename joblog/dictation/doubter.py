"""A second opinion on a reading, from its words and from what is odd about it. It only raises
doubts.

Whoever reads by rules can be sure and wrong: a new word for "spoiled" makes a piece used. From rows
of one to three words, with numbers, items and places put together, logistic regressions tell which
kinds of entries and which facts an utterance holds; where the reading lacks what is surely there,
or has what is surely not, the entries are asked about. One more tells from that and from the signs
of the reading (`signs.py`) how likely it is that a fact is wrong or lost. All are learned by
`tests/bench/train_doubter.py`.
"""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence, Set
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files
from itertools import pairwise
from math import floor
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
    Stretch,
    chars_in,
)
from joblog.dictation.signs import Heard, signs_of, strange_words
from joblog.model import WALK_KINDS, Entry

FILE = "doubter.json"


def second_opinion(heard: Heard) -> str | None:
    """What the words sound like that these entries do not hold, or hold beside it, or what is odd
    about them, in words for a person; None where they may well be all that was said."""
    opinion = _opinion()
    scores, held = opinion.scores(rows_of(heard.atoms)), held_by(heard.entries)
    over, why = _most_contradicted(scores, held)
    if over > 0:
        return _said_plainly(why, heard.entries)
    if len(heard.atoms) > LONGEST_LEARNED:
        return None
    if not heard.asked and all(entry.kind == "correction" for entry in heard.entries):
        return None  # Read as a change, it is no more in doubt than what it changes.
    if not heard.asked and _only_measures(heard):
        return None
    signs = frozenset((*signs_of(heard), *_signs_of_scores(scores, held, over)))
    weights = opinion.odd
    total = weights[ALWAYS] + sum([weights[sign] for sign in signs if sign in weights])
    if total <= (ODD_BESIDE_DOUBTS if heard.asked else ODD):
        return None
    return _oddest(signs, weights, heard)


def _only_measures(heard: Heard) -> bool:
    """Whether it is measures one after another, and no word but theirs: so they are said."""
    covered = sum(one.end - one.start for one in heard.stretches) == len(heard.atoms)
    plain = covered and not (heard.dropped or heard.unsure)
    if not plain or not all(map(_is_measured, heard.entries)):
        return False
    told = WALKED if any(one.kind in WALK_KINDS for one in heard.entries) else WALKED[:-1]
    walked = {at for one in heard.stretches if one.meaning in told for at in _within(one)}
    strange = chars_in("OTHER")
    return not any(atom.char in strange for at, atom in enumerate(heard.atoms) if at not in walked)


def _is_measured(entry: Entry) -> bool:
    return entry.kind in WALK_KINDS or (entry.kind == "measure" and not entry.note)


def _within(stretch: Stretch) -> range:
    return range(stretch.start, stretch.end)


WALKED = ("corner", "top", "wall opening", "interruption", "place")
"""Meanings of which every word is told; of a place only where a corner is: "inner side"."""


LONGEST_LEARNED = 36
"""Atoms; little of the talk that was learned from was longer."""
ALWAYS = "always"
"""A sign that every reading has."""
ODD, ODD_BESIDE_DOUBTS = -170, -190
"""Hundredths of log-odds that a fact is wrong or lost, above which it is asked about: where nothing
is in doubt, and where something is, so that he is asked in any case."""


def _most_contradicted(scores: Mapping[str, float], held: frozenset[str]) -> tuple[float, str]:
    """By how much the words most contradict what is held, negative where not, and in what."""
    over, why = -9.0, ""
    for name, most in contradictions(scores, held):
        if most > over:
            over, why = most, name
    return over, why


def _signs_of_scores(
    scores: Mapping[str, float], held: frozenset[str], contradicted: float
) -> tuple[str, ...]:
    """What the scores of the words say of what is held, as signs."""
    lowest, highest = 9.0, -9.0
    for name, score in scores.items():
        if name in held:
            lowest = min(score, lowest)
        elif name != "several":
            highest = max(score, highest)
    several = "several" if "several" in held else "one"
    return (
        f"contradicted {_floor(contradicted, -4)}",
        f"least sure {_floor(lowest, -2)}",
        f"lacking {_floor(highest, -4)}",
        f"{several}, sounds like several {_floor(scores['several'], -3)}",
    )


def _floor(score: float, least: int) -> int:
    return max(least, min(least + 6, math.floor(score)))


def _oddest(signs: Iterable[str], weights: Mapping[str, int], heard: Heard) -> str:
    """The sort of signs that weighs most, in words for a person."""
    strange = strange_words(heard)
    sorts = dict.fromkeys(ODDITIES, 0)
    for sign in signs:
        sort = next((name for name, pattern in _SIGNS_OF if pattern.match(sign)), None)
        if sort is not None:
            sorts[sort] += weights.get(sign, 0)
    if not strange:
        del sorts["strange"]
    most = max(sorts, key=lambda sort: sorts[sort])
    return ODDITIES[most].format(strange)


ODDITIES = {
    "several": "several things in one breath: is each right, and is it all?",
    "strange": "unclear words beside it: {!r}: is it right?",
    "taken back": "something seems to be put right or taken back: is this what stands?",
    "lost": "more was said than is here: was anything left out?",
    "sort": "said in an unusual way: is it right?",
}
_SIGNS_OF = [
    (sort, re.compile(pattern))
    for sort, pattern in (
        ("strange", r"strange|\w+ strange|unread|(known|number|item|place) left"),
        ("taken back", "[A-Z]{2}|'|dropped|unsure|kind (drop|replace)"),
        ("lost", "(numbers|items|places) over|lacking|noted|note in"),
        ("several", "stretches|facts|entries|kinds|numbers|said|pauses|several|one|kind .* beside"),
        ("sort", "kind|as |least|contradicted|score|bare|measure|no |item|number|place"),
    )
]


def is_second_opinion(why: str) -> bool:
    """Whether a doubt was raised here."""
    return why.startswith(SAYS) or is_oddity(why)


def is_oddity(why: str) -> bool:
    """Whether a doubt was raised by the signs of a reading."""
    return why.startswith(_BEGINNINGS)


_BEGINNINGS = tuple(told.partition("{")[0] for told in ODDITIES.values())


def contradictions(
    scores: Mapping[str, float], held: frozenset[str]
) -> Iterator[tuple[str, float]]:
    """Each fact that is surely there and not held, or held beside others and surely not there,
    with the log-odds by which that is surer than it must be."""
    counted = "fact" in held
    kinds = {name for name in held if name.startswith("kind ")}
    # Width and height are two measures, however they are said.
    several = "several" in held and not kinds <= _MEASURED
    for name, score in scores.items():
        if name in held:
            if several and name in _BESIDE:
                yield name, -score - _BESIDE[name]
        elif name in _sounded(kinds):
            continue
        elif counted == (name != "fact") and not (name == "item" and kinds & _OF_NO_ITEM):
            yield name, score - SURE


_OF_NO_ITEM = frozenset(
    f"kind {kind}"
    for kind in ("todo", "extra", "expense", "drive", "inspection", "visit", "problem", "covered")
)
"""Kinds that speak of material in their notes."""


def _sounded(kinds: Set[str]) -> frozenset[str]:
    """Facts that the words of these kinds sound like, and that are none beside them."""
    if "kind moved" in kinds:
        return _OF_WHAT_IS_CARRIED
    return _OF_WHAT_IS_WALKED if kinds & _WALK else frozenset()


_WALK = frozenset(f"kind {kind}" for kind in WALK_KINDS)
_MEASURED = _WALK | {"kind measure"}
_OF_WHAT_IS_WALKED = frozenset(("kind measure", "inches", "item"))
"""Facts that the words of an opening sound like: "door six foot by six foot eight"."""
_OF_WHAT_IS_CARRIED = frozenset(("kind delivered", "kind returned", "kind used"))
"""Kinds that the words of a transfer sound like: "brought six", "took six back"."""
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
class Opinion:
    biases: tuple[float, ...]
    weights: dict[str, list[int]]
    """By row of words: number of a name and its weight in `scale`, in turn."""
    scale: float
    odd: dict[str, int] = field(default_factory=dict)
    """By sign, by how many hundredths of log-odds it makes it likelier that a fact is wrong."""
    summed: dict[str, int] = field(default_factory=dict)
    """The weights of a row as one number, `BITS` for each name: all are added at once."""
    limits: tuple[int, ...] = field(init=False)
    """Sums up to which nothing is surely there."""

    def __post_init__(self) -> None:
        least = [floor((SURE - bias) / self.scale) - 1 + _HALF for bias in self.biases]
        object.__setattr__(self, "limits", tuple(least))

    def signs(self, heard: Heard) -> frozenset[str]:
        """All signs of a reading."""
        scores, held = self.scores(rows_of(heard.atoms)), held_by(heard.entries)
        over, _ = _most_contradicted(scores, held)
        return frozenset((*signs_of(heard), *_signs_of_scores(scores, held, over)))

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
def _opinion() -> Opinion:
    shown = json.loads(files("joblog.dictation").joinpath(FILE).read_text("utf-8"))
    return Opinion(tuple(shown["biases"]), shown["weights"], shown["scale"], shown["odd"])


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
    "kind corner": "a corner of the house",
    "kind wall_opening": "an opening in a wall",
    "kind interruption": "something that interrupts an eave",
    "kind correction": "an earlier entry was put right",
}
"""What is told of an utterance, and how a person is asked about it."""
NAMES = (*SOUNDS, "several")

BITS = 32
"""Room for the sum of the weights of more rows than an utterance has: each is at most 127."""
_HALF = 1 << (BITS - 1)
_EACH = Struct(f"<{len(NAMES)}I")
_ZERO = sum(_HALF << (BITS * at) for at in range(len(NAMES)))
