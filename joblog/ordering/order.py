"""What to buy: gross and an allowance, less what is on hand, in whole packs, with its cost."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING

from joblog.form import units_of
from joblog.local import day_written
from joblog.model import (
    Item,
    Order,
    OrderCosts,
    OrderedLength,
    OrderLine,
    Prediction,
    Wanted,
)
from joblog.ordering.foresee import (
    Foreseen,
    Need,
    allowed,
    most_jobs,
    share_source,
)
from joblog.ordering.lengths import (
    cost_of,
    in_units,
    lengths_of,
    pack_in_units,
    spare_length,
    with_more,
    with_packs,
)
from joblog.ordering.wishes import RISK, percent, stakes_in_words
from joblog.quantity import money
from joblog.reconcile.units import in_unit_of

if TYPE_CHECKING:
    from joblog.rates import Demand

ALLOWANCE = Fraction(1, 20)
"""Of gross, for what cracks, goes missing or is cut wrong, until a rate is learned (common
practice; the waste that stock lengths force is in gross already)."""

COUNTED = "counted one by one, so no extra"

NO_RESERVE = (
    "the plan's own allowances are what is expected, without a reserve: about every other item "
    "takes more; with --learned the order is made at a risk that you choose"
)


@dataclass(frozen=True, slots=True)
class Ordered:
    """Lines of an order, and in words what the choice of all of them rests on."""

    lines: tuple[OrderLine, ...]
    told: tuple[str, ...] = ()


def order(
    needs: Sequence[Need],
    on_hand: Mapping[str, Fraction] | None = None,
    allowance: Mapping[str, Fraction] | None = None,
    usual_allowance: Fraction | None = None,
    foreseen: Foreseen | None = None,
    *,
    risk: float | None = None,
    costs: OrderCosts | None = None,
) -> Ordered:
    """One line an item, in the order of the needs; each says where its allowance came from.

    `on_hand` is by item name in the item's unit. The allowance is what `allowance` says by item
    name, as a share of gross; else what `foreseen` says; else what the plan has; else
    `usual_allowance`, or `ALLOWANCE` where nobody said one. Rounding to packs comes last, upwards.
    What is counted one by one has none unless it was said of it or jobs of its own taught one.
    Lines that are foreseen are chosen together, for a trip is paid once: anything is missing on at
    most `risk` of such jobs (`RISK` unless told), or they cost least by `costs`.
    Raises ValueError for an amount on hand or an allowance below zero, and as `order_together`
    does.
    """
    kept, rates = on_hand or {}, allowance or {}
    named = [*kept.items(), *rates.items(), ("the usual allowance", usual_allowance or Fraction(0))]
    for name, number in named:
        if number < 0:
            raise ValueError(f"{name}: {number} is below zero")
    learned: list[tuple[Need, Prediction]] = []
    if foreseen:
        predicted = ((need, foreseen.items.get(need.item.name)) for need in needs)
        learned = [
            (need, found)
            for need, found in predicted
            if found and need.item.name not in rates and (found.n or not need.counted)
        ]
    chosen, told = _together(learned, kept, foreseen, risk, costs)
    lines = []
    for need in needs:
        name, there = need.item.name, there_of(need, kept)
        if name in rates:
            lines.append(_line(need, there, need.gross * rates[name], _said(rates[name])))
        elif name in chosen:
            lines.append(chosen[name])
        elif need.allowance is not None and usual_allowance is None:
            lines.append(_line(need, there, need.allowance, f"the plan: {need.source}"))
        elif need.counted:
            lines.append(_line(need, there, Fraction(0), COUNTED))
        else:
            share = ALLOWANCE if usual_allowance is None else usual_allowance
            source = _said(share) if usual_allowance is not None else f"{percent(share)} usual"
            lines.append(_line(need, there, need.gross * share, source))
    return Ordered(tuple(lines), (*told, *_without_chance(lines, chosen)))


def _together(
    learned: Sequence[tuple[Need, Prediction]],
    on_hand: Mapping[str, Fraction],
    foreseen: Foreseen | None,
    risk: float | None,
    costs: OrderCosts | None,
) -> tuple[dict[str, OrderLine], tuple[str, ...]]:
    """The lines of what is foreseen, chosen together, and what a person should know of that."""
    if not learned or foreseen is None:
        return {}, ()
    from joblog.rates import order_together

    asked = RISK if risk is None and costs is None else risk
    demands = [_demand(need, prediction, there_of(need, on_hand)) for need, prediction in learned]
    found = order_together(demands, alike=_alike(foreseen), risk=asked, costs=costs)
    lines = {
        need.item.name: _foreseen_line(
            need, there_of(need, on_hand), prediction, demand, chosen, found.chance_any
        )
        for (need, prediction), demand, chosen in zip(learned, demands, found.orders, strict=True)
    }
    told = [stakes_in_words(risk, costs, found.chance_any, found.at_most_saved)]
    unpriced = [need.item.name for need, _ in learned if need.item.unit_cost is None]
    if costs is None and unpriced and len(unpriced) < len(learned):
        told.append(
            f"{', '.join(unpriced)}: without a price, a pack was weighed like those of the others"
        )
    return lines, tuple(told)


def _alike(foreseen: Foreseen) -> float:
    """How much the items of one job turn out alike, as in a bid."""
    from joblog.rates.together import USUAL, together

    return USUAL if foreseen.learned is None else round(together(foreseen.learned)[0], 2)


def there_of(need: Need, on_hand: Mapping[str, Fraction]) -> Fraction:
    """What is on hand of it, with what its cutoffs save, in its own unit."""
    counted = on_hand.get(need.item.name, Fraction(0))
    return counted if need.cut is None else counted - need.cut.whole + need.cut.saved


def _demand(need: Need, prediction: Prediction, on_hand: Fraction) -> Demand:
    """What may be needed, and what more of it is bought in; the sticks of a cut list in several
    lengths are bought in any case."""
    from joblog.rates import Demand

    item, pack, each, there = need.item, need.item.pack, need.item.unit_cost, on_hand
    if need.cut and need.cut.sticks:
        there += in_units(item, lengths_of(item, need.cut, Fraction(0)))
        spare = _spare_of(need, prediction, there)
        pack, each = pack_in_units(item, spare), dict(item.length_costs).get(spare, each)
    price = None if each is None else Fraction(each) * item.pack * (1 + (item.tax or 0))
    return Demand(prediction, pack, there, need.gross, price)


def _spare_of(need: Need, prediction: Prediction, there: Fraction) -> Fraction:
    """The length that a reserve is bought in: the cheapest for what most jobs take."""
    assert need.cut is not None
    most = most_jobs(prediction).high
    return spare_length(need.item, need.cut.longest, Fraction(ceil(most)) - there)


def _without_chance(lines: Sequence[OrderLine], chosen: Mapping[str, OrderLine]) -> Iterator[str]:
    others = [line.item for line in lines if line.item not in chosen]
    if chosen and others:
        yield f"{', '.join(others)}: not in that chance, for no job taught the extra"


def _line(need: Need, on_hand: Fraction, allowance: Fraction, source: str) -> OrderLine:
    item = need.item
    needed = need.gross + allowance
    line = OrderLine(
        item=item.name,
        unit=item.unit,
        net=need.net,
        gross=need.gross,
        rate=allowance / need.gross if need.gross else Fraction(0),
        allowance=allowance,
        needed=needed,
        on_hand=on_hand,
        packs=0,
        pack=item.pack,
        pack_name=item.pack_name,
        bought=Fraction(0),
        unit_cost=item.unit_cost,
        cost=None,
        source=source,
        supplier=item.supplier,
        least_order=item.least_order,
        tax=item.tax,
        cutoffs=need.cut.cutoffs if need.cut else (),
    )
    if need.cut and need.cut.sticks:
        return _in_lengths(line, item, lengths_of(item, need.cut, needed - on_hand))
    return _in_packs(line, max(0, ceil((needed - on_hand) / item.pack)))


def _in_packs(line: OrderLine, packs: int) -> OrderLine:
    bought = packs * line.pack
    cost = None if line.unit_cost is None else money(bought * Fraction(line.unit_cost))
    return replace(line, packs=packs, bought=bought, cost=cost)


def _in_lengths(line: OrderLine, item: Item, lengths: tuple[OrderedLength, ...]) -> OrderLine:
    return replace(
        line,
        packs=sum(one.packs for one in lengths),
        bought=in_units(item, lengths),
        cost=cost_of(lengths),
        lengths=lengths,
    )


def _foreseen_line(
    need: Need,
    on_hand: Fraction,
    prediction: Prediction,
    demand: Demand,
    chosen: Order,
    chance_any: float,
) -> OrderLine:
    """The line whose allowance reaches the foreseen amount that the risk asks for."""
    supply = demand.on_hand + chosen.quantity
    # Rounding up to an exact number must not ask for a pack more than the risk does.
    extra = min(allowed(chosen.covers, need.gross), max(supply - need.gross, Fraction(0)))
    line = replace(
        _line(need, on_hand, extra, share_source(prediction)),
        jobs=prediction.n,
        interval=most_jobs(prediction),
        chance_short=chosen.chance_short,
        left_over=chosen.left_over,
        chance_any=chance_any,
    )
    if not line.lengths or need.cut is None:
        return line
    spare = _spare_of(need, prediction, demand.on_hand)
    cut = lengths_of(need.item, need.cut, Fraction(0))
    return _in_lengths(line, need.item, with_packs(need.item, cut, spare, chosen.packs))


def with_wanted(
    lines: Sequence[OrderLine],
    wanted: Sequence[Wanted],
    items: Mapping[str, Item],
    job: str | None = None,
    on_hand: Mapping[str, Fraction] | None = None,
) -> tuple[tuple[OrderLine, ...], tuple[str, ...]]:
    """The order with what was asked for on open jobs, and lines on what a person should know of it.

    What `job` asked for, whose needs the order is for, is among them: its line is raised where it
    buys less. What another job asked for comes on top. An item that has no line gets one, less what
    is `on_hand` of it. What was asked for without an amount is only told.
    """
    by_item = {line.item: line for line in lines}
    notes = []
    for one in wanted:
        where = f"on {one.job}" if one.job else "on the job"
        if one.note:
            notes.append(f"{one.item}: {where}: {one.note}")
        if one.quantity is None:
            if not by_item.get(one.item) or not by_item[one.item].packs:
                notes.append(f"{one.item}: asked for {where}, but nobody said how much")
            continue
        line = by_item.get(one.item)
        item = items.get(one.item) or Item(one.item, one.unit)
        quantity = in_unit_of(item, one.quantity, one.unit)
        if quantity is None:
            much = units_of(one.quantity, one.unit, one.item)
            notes.append(
                f"{one.item}: {much} asked for {where}, which cannot be put in {item.unit}; it is "
                "not in the order"
            )
            continue
        day = f", {day_written(one.day, year=False)}" if one.day else ""
        why = f"asked for {where}{day}: {units_of(quantity, item.unit, one.item)}"
        if line is None:
            there = (on_hand or {}).get(one.item, Fraction(0))
            new = _line(Need(item, None, quantity), there, Fraction(0), ASKED)
            by_item[one.item] = replace(new, why=(why,))
        else:
            by_item[one.item] = _with(line, item, quantity, why, among=one.job == (job or ""))
    return tuple(by_item.values()), tuple(notes)


def _with(line: OrderLine, item: Item, quantity: Fraction, why: str, *, among: bool) -> OrderLine:
    """The line of an item with so much more of it, or, where it is among what the line is for,
    with at least so much bought."""
    if among and line.bought >= quantity:
        return replace(line, why=(*line.why, why))
    more = line.on_hand + quantity - line.needed if among else quantity
    needed = line.needed + more
    raised = replace(
        line,
        needed=needed,
        asked=line.asked + more,
        # Both were of the packs before.
        chance_short=None,
        left_over=None,
        why=(*line.why, why),
    )
    if line.lengths:
        longest = max(one.length for one in line.lengths)
        lacking = needed - line.on_hand - line.bought
        return _in_lengths(raised, item, with_more(item, line.lengths, lacking, longest))
    return _in_packs(raised, max(0, ceil((needed - line.on_hand) / line.pack)))


ASKED = "asked for on the job"


def _said(share: Fraction) -> str:
    return f"{percent(share)} as said"
