"""Whether a walk around a house is under way, and what its words mean then."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from joblog.dictation.draft import Draft
from joblog.dictation.grammar import NUM, Atom, Stretch, has_any, is_a
from joblog.dictation.numbers import Number
from joblog.model import WALK_KINDS, Entry


def walking(draft: Draft) -> bool:
    """Whether a walk around a house is under way: something only a walk tells stands close by."""
    if any(is_a(atom, "TURN") for atom in draft.atoms):
        return True
    near = (*draft.context.standing[-_NEAR:], *draft.entries)
    return any(_is_of_a_walk(entry.replacement or entry) for entry in near)


_NEAR = 16
"""Entries; two sides with their openings take as many."""


def _is_of_a_walk(entry: Entry) -> bool:
    return entry.kind in WALK_KINDS or entry.top is not None


def is_side(entry: Entry | None) -> bool:
    """Whether it may be how long a side is."""
    return (
        entry is not None
        and entry.kind == "measure"
        and entry.inches is not None
        and entry.inches >= SHORTEST
        and entry.item is None
        and entry.pieces is None
        and entry.dimension in (None, "length")
    )


SHORTEST = 24
"""Inches of a side of a house; common practice: what is shorter is a chase or a chimney."""


def in_feet(entry: Entry) -> bool:
    """Whether its length was said in feet."""
    return any(word in (entry.as_said or "").split() for word in ("feet", "foot", "ft"))


def side_in_feet(draft: Draft, stretch: Stretch, atoms: Sequence[Atom]) -> tuple[bool, str | None]:
    """Whether a bare number is that of a side in feet, as others of the walk were said, and why it
    is unsure: "left side twenty eight", behind "front eave forty two feet, outside corner"."""
    if len(atoms) != 1 or not isinstance(atoms[0].value, Number) or not walking(draft):
        return False, None
    number = atoms[0].value
    place = next((one for one in draft.stretches if one.end == stretch.start), None)
    said_of = [atom for atom in stretch.atoms if atom.words != "next one"]
    if has_any(said_of, "DIMENSION", "ITEM") or number.value > _LONGEST:
        return False, None
    if place is None or place.meaning != "place" or not _names_a_side(place.atoms):
        return False, _FEET if _behind_a_corner(draft) else None
    sure = atoms[0].char == NUM and number.value >= _PLAINLY and _measures_in_feet(draft)
    return True, None if sure else _FEET


_LONGEST = 200
_PLAINLY = 10
"""From so many on, a number of a side is of feet: nobody walks around ten inches."""


def area_in_feet(draft: Draft, sides: tuple[Fraction, Fraction]) -> tuple[bool, str | None]:
    """The same of a ceiling that is told on the way: "porch ceiling eight by six"."""
    named = (draft.place or draft.context.place or "").split()
    if not walking(draft) or "ceiling" not in named or max(sides) > _LONGEST_CEILING:
        return False, _FEET
    return True, None if _measures_in_feet(draft) else _FEET


_LONGEST_CEILING = 60


_FEET = "inches, or feet?"


def _measures_in_feet(draft: Draft) -> bool:
    """Whether a side was said in feet before."""
    told = (*draft.context.standing, *draft.entries)
    return any(is_side(one) and in_feet(one) for one in told)


def follows_a_side(draft: Draft) -> bool:
    """Whether the last thing that was measured is a side, in feet."""
    told = (*draft.context.standing, *draft.entries)
    measured = [one for one in told if one.kind == "measure" and one.dimension in (None, "length")]
    return bool(measured) and is_side(measured[-1]) and in_feet(measured[-1])


def _behind_a_corner(draft: Draft) -> bool:
    """Whether a corner is the last thing that was said, so that a side is likely to come."""
    last = draft.newest() or (draft.context.standing[-1] if draft.context.standing else None)
    return last is not None and (last.replacement or last).kind == "corner"


def _names_a_side(atoms: Sequence[Atom]) -> bool:
    return has_any(atoms, "SIDE", "COMPASS", "SPOT") or any(
        atom.words in ("side", "eave", "gable", "rake", "end", "dormer") for atom in atoms
    )


def of_the_side(draft: Draft, stretch: Stretch) -> bool:
    """Whether a place only says what of the side under way is measured: "wall nine feet high"."""
    named = [atom for atom in stretch.parts["p"] if not is_a(atom, "ARTICLE")]
    held = draft.place or draft.context.place
    return (
        held is not None
        and [atom.words for atom in named] == ["wall"]
        and (walking(draft) or any(is_side(one) for one in _before(draft)))
    )


def _before(draft: Draft) -> tuple[Entry, ...]:
    newest = draft.newest()
    return (newest,) if newest is not None else draft.context.standing[-1:]
