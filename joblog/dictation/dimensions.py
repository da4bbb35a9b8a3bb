"""What a length is of: depth, reveal, "on center", told by the words beside it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import cache
from typing import cast

from joblog.dictation.draft import Draft
from joblog.dictation.grammar import NUMBERS, Atom, Stretch, is_a
from joblog.dictation.language import DIMENSIONS
from joblog.model import Dimension


def dimension_of(draft: Draft, stretch: Stretch, length: Sequence[Atom]) -> Dimension | None:
    """The dimension said of the length whose atoms stand in `stretch`; None where nobody said.

    "Depth fourteen", "fourteen deep", "the gap over the door is six": each word tells of one length
    only, and is marked in `draft.dimensioned`.
    """
    first = next(at for at in range(stretch.start, stretch.end) if draft.atoms[at] is length[0])
    found = _before(draft, stretch, first)
    if found is None:
        found = _behind(draft, stretch, first + len(length))
    if found is None:
        return None
    draft.dimensioned.add(found)
    return _named()[draft.atoms[found].words]


def dimension_called(words: str) -> Dimension | None:
    """The dimension of one length that the words name by themselves: "tall"."""
    return _named().get(words) if words in _BEHIND_ONLY else None


def _before(draft: Draft, stretch: Stretch, first: int) -> int | None:
    for at in range(first - 1, -1, -1):
        atom = draft.atoms[at]
        if atom.char in NUMBERS or at in draft.dimensioned:
            return None
        if atom.words in _named() and (at == first - 1 or atom.words not in _BEHIND_ONLY):
            return at if _tells(draft, stretch, at) else None
        if atom.pause and at < first - 1 and not _of_a_place(draft, at - 1):
            return None
    return None


def _of_a_place(draft: Draft, at: int) -> bool:
    """True for the words of a place, which may stand between: "overhang, north eave, twelve"."""
    return any(
        other.meaning == "place" and other.start <= at < other.end for other in draft.stretches
    ) or (at >= 0 and draft.atoms[at].words in _named())


def _behind(draft: Draft, stretch: Stretch, end: int) -> int | None:
    for at in range(end, len(draft.atoms)):
        atom = draft.atoms[at]
        if atom.char in NUMBERS or (atom.pause and at > end) or is_a(atom, "AND"):
            return None
        if atom.words in _named():
            mine = _tells(draft, stretch, at) and not _leads_on(draft, at, end)
            return at if mine else None
        if atom.pause:
            return None
    return None


def _leads_on(draft: Draft, at: int, end: int) -> bool:
    """True where the word is said of a length that follows: "forty one two, depth fourteen".

    "Forty one long" and "a quarter inch gap" stand behind their length.
    """
    if draft.atoms[at].words in _BEHIND_ONLY:
        return False
    if at == end and not draft.atoms[at].pause and draft.atoms[at - 1].words in _ATTRIBUTIVE:
        return False
    return any(atom.char in NUMBERS for atom in _soon(draft.atoms, at + 1))


def _soon(atoms: Sequence[Atom], at: int) -> Iterator[Atom]:
    """The next word that tells something."""
    for atom in atoms[at:]:
        if not (is_a(atom, "FILLER") or is_a(atom, "ABOUT") or atom.words in _LINKS):
            yield atom
            return


_LINKS = ("is", "at", "of", "was")
_ATTRIBUTIVE = ("inch", "foot")
"""Before a noun: "a one inch reveal"."""
_BEHIND_ONLY = frozenset(("long", "deep", "wide", "tall", "high", "across", "on center"))


def _tells(draft: Draft, stretch: Stretch, at: int) -> bool:
    """Whether the word stands beside the length, and is not a word of a place or another fact."""
    if stretch.start <= at < stretch.end or at in draft.unread:
        return True
    owner = next((other for other in draft.stretches if other.start <= at < other.end), None)
    return owner is not None and owner.meaning in _BESIDE


_BESIDE = ("about it", "subject", "position", "measure")
"""A measure leaves what stands behind it to the next: "forty one two, depth fourteen"."""


@cache
def _named() -> dict[str, Dimension]:
    return {
        phrase.strip(): cast(Dimension, name)
        for name, line in DIMENSIONS.items()
        for phrase in line.split(",")
    }
