"""Where talk ends that would go on to the end of the breath."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from joblog.dictation.grammar import MIX, NUM, NUMBERS, Atom, Stretch, has_any, is_a
from joblog.dictation.sorts import DIMENSION, NUMBER, PLACE, THING, VERB, sort_of


def runs_over_a_fact(stretch: Stretch) -> bool:
    """True for talk whose later clauses tell a plain fact: "that ladder, anyway, the depth is nine
    and an eighth". The talk is read again without them."""
    if stretch.meaning not in _OPEN_ENDED or len(stretch.atoms) < _LEAST:
        return False
    first, *later = _clauses(stretch.atoms)
    if any(atom.char in NUMBERS for atom in first):
        return False
    return any(_is_a_fact(clause) for clause in later)


_OPEN_ENDED = ("talk", "request", "todo")
_LEAST = 6
"""Atoms; a clause of talk and a fact behind it are no fewer."""


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
    if NUMBER not in sorts:
        return False
    measured = any(atom.char == MIX for atom in clause) and bool(sorts & {DIMENSION, PLACE})
    counted = any(atom.char == NUM for atom in clause) and THING in sorts
    worked = has_any(clause, "HOURWORD") and THING in sorts
    return measured or worked or (counted and VERB in sorts)
