"""A long utterance in pieces that can each be read in little time."""

from __future__ import annotations

from joblog.dictation.grammar import JOINING
from joblog.dictation.words import Marked

LONGEST = 80
"""Words that are read as one; people say some twenty in a breath."""
_SHORTEST = 40
_JOINTS = ("and", "then", "also", "next")
"""Words at which another fact may begin, though nobody paused."""


def pieces_of(marked: Marked) -> list[tuple[Marked, bool]]:
    """The words in pieces of at most `LONGEST`, each with whether it was parted from the next one
    where nobody paused."""
    pieces: list[tuple[Marked, bool]] = []
    at = 0
    while len(marked) - at > LONGEST:
        end, paused = _parting(marked, at)
        pieces.append((marked[at:end], not paused))
        at = end
    return [*pieces, (marked[at:], False)]


def _parting(marked: Marked, at: int) -> tuple[int, bool]:
    """Where the next piece begins, and whether there is a pause: the last one that is near."""
    places = range(at + LONGEST, at + _SHORTEST, -1)
    pause = next((one for one in places if marked[one][1] and marked[one][0] not in JOINING), None)
    if pause is not None:
        return pause, True
    return next((one for one in places if marked[one][0] in _JOINTS), at + LONGEST), False
