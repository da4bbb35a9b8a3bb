"""Where talk ends that would go on to the end of the breath."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from joblog.dictation.grammar import MIX, NUM, NUMBERS, Atom, Stretch, has_any, is_a
from joblog.dictation.sorts import DIMENSION, NUMBER, PLACE, THING, UNIT, VERB, sort_of


def runs_over_a_fact(stretch: Stretch) -> bool:
    """True for talk whose later clauses tell a plain fact: "that ladder, anyway, the depth is nine
    and an eighth". The talk is read again without them."""
    ended = stretch.meaning in _OPEN_ENDED or (stretch.meaning == "note" and stretch.start > 0)
    if not ended or len(stretch.atoms) < _LEAST:
        return False
    first, *later = _clauses(stretch.atoms)
    if any(atom.char in NUMBERS for atom in first):
        return False
    if stretch.meaning == "request" and any(map(_counts, later)):
        return True
    return any(_is_a_fact(clause) for clause in later)


def _counts(clause: Sequence[Atom]) -> bool:
    """ "Five tubes of caulk", "used all eighteen": so much is asked for, or told."""
    if has_any(clause, "FUTURE", "NOTGOING", "WILLBE", "TALK", "LATER"):
        return False
    counted = any(
        one.char == NUM and sort_of(other.char) in (THING, UNIT) and not other.pause
        for one, other in pairwise(clause)
    )
    numbers = any(atom.char == NUM for atom in clause)
    return counted or (numbers and any(sort_of(atom.char) == VERB for atom in clause))


_OPEN_ENDED = ("talk", "request", "todo", "problem")
_LEAST = 6
"""Atoms; a clause of talk and a fact behind it are no fewer."""


def facts_apart(atoms: Sequence[Atom], stretches: Sequence[Stretch]) -> list[Stretch]:
    """The stretches outside the clauses of a plan or denial, where they tell a plain fact; none
    where they do not. "I'd better say it while I know it, two sticks of J used on the porch"."""
    covered = {at for one in stretches for at in range(one.start, one.end)}
    undone: set[int] = set()
    facts: set[int] = set()
    start = 0
    for clause in _clauses(atoms):
        places = range(start, start + len(clause))
        start = places.stop
        if has_any(clause, *_PLANNED):
            if any(has_any((atoms[at],), *_PLANNED) and at in covered for at in places):
                return []
            undone.update(places)
        elif _is_a_fact(clause):
            facts.update(places)
    apart = [one for one in stretches if undone.isdisjoint(range(one.start, one.end))]
    told = any(not facts.isdisjoint(range(one.start, one.end)) for one in apart)
    return apart if told else []


_PLANNED = ("FUTURE", "NOTGOING", "WILLBE")


def _clauses(atoms: Sequence[Atom]) -> Iterator[Sequence[Atom]]:
    start = 0
    for at in range(1, len(atoms)):
        if atoms[at].pause or is_a(atoms[at], "CLAUSE"):
            yield atoms[start:at]
            start = at
    yield atoms[start:]


def _is_a_fact(clause: Sequence[Atom]) -> bool:
    """Whether a clause says how much of what, or how long what is, and no plan."""
    if has_any(clause, "FUTURE", "NOTGOING", "WILLBE", "TALK", "LATER"):
        return False
    sorts = {sort_of(atom.char) for atom in clause}
    if any(is_a(one, "ARTICLE") and is_a(other, "UNIT") for one, other in pairwise(clause)):
        return {THING, VERB} <= sorts  # "Spoiled a stick of fascia".
    if NUMBER not in sorts:
        return False
    exact = any(atom.char == MIX for atom in clause) or has_any(clause, "FOOT", "INCH")
    measured = exact and bool(sorts & {DIMENSION, PLACE})
    counted = any(atom.char == NUM for atom in clause) and THING in sorts
    worked = has_any(clause, "HOURWORD") and THING in sorts
    return measured or worked or (counted and VERB in sorts)
