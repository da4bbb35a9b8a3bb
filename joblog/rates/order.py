"""How many whole packs to order."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import ceil

import numpy as np

from joblog.model import Order, OrderCosts, Prediction
from joblog.rates.spread import Floats


def order_quantity(
    prediction: Prediction,
    pack: Fraction = Fraction(1),
    *,
    risk: float | None = None,
    costs: OrderCosts | None = None,
    on_hand: Fraction = Fraction(0),
    at_least: Fraction = Fraction(0),
) -> Order:
    """The fewest packs of `pack` units that leave a chance of running short of at most `risk`.

    Without a risk, the one that balances `costs`: with cu for each pack missing and co for each
    left over, short with chance co / (cu + co). That is the newsvendor's critical ratio (Arrow,
    Harris and Marschak, "Optimal inventory policy", 1951; any operations text); in whole packs the
    smallest count that reaches it is exactly the cheapest. Where one trip brings all that is
    missing (`costs.once`), the count with the least expected cost, found by trying every one.
    `on_hand` needs no ordering; `at_least` is there in any case, whatever the risk.

    Raises ValueError for a pack of nothing, a risk outside 0.001 to 0.999, costs that are not
    above zero, and where neither or both of risk and costs are given.
    """
    asked = risk_asked(prediction.name, risk, costs)
    wanted = packs_wanted(prediction, pack, on_hand)
    enough = _enough(wanted.size, asked)
    once = costs is not None and costs.once
    if costs is not None and once:
        packs = _cheapest(wanted, float(costs.second_trip), float(costs.left_over))
        # As near to the newsvendor's amount as these packs allow.
        enough = min(max(enough, int((wanted < packs).sum()) + 1), int((wanted <= packs).sum()))
    else:
        packs = int(wanted[enough - 1])
    packs = max(packs, packs_at_least(pack, on_hand, at_least))
    order = _order(prediction, pack, on_hand, at_least, packs, enough, wanted)
    return order if once else replace(order, risk=asked)


def order_of(
    prediction: Prediction,
    pack: Fraction,
    packs: int,
    asked: float,
    *,
    on_hand: Fraction = Fraction(0),
    at_least: Fraction = Fraction(0),
) -> Order:
    """An order of so many packs, chosen otherwise. Its `covers` is the amount that a risk of
    `asked` asks for, or the nearest that these packs are for."""
    wanted = packs_wanted(prediction, pack, on_hand)
    enough = _enough(wanted.size, asked)
    if packs > packs_at_least(pack, on_hand, at_least):
        enough = max(enough, int((wanted < packs).sum()) + 1)
    enough = min(enough, int((wanted <= packs).sum()))
    return _order(prediction, pack, on_hand, at_least, packs, max(enough, 1), wanted)


def packs_wanted(prediction: Prediction, pack: Fraction, on_hand: Fraction) -> Floats:
    """Whole packs for each of the equally likely amounts, ascending. Raises ValueError for a pack
    of nothing, and for less than nothing on hand."""
    if pack <= 0 or on_hand < 0:
        raise ValueError(f"{prediction.name}: a pack must hold something; on hand not below zero")
    amounts = np.array(prediction.equally_likely)
    packs = np.ceil((amounts - float(on_hand)) / float(pack) - _ROUNDING)
    return np.asarray(packs.clip(min=0))


def packs_at_least(pack: Fraction, on_hand: Fraction, at_least: Fraction) -> int:
    """The packs that `at_least` takes in any case."""
    return max(0, ceil((at_least - on_hand) / pack))


def expected_left(wanted: Floats, counts: Floats) -> Floats:
    """Packs left over on average, of so many bought; `wanted` ascending."""
    enough = np.searchsorted(wanted, counts, side="right")
    used = np.concatenate(([0.0], np.cumsum(wanted)))[enough]
    return np.asarray((counts * enough - used) / wanted.size)


def _enough(size: int, asked: float) -> int:
    """How many of so many amounts must be covered."""
    # As many amounts may go short as the risk allows, to the last place of the share that they are.
    lacking = int(asked * size + _ROUNDING)
    return size - lacking + (lacking / size > asked)


def _order(
    prediction: Prediction,
    pack: Fraction,
    on_hand: Fraction,
    at_least: Fraction,
    packs: int,
    enough: int,
    wanted: Floats,
) -> Order:
    amounts = np.array(prediction.equally_likely)
    short = float((wanted > packs).mean())
    supply = float(on_hand + packs * pack)
    return Order(
        item=prediction.name,
        packs=packs,
        quantity=packs * pack,
        risk=short,
        chance_short=short,
        left_over=float(np.maximum(supply - amounts, 0).mean()),
        source=prediction.source,
        covers=float(max(amounts[enough - 1], float(at_least))),
    )


def _cheapest(wanted: Floats, trip: float, left_over: float) -> int:
    """The count of packs that costs least when one trip brings all that is missing."""
    counts = np.unique(wanted)
    short = 1 - np.searchsorted(wanted, counts, side="right") / wanted.size
    return int(counts[np.argmin(trip * short + left_over * expected_left(wanted, counts))])


_ROUNDING = 1e-9


def risk_asked(name: str, risk: float | None, costs: OrderCosts | None) -> float:
    """The chance of running short that is asked for, or that balances the costs of one item."""
    if (risk is None) == (costs is None):
        raise ValueError(f"{name}: give either the risk of running short, or what mistakes cost")
    if costs is not None:
        if costs.second_trip <= 0 or costs.left_over <= 0:
            raise ValueError(f"{name}: a second trip and a pack left over must cost something")
        risk = float(costs.left_over / (costs.second_trip + costs.left_over))
        return min(max(risk, 0.001), 0.999)
    if risk is None or not 0.001 <= risk <= 0.999:
        raise ValueError(f"{name}: the risk of running short must lie between 0.001 and 0.999")
    return risk
