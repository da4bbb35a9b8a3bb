"""Below which confidence to ask, so that no more than was promised is wrong without a question."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

PROMISE = Fraction(1, 200)
"""Entries that may be wrong without a question, of all that are heard."""
LEAST = 0.5
"""Whatever his decisions say, what is likelier wrong than right is asked about."""


@dataclass(frozen=True, slots=True)
class Strangers:
    """Decisions on voices that he is not, judged by the weights that come with joblog."""

    entries: int
    """How many there are."""
    voices: int
    wrong: tuple[float, ...]
    """How sure joblog was of each wrong one that its words alone would not have it ask about."""


@dataclass(frozen=True, slots=True)
class Interval:
    """How many of how many, and where the share lies with 95 %."""

    found: int
    count: int
    low: float
    high: float

    @property
    def share(self) -> float:
        return self.found / self.count if self.count else 0.0


def threshold(
    wrong: Iterable[tuple[float, float]],
    count: float,
    strangers: Strangers,
    promise: Fraction = PROMISE,
) -> float:
    """The least confidence at which not to ask; infinite where the promise leaves no other way.

    `wrong` are his wrong entries, each how sure joblog was and how many it stands for, `count` all
    of his entries.

    Conformal risk control (Angelopoulos, Bates, Fisch, Lei and Schuster 2022, arXiv 2208.02814,
    theorem 1): for losses L_i(t) from 0 to B that do not grow with t, t = inf {t: n/(n+1) mean
    L_i(t) + B/(n+1) <= a} has E L_{n+1}(t) <= a, where the next entry and those before may be
    exchanged. Here L_i(t) is 1 for an entry that is wrong and surer than t, and B is 1. It takes
    1/a - 1 entries before that can hold at all. Until he has `enough`, strangers fill up, each with
    the same weight, at most 1; with weights w_i it is (sum w_i L_i(t) + B) / (sum w_i + 1) <= a,
    and then E L <= a + the sum of w_i / (sum w + 1) times the distance in variation between i and
    him (after Barber, Candes, Ramdas and Tibshirani 2023): the promise is kept but for the
    strangers' share times how differently he is heard. With `enough` of his own it rests on him
    alone.

    What does not hold quite: he is scored with weights learned from his other decisions, not from
    none of them, and changes with cold, mask and microphone; so the promise is also shown with what
    came of it.
    """
    filled = min(float(strangers.entries), max(0.0, enough(promise) - count))
    each = filled / max(1, strangers.entries)
    losses = [*wrong, *((sure, each) for sure in strangers.wrong if each)]
    allowed = float(promise) * (count + filled + 1) - 1
    if allowed < 0:
        return math.inf
    lost = 0.0
    for sure, weight in sorted(losses, reverse=True):
        lost += weight
        if lost > allowed * (1 + 1e-12):
            # Not to be asked about an entry it must be surer than this one.
            return max(LEAST, math.nextafter(sure, math.inf))
    return LEAST


def enough(promise: Fraction) -> int:
    """How many decisions the promise rests on: eight times the least at which it could hold, so
    that no more than an eighth of it goes into their being few."""
    return math.ceil(8 / promise)


def interval(found: int, count: int) -> Interval:
    """A share with its exact interval (Clopper and Pearson 1934)."""
    from scipy.special import betaincinv

    low = betaincinv(found, count - found + 1, 0.025) if found else 0.0
    high = betaincinv(found + 1, count - found, 0.975) if found < count else 1.0
    return Interval(found, count, float(low), float(high))


def folds(groups: Sequence[int], count: int) -> list[int]:
    """Which part each decision is in, what was said together in one part, the parts about alike."""
    parts = {group: at % count for at, group in enumerate(dict.fromkeys(groups))}
    return [parts[group] for group in groups]
