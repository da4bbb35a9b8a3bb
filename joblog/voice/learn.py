"""What decisions teach: how he is heard, what is mixed up, and below which confidence to ask."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

import numpy as np

from joblog.dictation import SHIPPED, Judgement
from joblog.voice.bayes import posterior
from joblog.voice.decisions import Decision
from joblog.voice.promise import PROMISE, Strangers, enough, folds, interval, threshold
from joblog.voice.promise import Interval as Interval
from joblog.voice.strangers import STRANGERS


@dataclass(frozen=True, slots=True)
class Voice:
    """What is known of a voice."""

    judgement: Judgement
    decisions: int
    promise: Fraction
    own: float
    """Share of what the threshold rests on that is his own, 0 to 1; the rest are strangers."""
    asks: Interval | None
    """Of his entries, those that would be asked about now; None without any."""
    asked_before: Interval | None
    """The same by the judgement that comes with joblog."""
    silent: Interval | None
    """Of his entries, those that were wrong and not asked about then, as far as he found them."""
    mixed_up: tuple[tuple[str, str, int], ...]
    """Heard, said, how often; the most frequent first."""


def learned(
    decisions: Sequence[Decision],
    promise: Fraction = PROMISE,
    strangers: Strangers = STRANGERS,
) -> Voice:
    """What these decisions teach. Without any, only the promise moves the threshold."""
    taught = _taught(decisions)
    count = math.fsum(one.share for one in decisions)
    wrong = [
        (sure, one.share)
        for sure, one in zip(_left_out(decisions), decisions, strict=True)
        if not one.right and not one.anyway
    ]
    below = threshold(wrong, count, strangers, promise)
    judgement = replace(taught, asks_below=below)
    at_first = replace(SHIPPED, asks_below=threshold((), 0, strangers, promise))
    return Voice(
        judgement,
        len(decisions),
        promise,
        min(1.0, count / enough(promise)),
        _asks(decisions, judgement),
        _asks(decisions, at_first),
        _silent(decisions),
        tuple((*pair, often) for pair, often in _pairs(decisions).most_common()),
    )


FOLDS = 5
TWICE = 2
"""Mixed up once is chance."""
HEARINGS = 20.0
"""How many hearings of a word the belief is worth that it is heard like any other."""


def _taught(decisions: Sequence[Decision]) -> Judgement:
    if not decisions:
        return SHIPPED
    words = replace(SHIPPED, mixed_up=_off(decisions))
    found = posterior(
        SHIPPED.weights,
        np.array([one.signs for one in decisions]),
        np.array([float(one.right) for one in decisions]),
        np.array([words.off(one.words) for one in decisions]),
    )
    return replace(words, weights=found.mean)


def _left_out(decisions: Sequence[Decision]) -> list[float]:
    """How sure one would be of each by what the others teach."""
    parts = folds([one.together for one in decisions], FOLDS)
    taught = [
        _taught([one for one, part in zip(decisions, parts, strict=True) if part != left])
        if left in parts
        else SHIPPED
        for left in range(FOLDS)
    ]
    return [
        taught[part].sureness(one.signs, one.words)
        for one, part in zip(decisions, parts, strict=True)
    ]


def _pairs(decisions: Sequence[Decision]) -> Counter[tuple[str, str]]:
    return Counter(pair for one in decisions for pair in one.meant)


def _off(decisions: Sequence[Decision]) -> tuple[tuple[str, float], ...]:
    """What each word that is mixed up takes off the log-odds of an entry that it was heard in.

    A Dirichlet prior over what he says where a word is heard: `HEARINGS` of it, of which as many
    are right as of all his words. It only ever takes off: a word that is always right is no reason
    to ask less.
    """
    heard = Counter(word for one in decisions for word in one.words)
    wrong = Counter(word for one in decisions for word, _ in one.meant)
    usual = (sum(heard.values()) - sum(wrong.values()) + 1) / (sum(heard.values()) + 2)
    found = []
    for word, often in wrong.items():
        least = max(heard[word], often)
        right = (HEARINGS * usual + least - often) / (HEARINGS + least)
        off = math.log(usual / (1 - usual)) - math.log(right / (1 - right))
        if often >= TWICE and off > 0:
            found.append((word, off))
    return tuple(sorted(found))


def _asks(decisions: Sequence[Decision], judgement: Judgement) -> Interval | None:
    """Over all of his entries: what he let pass is not forgotten for what was asked about."""
    weighed = [
        (
            one.stands_for,
            one.anyway or judgement.sureness(one.signs, one.words) < judgement.asks_below,
        )
        for one in decisions
    ]
    count = sum(weight for weight, _ in weighed)
    return interval(sum(weight for weight, asks in weighed if asks), count) if count else None


def _silent(decisions: Sequence[Decision]) -> Interval | None:
    count = sum(one.stands_for for one in decisions)
    found = sum(not one.right and not one.asked for one in decisions)
    return interval(found, count) if count else None
