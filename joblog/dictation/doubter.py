"""A second opinion on what an utterance holds, from its words alone. It only raises doubts.

Whoever reads by rules can be sure and wrong: a new word for "spoiled" makes a piece used. From rows
of one to three words, with numbers, items and places put together, logistic regressions tell which
kinds of entries and which facts an utterance holds (`tests/bench/train_doubter.py`); where the
reading lacks what is surely there, or has what is surely not, the entries are asked about.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

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
    """Why these entries can hardly be all that was said and nothing else; None where they may."""
    opinion = _opinion()
    scores = opinion.scores(rows_of(atoms))
    held = held_by(entries)
    worst, why = 0.0, None
    for name, score, (lacking, beyond) in zip(opinion.names, scores, opinion.bounds, strict=True):
        over = score - lacking if name not in held else beyond - score
        if over > worst:
            worst, why = over, _why(name, name in held)
    return why


def rows_of(atoms: Iterable[Atom]) -> Iterator[str]:
    """Rows of one to three words; numbers, items and places are one word each."""
    marks = _marks()
    before, last = "", "^"
    for atom in atoms:
        yield from marks.get(atom.char, ())
        token = _TOKENS.get(atom.char)
        for word in (token,) if token else atom.words.split():
            pair = f"{last} {word}"
            yield word
            yield pair
            if before:
                yield f"{before} {pair}"
            before, last = last, word
    yield f"{last} $"
    if before:
        yield f"{before} {last} $"


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


@dataclass(frozen=True)
class _Opinion:
    names: tuple[str, ...]
    biases: tuple[float, ...]
    bounds: tuple[tuple[float, float], ...]
    """The score above which a fact that the reading lacks is asked about, and the score below
    which one that it has is."""
    weights: dict[str, list[int]]
    """By row of words: number of a name and weight in `scale`, in turn."""
    scale: float

    def scores(self, rows: Iterable[str]) -> list[float]:
        """Log-odds of each name."""
        sums = [0] * len(self.names)
        for row in set(rows):
            weighed = self.weights.get(row)
            if weighed is not None:
                for at in range(0, len(weighed), 2):
                    sums[weighed[at]] += weighed[at + 1]
        return [one * self.scale + bias for one, bias in zip(sums, self.biases, strict=True)]


@cache
def _opinion() -> _Opinion:
    shown = json.loads(files("joblog.dictation").joinpath(FILE).read_text("utf-8"))
    return _Opinion(
        tuple(shown["names"]),
        tuple(shown["biases"]),
        tuple((lacking, beyond) for lacking, beyond in shown["bounds"]),
        shown["weights"],
        shown["scale"],
    )


def _why(name: str, has: bool) -> str:
    sounds = SOUNDS.get(name, f"there is {name.replace('_', ' ')}")
    return f"does it say that {sounds}? it sounds otherwise" if has else f"sounds like {sounds}"


SOUNDS: dict[str, str] = {}
