"""A card to read aloud in two minutes, and which line of it each stretch of a recording is."""

from __future__ import annotations

import math
import random
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from itertools import cycle

from joblog.aloud import say_entry
from joblog.dictation import fact_of, read
from joblog.dictation.generate import derivations
from joblog.model import STOCK_KINDS, Entry, Plan, Vocabulary
from joblog.plan import vocabulary

SEED, LINES = 16, 32
PLACES = ("north eave", "south eave", "east wall", "west gable", "porch ceiling")
_TEENS = (13, 30, 14, 40, 15, 50, 16, 60, 17, 70, 18, 80, 19, 90)
_ONES = (5, 9, 2, 4, 8, 6, 3, 7, 10, 12, 11, 20)
_PARTS = (
    "1/2", "1/4", "3/8", "5/8", "1/8", "7/8", "3/4", "5/16", "9/16", "1/16", "15/16", "13/16",
)  # fmt: skip
"""Numbers that are taken for one another, next to each other; every one as often as the others."""


@dataclass(frozen=True, slots=True)
class Line:
    """What is to be read aloud, and what it says."""

    words: str
    entry: Entry


@cache
def known() -> Vocabulary:
    """The words of the card: those of the starter catalog, so that it is the same for every job."""
    return vocabulary(Plan(places=PLACES))


@cache
def card() -> tuple[Line, ...]:
    """The lines, always the same: a measure and an item by turns.

    Kinds and items come out of the grammar; each line is told in the words in which it would be
    read back, with the next number of the deck in it.
    """
    wholes, parts = cycle(_TEENS + _ONES), cycle(_PARTS)
    counts, places = cycle(_TEENS[::-1] + _ONES), cycle(PLACES)
    stock = _stock()
    found: list[Line] = []
    count = next(counts)
    while len(found) < LINES:
        if len(found) % 2:
            entry = replace(next(stock), quantity=Fraction(count))
        else:
            inches = next(wholes) + Fraction(next(parts))
            entry = Entry("measure", place=next(places), inches=inches)
        words = say_entry(entry, seconds=math.inf)
        back = read(words, known())
        same = [fact_of(one) for one in back.entries] == [fact_of(entry)]
        if same and not back.doubts and not back.unread:
            # A number whose line is not read back is said in the next line.
            count = next(counts) if len(found) % 2 else count
            found.append(Line(words, back.entries[0]))
    return tuple(found)


def _stock() -> Iterator[Entry]:
    """Bare entries of material out of the grammar, each of another kind or item."""
    met: set[tuple[str, str]] = set()
    for one in derivations(known(), random.Random(SEED)):
        for entry in one.reading.entries:
            if entry.kind not in STOCK_KINDS or not (entry.item and entry.unit and entry.quantity):
                continue
            if (entry.kind, entry.item) not in met:
                met |= {(entry.kind, entry.item)}
                yield Entry(entry.kind, item=entry.item, unit=entry.unit)


def aligned(heard: Sequence[str], lines: Sequence[str]) -> list[int | None]:
    """Which line each stretch is, by its number; None for one that is none, such as a cough.

    In order, each line once: the way with the least difference in letters over all (Needleman and
    Wunsch 1970). To pair a stretch with a line costs the share of letters that differ, to pass over
    either costs more than half of the worst pair: so a line that was heard badly is still that
    line, and is not left out of the decisions for having been heard badly.
    """
    from rapidfuzz.distance import Levenshtein

    costs = [[0.0] * (len(lines) + 1) for _ in range(len(heard) + 1)]
    for at in range(len(heard) + 1):
        for line in range(len(lines) + 1):
            ways = []
            if at and line:
                apart = Levenshtein.normalized_distance(heard[at - 1], lines[line - 1])
                ways.append(costs[at - 1][line - 1] + apart)
            if at:
                ways.append(costs[at - 1][line] + _PASSED)
            if line:
                ways.append(costs[at][line - 1] + _PASSED)
            costs[at][line] = min(ways, default=0.0)
    found: list[int | None] = [None] * len(heard)
    at, line = len(heard), len(lines)
    while at and line:
        apart = Levenshtein.normalized_distance(heard[at - 1], lines[line - 1])
        if math.isclose(costs[at][line], costs[at - 1][line - 1] + apart):
            at, line = at - 1, line - 1
            found[at] = line
        elif math.isclose(costs[at][line], costs[at - 1][line] + _PASSED):
            at -= 1
        else:
            line -= 1
    return found


_PASSED = 0.55
