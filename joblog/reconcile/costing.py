"""What the consumed material of one job cost: by its layers, the oldest first (`joblog.stock`)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from joblog.model import BookEntry, Layer, Moved
from joblog.stock.account import Account, bought

Layers = tuple[Layer, ...]


@dataclass(frozen=True, slots=True)
class Cost:
    """What so many cost together, exactly."""

    dollars: Fraction | None
    """None where nobody knows what some of it cost."""
    quantity: Fraction
    unpriced: Fraction
    """How many of them nobody told a price of."""


@dataclass(frozen=True, slots=True)
class Brought:
    """What is known to have cost what of one item, of what was not bought on this job."""

    opening: Layers = ()
    by_entry: Mapping[int, Layers] = field(default_factory=dict)


def brought_to(job: str, came: Sequence[Moved]) -> dict[str, Brought]:
    """By item, what came to this job with a cost of its own."""
    opening: dict[str, Layers] = {}
    by_entry: dict[str, dict[int, Layers]] = {}
    for one in came:
        if one.to_job != job:
            continue
        if one.opening:
            opening[one.item] = (*opening.get(one.item, ()), *one.layers)
        for _, number in one.told:
            by_entry.setdefault(one.item, {})[number] = one.layers
    return {
        item: Brought(opening.get(item, ()), by_entry.get(item, {}))
        for item in {*opening, *by_entry}
    }


def consumed_cost(
    opening: Fraction,
    flows: Sequence[tuple[BookEntry, Fraction]],
    on_hand: Fraction,
    brought: Brought,
    planned: Fraction | None,
    paid: Fraction | None,
) -> Cost:
    """What is gone cost, where `on_hand` are left. `flows` as `with_transfers` gives them, each
    with its quantity in the item's own unit: of pieces what they took, of a count what it could not
    find.

    A delivery without a price is taken at the average paid on this job, else at the plan's; what
    was there already, or was brought, and has no price, at the plan's, else at the average paid.
    """
    account = Account()
    if opening:
        account.put(map(bought, _as_many(brought.opening, opening)))
    for kept, quantity in sorted(flows, key=lambda flow: (flow[0].at, flow[0].id)):
        said = kept.entry
        if said.kind == "delivered" and said.from_job is not None:
            layers = _as_many(brought.by_entry.get(kept.id, ()), quantity)
            account.put(map(bought, layers))
        elif said.kind == "delivered":
            each = None
            if said.unit_cost is not None and quantity and said.quantity:
                each = Fraction(said.unit_cost) * said.quantity / quantity
            account.put([bought(Layer(quantity, each, kept.at.date()))])
        elif said.kind == "returned":
            account.take(quantity, newest=said.to_job is None)
        elif said.kind in ("used", "spoiled", "measure", "on_hand"):
            account.consume(quantity)
    account.leave(on_hand)
    dollars: Fraction | None = Fraction(0)
    gone = unpriced = Fraction(0)
    for layer in account.consumed_layers():
        each = layer.each
        if each is None:
            unpriced += layer.quantity
            own = (paid, planned) if layer.day is not None else (planned, paid)
            each = next((one for one in own if one is not None), None)
        gone += layer.quantity
        dollars = None if each is None or dollars is None else dollars + layer.quantity * each
    return Cost(dollars, gone, unpriced)


def _as_many(layers: Layers, quantity: Fraction) -> Layers:
    """The layers, where they add up to what was told; else nobody knows what it cost."""
    fits = sum((layer.quantity for layer in layers), Fraction(0)) == quantity
    return layers if fits else (Layer(quantity, None),)
