"""What to buy: gross and an allowance, less what is on hand, in whole packs, with its cost."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from math import ceil

from joblog.model import (
    Item,
    OrderCosts,
    OrderLine,
    Prediction,
    Wanted,
)
from joblog.ordering.foresee import (
    LEVEL,
    Foreseen,
    Need,
    allowed,
    share_source,
)
from joblog.ordering.wishes import RISK, percent
from joblog.quantity import money

ALLOWANCE = Fraction(1, 20)
"""Of gross, for what cracks, goes missing or is cut wrong, until a rate is learned (common
practice; the waste that stock lengths force is in gross already)."""

NO_RESERVE = (
    "the plan's own allowances are what is expected, without a reserve: about every other item "
    "takes more; with --learned the order is made at a risk that you choose"
)


def order(
    needs: Sequence[Need],
    on_hand: Mapping[str, Fraction] | None = None,
    allowance: Mapping[str, Fraction] | None = None,
    usual_allowance: Fraction | None = None,
    foreseen: Foreseen | None = None,
    *,
    risk: float | None = None,
    costs: OrderCosts | None = None,
) -> tuple[OrderLine, ...]:
    """One line an item, in the order of the needs; each says where its allowance came from.

    `on_hand` is by item name in the item's unit. The allowance is what `allowance` says by item
    name, as a share of gross; else what `foreseen` says, at the risk of running short that is
    asked (`RISK` unless told) or that `costs` balance; else what the plan has; else
    `usual_allowance`, or `ALLOWANCE` where nobody said one. Rounding to packs comes last, upwards.
    Raises ValueError for an amount on hand or an allowance below zero, and as `order_quantity`
    does.
    """
    kept, rates = on_hand or {}, allowance or {}
    named = [*kept.items(), *rates.items(), ("the usual allowance", usual_allowance or Fraction(0))]
    for name, number in named:
        if number < 0:
            raise ValueError(f"{name}: {number} is below zero")
    if risk is None and costs is None:
        risk = RISK
    lines = []
    for need in needs:
        name, there = need.item.name, kept.get(need.item.name, Fraction(0))
        prediction = foreseen.items.get(name) if foreseen else None
        if name in rates:
            lines.append(_line(need, there, need.gross * rates[name], _said(rates[name])))
        elif prediction is not None:
            lines.append(_foreseen_line(need, there, prediction, risk, costs))
        elif need.allowance is not None and usual_allowance is None:
            lines.append(_line(need, there, need.allowance, f"the plan: {need.source}"))
        else:
            share = ALLOWANCE if usual_allowance is None else usual_allowance
            source = _said(share) if usual_allowance is not None else f"{percent(share)} usual"
            lines.append(_line(need, there, need.gross * share, source))
    return tuple(lines)


def _line(need: Need, on_hand: Fraction, allowance: Fraction, source: str) -> OrderLine:
    item = need.item
    needed = need.gross + allowance
    packs = max(0, ceil((needed - on_hand) / item.pack))
    bought = packs * item.pack
    cost = None if item.unit_cost is None else money(bought * Fraction(item.unit_cost))
    return OrderLine(
        item=item.name,
        unit=item.unit,
        net=need.net,
        gross=need.gross,
        rate=allowance / need.gross if need.gross else Fraction(0),
        allowance=allowance,
        needed=needed,
        on_hand=on_hand,
        packs=packs,
        pack=item.pack,
        pack_name=item.pack_name,
        bought=bought,
        unit_cost=item.unit_cost,
        cost=cost,
        source=source,
    )


def _foreseen_line(
    need: Need,
    on_hand: Fraction,
    prediction: Prediction,
    risk: float | None,
    costs: OrderCosts | None,
) -> OrderLine:
    """The line whose allowance reaches the foreseen amount that the risk asks for."""
    from joblog.rates import order_quantity

    chosen = order_quantity(
        prediction,
        need.item.pack,
        risk=risk,
        costs=costs,
        on_hand=on_hand,
        at_least=need.gross,
    )
    supply = on_hand + chosen.quantity
    # Rounding up to an exact number must not ask for a pack more than the risk does.
    extra = min(allowed(chosen.covers, need.gross), max(supply - need.gross, Fraction(0)))
    return replace(
        _line(need, on_hand, extra, share_source(prediction)),
        jobs=prediction.n,
        interval=next(one for one in prediction.intervals if one.level == LEVEL),
        chance_short=chosen.chance_short,
        left_over=chosen.left_over,
    )


def with_wanted(
    lines: Sequence[OrderLine], wanted: Sequence[Wanted], items: Mapping[str, Item]
) -> tuple[tuple[OrderLine, ...], tuple[str, ...]]:
    """The order with what was asked for on the job, and lines on what a person should know of it.

    A line that buys less is raised to what was asked for; an item that has no line gets one. What
    was asked for without an amount is only told.
    """
    by_item = {line.item: line for line in lines}
    notes = []
    for one in wanted:
        if one.note:
            notes.append(f"{one.item}: {one.note}")
        if one.quantity is None:
            if not by_item.get(one.item) or not by_item[one.item].packs:
                notes.append(f"{one.item}: asked for on the job, but nobody said how much")
            continue
        line = by_item.get(one.item)
        if line is not None and line.bought >= one.quantity:
            continue
        item = items.get(one.item) or Item(one.item, one.unit)
        gross = one.quantity if line is None else line.gross
        on_hand = Fraction(0) if line is None else line.on_hand
        need = Need(item, None if line is None else line.net, gross)
        extra = on_hand + one.quantity - gross
        by_item[one.item] = _line(need, on_hand, extra, "asked for on the job")
    return tuple(by_item.values()), tuple(notes)


def _said(share: Fraction) -> str:
    return f"{percent(share)} as said"
