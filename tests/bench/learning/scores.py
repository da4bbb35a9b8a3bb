"""What the ways to foresee were worth, once the job ahead had been done over and over."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict, dataclass

import numpy as np

from tests.bench.learning.methods import LEFT_OVER, MISSING, Foreseen, Foresight
from tests.bench.learning.trade import Asked, AskedWork, Contractor

LEVELS = (0.5, 0.8, 0.95)


@dataclass(frozen=True)
class Score:
    """Of one contractor's job ahead, over its items or tasks and all draws; None: not foreseen."""

    cost: float
    """Packs for an item: MISSING for each that lacked, LEFT_OVER for each too many."""
    small_cost: float | None
    """The same of items of under 25 pieces net; None where the job has none."""
    new_cost: float | None
    """The same of items never used before."""
    short: float
    """How often the order ran short."""
    covered: tuple[float, ...] | None
    """At each of the LEVELS, told to the half piece as the person tells it (see `_inside`)."""
    printed: tuple[float, ...] | None
    """At each of the LEVELS: what was told lay in the interval as printed, ends included."""
    said: tuple[float, ...] | None
    """At each of the RISKS: the chance of running short that the packs were said to leave."""
    ran_short: tuple[float, ...] | None
    """At each of the RISKS: how often they did."""
    hours_covered: tuple[float, ...] | None
    hours_off: tuple[float, ...]
    """Of each task and draw, to the thousandth: how far off the middle was, by what it took."""


def score(contractor: Contractor, jobs: int, foresight: Foresight) -> Score:
    """What that foresight came to."""
    ahead = contractor.ahead[jobs]
    uses = list(zip(ahead.uses, foresight.uses, strict=True))
    work = list(zip(ahead.work, foresight.work, strict=True))
    costs = [_cost(asked, foreseen.packs) for asked, foreseen in uses]
    small = [
        cost
        for cost, (asked, _) in zip(costs, uses, strict=True)
        if asked.net / asked.goods.unit < 25
    ]
    new = [cost for cost, (asked, _) in zip(costs, uses, strict=True) if asked.seen == 0]
    spread = all(foreseen.amounts is not None for _, foreseen in uses)
    return Score(
        cost=float(np.mean(costs)),
        small_cost=float(np.mean(small)) if small else None,
        new_cost=float(np.mean(new)) if new else None,
        short=float(np.mean([_short(asked, foreseen.packs) for asked, foreseen in uses])),
        covered=_over(_use_inside(*each) for each in uses) if spread else None,
        printed=_over(_printed(asked.counted, foreseen) for asked, foreseen in uses)
        if spread
        else None,
        said=_over(tuple(chance for _, chance in foreseen.at_risk) for _, foreseen in uses)
        if spread
        else None,
        ran_short=_over(
            tuple(_short(asked, packs) for packs, _ in foreseen.at_risk) for asked, foreseen in uses
        )
        if spread
        else None,
        hours_covered=_over(_work_inside(*each) for each in work)
        if all(foreseen.amounts is not None for _, foreseen in work)
        else None,
        hours_off=tuple(
            round(abs(foreseen.middle - took) / took, 3)
            for asked, foreseen in work
            for took in asked.told
        ),
    )


def stored(found: Score) -> dict[str, object]:
    """As kept in a file; hours' errors only by their median, which is what is shown."""
    kept = asdict(found)
    kept["hours_off"] = [round(float(np.median(found.hours_off)), 3)]
    return {key: _short_form(value) for key, value in kept.items()}


def read(kept: dict) -> Score:
    return Score(**{k: tuple(v) if isinstance(v, list) else v for k, v in kept.items()})


def _short_form(value: object) -> object:
    if isinstance(value, (list, tuple)):
        return [round(float(each), 3) for each in value]
    return None if value is None else round(float(value), 3)  # type: ignore[arg-type]


def _cost(asked: Asked, packs: int) -> float:
    needed = np.ceil(np.array(asked.needed) / float(asked.pack) - 1e-9)
    return float(
        np.mean(MISSING * np.maximum(0, needed - packs) + LEFT_OVER * np.maximum(0, packs - needed))
    )


def _short(asked: Asked, packs: int) -> float:
    return float(np.mean(np.array(asked.needed) > packs * float(asked.pack) + 1e-6))


def _use_inside(asked: Asked, foreseen: Foreseen) -> tuple[float, ...]:
    return _inside(asked.counted, foreseen.amounts, float(asked.goods.unit) / 2)


def _work_inside(asked: AskedWork, foreseen: Foreseen) -> tuple[float, ...]:
    return _inside(asked.told, foreseen.amounts, 0.25)


def _inside(told: Sequence[float], amounts: np.ndarray | None, step: float) -> tuple[float, ...]:
    """How much of what was told lies in the middle 50, 80 and 95 % of what was foreseen.

    What is told in steps cannot lie in exactly half of anything, so what is foreseen is told in the
    same steps, and a step counts with the part of it that lies inside: the randomized transform of
    Czado, Gneiting and Held, "Predictive model assessment for count data", Biometrics 2009.
    """
    assert amounts is not None
    steps = np.sort(np.round(amounts / step))
    seen = np.round(np.array(told) / step)
    below = np.searchsorted(steps, seen, "left") / len(steps)
    up_to = np.searchsorted(steps, seen, "right") / len(steps)
    found = []
    for level in LEVELS:
        low, high = 0.5 - level / 2, 0.5 + level / 2
        width = up_to - below
        part = np.clip(np.minimum(up_to, high) - np.maximum(below, low), 0, None)
        at_a_point = ((below >= low) & (below <= high)).astype(float)
        found.append(
            float(np.mean(np.where(width > 0, part / np.where(width > 0, width, 1), at_a_point)))
        )
    return tuple(found)


def _printed(told: Sequence[float], foreseen: Foreseen) -> tuple[float, ...]:
    seen = np.array(told)
    return tuple(
        float(np.mean((seen >= low - 1e-9) & (seen <= high + 1e-9)))
        for low, high in foreseen.intervals
    )


def _over(found) -> tuple[float, ...]:  # type: ignore[no-untyped-def]
    return tuple(float(each) for each in np.mean(list(found), axis=0))
