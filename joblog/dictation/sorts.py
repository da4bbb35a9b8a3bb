"""What sort of thing a word names: only like can be put right by like."""

from __future__ import annotations

from functools import cache

from joblog.dictation.grammar import ITEM, NUMBERS, SPOT, Atom, has_any


@cache
def sort_of(char: str) -> int:
    if char in NUMBERS:
        return NUMBER
    if char == ITEM:
        return THING
    if char == SPOT:
        return PLACE
    atom = (Atom(char, ""),)
    return next((sort for sort, names in _SORTS if has_any(atom, *names)), WORD)


NUMBER, PLACE, THING, VERB, UNIT, DIMENSION, EMPTY, WORD = range(8)
"""The sorts of atoms; an empty one only leads to another: "on the"."""

_SORTS: tuple[tuple[int, tuple[str, ...]], ...] = (
    (EMPTY, ("ARTICLE", "IN", "AND", "LINK")),
    (UNIT, ("UNIT", "FOOT", "INCH", "HOURWORD", "MINUTE", "METRIC", "OCLOCK", "MONEY")),
    (DIMENSION, ("NAMEDDIMENSION",)),
    (VERB, ("USED", "DELIVER", "RETURN", "SPOIL", "NEED", "START", "STOP")),
    (PLACE, ("COMPASS", "SIDE", "PART")),
)
