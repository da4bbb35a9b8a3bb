"""Which words of a record were not surely heard: a record of hidden work, a problem, a note.

Nothing counts by such words, so that nothing doubts them; but what was covered can be read nowhere
else. Where the hearings differ in a word that tells something, it is shown for a look.
"""

from __future__ import annotations

from collections.abc import Sequence

from joblog.model import UNHEARD, Entry, Hearing, Kind, Utterance

RECORDS: tuple[Kind, ...] = ("covered", "problem", "todo", "extra", "note")
"""Kinds that are words, and are looked at as such."""

SURELY_HEARD = 0.9
"""The general recognizer's confidence in a word of covered work, from which on it needs no backing
by the other. Of the undoubted records of covered work of the open half of the yardstick 17 of 42
have a wrong word, clean and at 10 dB: 55 in 100 are shown for a look, of these six in ten with
reason, and 14 of the 17 are among them. Of other words only those are shown that neither recognizer
backs the other in: 16 in 100 are, seven in ten with reason."""


def unsure_words(entry: Entry, utterance: Utterance) -> tuple[str, ...]:
    """Those of an entry's words that one may have misheard, in their order, each once."""
    if entry.kind not in RECORDS or not entry.note or not utterance.hearings:
        return ()
    words = entry.note.lower().split()
    trade = _confidences(words, utterance, "trade")
    free = _confidences(words, utterance, "general free")
    bound = _confidences(words, utterance, "general constrained")
    least = SURELY_HEARD if entry.kind == "covered" else 0.0
    return tuple(
        dict.fromkeys(
            word
            for at, word in enumerate(words)
            if word not in MINOR
            and (word == UNHEARD or _is_unsure(trade[at], free[at], bound[at], least))
        )
    )


def _is_unsure(trade: float, free: float, bound: float, least: float) -> bool:
    """Whether no recognizer backs the other, nor the general one itself however it listens."""
    if trade:
        return not (free or bound)
    return not (free and bound) or max(free, bound) <= least


def _confidences(words: Sequence[str], utterance: Utterance, name: str) -> list[float]:
    """How sure one hearing is of each word; 0 where it has another in its place."""
    heard = next((one for one in utterance.hearings if one.recognizer == name), None)
    return _aligned(words, heard) if heard is not None else [0.0] * len(words)


def _aligned(words: Sequence[str], heard: Hearing) -> list[float]:
    from rapidfuzz.distance import Levenshtein

    others = [word.text.lower() for word in heard.words] or heard.text.lower().split()
    sure = [word.confidence for word in heard.words] or [heard.confidence] * len(others)
    found = [0.0] * len(words)
    for step in Levenshtein.opcodes(words, others):
        if step.tag == "equal":
            for at in range(step.src_end - step.src_start):
                # 0 is for another word in its place.
                found[step.src_start + at] = max(sure[step.dest_start + at], 0.001)
    return found


MINOR = frozenset(
    """
    a an the and on in at of is are was were be to it its it's that that's with for from up there
    here's we we'll will i this as by my so or him
    """.split()
)
"""Words that tell nothing by themselves; one for another of them changes no record."""
