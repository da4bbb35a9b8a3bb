"""A number begun and said again: "twenty two and, twenty two and five eighths"."""

from __future__ import annotations

from collections.abc import Sequence

from joblog.dictation.grammar import MIX, NUM, Atom, is_a
from joblog.dictation.numbers import Number


def without_restarts(atoms: Sequence[Atom]) -> tuple[list[Atom], dict[int, str]]:
    """The atoms without numbers that were begun and said again, whole, right after.

    Also which of the numbers that stay could be a second one after all: where it now stands, and
    what was dropped before it. Dropped are a whole number said again alone or with its fraction,
    where a pause, "and" or mere talk stands between, and a number that is said again to confirm.
    """
    kept: list[Atom] = []
    unsure: dict[int, str] = {}
    at = 0
    while at < len(atoms):
        again = _said_again(atoms, at)
        if again is None:
            kept.append(atoms[at])
            at += 1
            continue
        end, sure = again
        if not sure:
            unsure[len(kept)] = atoms[at].words
        at = end
    return kept, unsure


def _said_again(atoms: Sequence[Atom], at: int) -> tuple[int, bool] | None:
    """Where the number is said again, and whether that is beyond doubt."""
    first = atoms[at]
    if first.char not in (NUM, MIX):
        return None
    end = at + 1
    while end < len(atoms) and end - at <= _FAR and _is_between(atoms[end]):
        end += 1
    if end == len(atoms) or atoms[end].char not in (NUM, MIX):
        return None
    last = atoms[end]
    one, other = first.value, last.value
    assert isinstance(one, Number) and isinstance(other, Number)
    if one.whole != other.whole or one.whole is None:
        return None
    between = atoms[at + 1 : end]
    confirmed = any(is_a(atom, "CONFIRM") for atom in between)
    if first.char == MIX:
        return (end, True) if one.value == other.value and confirmed else None
    apart = last.pause or bool(between)
    broken_off = any(atom.words == "and" for atom in between) or confirmed
    if not apart and (last.char == NUM or one.whole < 12):
        return None
    more = any(isinstance(atom.value, Number) and atom.value.whole != one.whole for atom in atoms)
    if last.char == MIX and more and not broken_off:
        return None  # "Nine, nine and a half, ten and a quarter" are three.
    return end, last.char == NUM or broken_off


_FAR = 7
_JOINS = ("to", "of", "plus", "also", "in", "is", "or", "over", "by")
"""Words that make two equal numbers two: "twelve to twelve thirty"."""


def _is_between(atom: Atom) -> bool:
    """Words that may stand between a number and its saying again."""
    return atom.words not in _JOINS and any(
        is_a(atom, name) for name in ("FILLER", "AND", "ARTICLE", "CONFIRM", "OTHER", "WAS")
    )
