"""Ways to foresee a job ahead: what joblog learned, the plain average, flat ten percent."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

import numpy as np

from joblog.model import OrderCosts, PastUse
from joblog.rates import learn, order_quantity, predict, predict_hours
from tests.bench.learning.trade import Asked, AskedWork, Contractor

MISSING, LEFT_OVER = 4, 1
"""What a pack missing costs against one left over."""

RISKS = (0.3, 0.2, 0.1, 0.05)
"""Chances of running short that are asked for."""


@dataclass(frozen=True)
class Foreseen:
    """What one item of the job ahead will take, and what to order; or the hours of one task."""

    middle: float
    packs: int = 0
    at_risk: tuple[tuple[int, float], ...] = ()
    """At each of the RISKS: packs, and the chance of running short that they are said to leave."""
    amounts: np.ndarray | None = None
    """Equally likely, ascending; None where only a middle is foreseen."""
    intervals: tuple[tuple[float, float], ...] = ()
    """At 50, 80 and 95 %."""


@dataclass(frozen=True)
class Foresight:
    """The job ahead after so many jobs, in the order it was asked in."""

    uses: tuple[Foreseen, ...]
    work: tuple[Foreseen, ...]


Method = Callable[[Contractor, int], Foresight]


def joblog(contractor: Contractor, jobs: int) -> Foresight:
    """What the program says: its own learning, its own orders."""
    learned = learn(contractor.history(jobs), estimate=contractor.estimate)
    costs = OrderCosts(Decimal(MISSING), Decimal(LEFT_OVER))

    def use(asked: Asked) -> Foreseen:
        foreseen = predict(
            learned,
            asked.goods.name,
            asked.net,
            asked.geometric,
            family=asked.goods.family,
            fahrenheit=asked.fahrenheit,
            depth=asked.depth,
            crew=asked.crew,
        )
        at_risk = [order_quantity(foreseen, asked.pack, risk=risk) for risk in RISKS]
        return Foreseen(
            middle=foreseen.median,
            packs=order_quantity(foreseen, asked.pack, costs=costs).packs,
            at_risk=tuple((order.packs, order.chance_short) for order in at_risk),
            amounts=np.array(foreseen.equally_likely),
            intervals=tuple((each.low, each.high) for each in foreseen.intervals),
        )

    def work(asked: AskedWork) -> Foreseen:
        foreseen = predict_hours(
            learned,
            asked.labor.name,
            asked.quantity,
            estimate=asked.labor.planned,
            fahrenheit=asked.fahrenheit,
            depth=asked.depth,
            crew=asked.crew,
        )
        return Foreseen(
            middle=foreseen.median,
            amounts=np.array(foreseen.equally_likely),
            intervals=tuple((each.low, each.high) for each in foreseen.intervals),
        )

    ahead = contractor.ahead[jobs]
    return Foresight(tuple(map(use, ahead.uses)), tuple(map(work, ahead.work)))


def plain_average(contractor: Contractor, jobs: int) -> Foresight:
    """All that went, by all that was needed, of this item; of all items where it is new.

    Where the cut list of the job ahead is known, and earlier ones are, it builds on them.
    Hours by the unit likewise, and as planned where the task is new.
    """
    past = contractor.history(jobs)

    def use(asked: Asked) -> Foreseen:
        own = [use for use in past.uses if use.item == asked.goods.name] or list(past.uses)
        known = [use for use in own if use.geometric is not None]
        if asked.geometric is not None and known:
            return _ordered(asked, (asked.net + asked.geometric) * _share(known))
        return _ordered(asked, asked.net * _share(own, by_net=True))

    def work(asked: AskedWork) -> Foreseen:
        own = [work for work in past.work if work.task == asked.labor.name]
        if not own:
            return Foreseen(float(asked.quantity * asked.labor.planned))
        pace = sum(work.crew_hours for work in own) / sum(work.quantity for work in own)
        return Foreseen(float(asked.quantity * pace))

    ahead = contractor.ahead[jobs]
    return Foresight(tuple(map(use, ahead.uses)), tuple(map(work, ahead.work)))


def flat_ten_percent(contractor: Contractor, jobs: int) -> Foresight:
    """A tenth more than the cut list, or than the net where there is none; hours as planned."""
    ahead = contractor.ahead[jobs]
    return Foresight(
        tuple(
            _ordered(asked, (asked.net + (asked.geometric or 0)) * Fraction(11, 10))
            for asked in ahead.uses
        ),
        tuple(Foreseen(float(asked.quantity * asked.labor.planned)) for asked in ahead.work),
    )


def by_amounts(asked: Asked, amounts: np.ndarray) -> Foreseen:
    """What equally likely amounts say, and the cheapest order by them."""
    amounts = np.sort(amounts)

    def at(risk: float) -> tuple[int, float]:
        packs = math.ceil(float(np.quantile(amounts, 1 - risk)) / float(asked.pack) - 1e-9)
        return packs, float(np.mean(amounts > packs * float(asked.pack)))

    return Foreseen(
        middle=float(np.median(amounts)),
        packs=at(LEFT_OVER / (MISSING + LEFT_OVER))[0],
        at_risk=tuple(at(risk) for risk in RISKS),
        amounts=amounts,
        intervals=middle_intervals(amounts),
    )


def middle_intervals(amounts: np.ndarray) -> tuple[tuple[float, float], ...]:
    """At 50, 80 and 95 %."""
    return tuple(
        (float(low), float(high))
        for low, high in (
            np.quantile(amounts, (0.5 - level / 2, 0.5 + level / 2)) for level in (0.5, 0.8, 0.95)
        )
    )


def _share(uses: list[PastUse], by_net: bool = False) -> Fraction:
    needed = sum(use.net + (0 if by_net else use.geometric or 0) for use in uses)
    return Fraction(sum(use.consumed for use in uses)) / needed


def _ordered(asked: Asked, amount: Fraction) -> Foreseen:
    return Foreseen(middle=float(amount), packs=math.ceil(amount / asked.pack))
