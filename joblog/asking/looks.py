"""Which words of a record were not surely heard: a record of hidden work, a problem, a note.

Nothing counts by such words, so that nothing doubts them; but what was covered can be read nowhere
else. Where the hearings differ in a word that tells something, it is shown for a look.
"""

from __future__ import annotations

from collections.abc import Sequence

from joblog.model import UNHEARD, Entry, Hearing, Kind

RECORDS: tuple[Kind, ...] = ("covered", "problem", "todo", "extra", "note")
"""Kinds that are words, and are looked at as such."""

SURELY_HEARD = 0.9
"""The general recognizer's confidence in a word of covered work, from which on it needs no backing
by the other. Of the undoubted records of covered work of the open half of the yardstick 17 of 42
have a wrong word, clean and at 10 dB: 55 in 100 are shown for a look, of these six in ten with
reason, and 14 of the 17 are among them. Of other words only those are shown that neither recognizer
backs the other in: 16 in 100 are, seven in ten with reason."""


def unsure_words(entry: Entry, hearings: Sequence[Hearing]) -> tuple[str, ...]:
    """Those of an entry's words that one may have misheard, in their order, each once."""
    if entry.kind not in RECORDS or not entry.note or not hearings:
        return ()
    words = entry.note.lower().split()
    trade, general = (_confidences(words, hearings, name) for name in ("trade", "general"))
    if not (trade and general):
        return ()  # There is nothing to hold it against, and all of it is doubted for that.
    least = SURELY_HEARD if entry.kind == "covered" else 0.0
    return tuple(
        dict.fromkeys(
            word
            for at, word in enumerate(words)
            if word not in MINOR
            and (
                word == UNHEARD
                or _is_unsure([one[at] for one in trade], [one[at] for one in general], least)
            )
        )
    )


def _is_unsure(trade: Sequence[float], general: Sequence[float], least: float) -> bool:
    """Whether no recognizer backs the other, nor the general one itself however it listens."""
    if any(trade):
        return not any(general)
    return not all(general) or max(general) <= least


def _confidences(
    words: Sequence[str], hearings: Sequence[Hearing], family: str
) -> list[list[float]]:
    """How sure each hearing of a recognizer is of each word; 0 where it has another there."""
    return [
        _aligned(words, one) for one in hearings if one.recognizer.split()[0] == family and one.text
    ]


def _aligned(words: Sequence[str], heard: Hearing) -> list[float]:
    others = [word.text.lower() for word in heard.words] or heard.text.lower().split()
    sure = [word.confidence for word in heard.words] or [heard.confidence] * len(others)
    if others == words:
        return [max(one, BACKED) for one in sure]
    from rapidfuzz.distance import Levenshtein

    found = [0.0] * len(words)
    for step in Levenshtein.opcodes(words, others):
        if step.tag == "equal":
            for at in range(step.src_end - step.src_start):
                found[step.src_start + at] = max(sure[step.dest_start + at], BACKED)
    return found


BACKED = 0.001
"""The least for a word that was heard; 0 is for another one in its place."""


MINOR = frozenset(
    """
    a an the and on in at of is are was were be to it its it's that that's with for from up there
    here's we we'll will i this as by my so or him
    """.split()
)
"""Words that tell nothing by themselves; one for another of them changes no record."""
