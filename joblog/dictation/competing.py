"""What else an utterance could mean: the readings that come next, with the reason of each."""

from __future__ import annotations

import math
from dataclasses import replace

from joblog.dictation.draft import Context
from joblog.dictation.grammar import Stretch
from joblog.dictation.pieces import pieces_of
from joblog.dictation.read import understand
from joblog.dictation.words import marked_words
from joblog.model import Entry, OtherReading, Reading, Vocabulary

FAR = math.log(100)
"""A reading that is a hundred times less likely does not compete."""


def competing(
    text: str, vocabulary: Vocabulary, context: Context | None = None
) -> tuple[OtherReading, ...]:
    """Other readings of `text` that say something else, the nearest first.

    Each comes from taking one stretch of the chosen reading not to mean what it was read as. None
    compete with a text that is too long, or too dense, to be read as one.
    """
    (words, _), *more = pieces_of(marked_words(text))
    understood = None if more else understand(words, vocabulary, context)
    if understood is None:
        return ()
    chosen, stretches, score = understood
    found: dict[tuple[Entry, ...], OtherReading] = {}
    for stretch in stretches:
        refused = (stretch.start, stretch.end, stretch.meaning)
        otherwise = understand(words, vocabulary, context, refused)
        if otherwise is None:
            continue
        other, instead, other_score = otherwise
        worse = score - other_score
        facts = tuple(map(_fact, other.entries))
        only_words = all(entry.kind == "note" for entry in other.entries)
        if worse > FAR or only_words or facts == tuple(map(_fact, chosen.entries)):
            continue
        if facts not in found or worse < found[facts].worse_by:
            why = _why(stretch, instead, other, worse)
            found[facts] = OtherReading(other, why, round(worse, 2))
    return tuple(sorted(found.values(), key=lambda other: other.worse_by))


def _why(stretch: Stretch, instead: list[Stretch], other: Reading, worse: float) -> str:
    others = [_as_what(at) for at in instead if at.start < stretch.end and stretch.start < at.end]
    taken = " and ".join(others) or "no fact"
    left = f"; {other.unread!r} stays unread" if other.unread else ""
    nearly = "as likely" if worse < 0.1 else f"less likely, 1 to {max(2, round(math.exp(worse)))}"
    return f"takes {taken} instead of {_as_what(stretch)}: {nearly}{left}"


def _as_what(stretch: Stretch) -> str:
    return f"{' '.join(atom.words for atom in stretch.atoms)!r} as {stretch.meaning}"


def _fact(entry: Entry) -> Entry:
    """The entry without the words that it only quotes."""
    inner = _fact(entry.replacement) if entry.replacement else None
    return replace(entry, note=None, reason=None, as_said=None, carried=(), replacement=inner)
