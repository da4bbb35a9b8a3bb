"""Why a job differs from its plan: parts in quantity and in money that add up exactly.

Sources: Warren and others, Accounting, on direct materials and direct labor variances, and any
managerial accounting text: price (AP - SP) x AQ, quantity (AQ - SQ) x SP, rate (AR - SR) x AH,
efficiency (AH - SH) x SR, with SQ and SH those allowed for the actual output. Here the quantity
variance is parted further, by what the balance knows.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from decimal import Decimal
from fractions import Fraction
from typing import TypeVar

from joblog.model import LaborVariance, MoneyVariance, PlannedItem, QuantityVariance
from joblog.quantity import money
from joblog.reconcile.allowed import PIECES, Allowed, parted


def quantity_variance(
    line: PlannedItem | None,
    allowed: Allowed | None,
    placed: Fraction,
    offcut: Fraction,
    spoiled: Fraction,
    unaccounted: Fraction | None,
) -> QuantityVariance:
    """Consumed less planned, in parts; an item that is not planned was planned as nothing.

    The work itself is what is allowed for the output that was made, less the plan's (a flexible
    budget against a static one); usage is what was placed on it, less that. Where not all pieces
    are known that were cut, what was placed holds its offcuts, and is held against net and offcuts
    together. All of what nobody planned nor measured is work.
    """
    none = Fraction(0)
    net, planned_offcut, allowance = parted(line) if line else (none, none, none)
    geometric = none
    if allowed is not None and allowed.by == PIECES:
        scope, usage = allowed.net - net, placed - allowed.net
        geometric = offcut - planned_offcut
    elif allowed is not None:
        flexed, held = allowed.net + allowed.offcut, placed + offcut
        scope, usage = flexed - net - planned_offcut, held - flexed
    else:
        scope, usage = placed - net - planned_offcut, none
        geometric = offcut
    handling = spoiled - allowance
    total = None
    if unaccounted is not None:
        total = scope + usage + geometric + handling + unaccounted
    return QuantityVariance(scope, geometric, handling, unaccounted, total, usage)


def money_variance(
    variance: QuantityVariance,
    consumed: Fraction | None,
    is_planned: bool,
    planned_price: Fraction | None,
    price: Fraction | None,
) -> MoneyVariance | None:
    """The parts at the planned price and the difference in price; None where no price is known.

    An item that is not planned has no planned price: its parts stand at the price paid. The parts
    are rounded so that they add up to the rounded total, real less planned cost, to the cent.
    """
    standard = planned_price if is_planned else price
    if standard is None or price is None:
        return None
    parts = (variance.scope, variance.usage, variance.offcut, variance.handling)
    exact = [part * standard for part in parts]
    if consumed is None or variance.unaccounted is None or variance.total is None:
        scope, usage, offcut, handling = map(money, exact)
        return MoneyVariance(scope, offcut, handling, None, None, None, usage)
    planned = consumed - variance.total
    total = money(consumed * price) - money(planned * standard)
    exact += [variance.unaccounted * standard, (price - standard) * consumed]
    scope, usage, offcut, handling, unaccounted, paid = shared_out(exact, total)
    return MoneyVariance(scope, offcut, handling, unaccounted, paid, total, usage)


def labor_variance(
    planned: Fraction,
    allowed: Fraction | None,
    actual: Fraction,
    standard_rate: Fraction | None,
    cost: Fraction | None,
) -> LaborVariance:
    """Of one task: crew hours planned, allowed for what was done, and worked; `cost` is what the
    worked hours cost, exactly. Money only where both the planned rate and the cost are known; work
    and pace only where it is known what is allowed."""
    known = allowed is not None
    # Their sum is known even where nobody knows how it parts.
    scope = planned if allowed is None else allowed
    hours = (scope - planned, actual - scope, actual - planned)
    shown = (hours[0] if known else None, hours[1] if known else None, hours[2])
    if standard_rate is None or cost is None:
        return LaborVariance(*shown)
    total = money(cost) - money(planned * standard_rate)
    parts = [hours[0] * standard_rate, hours[1] * standard_rate, cost - actual * standard_rate]
    work, pace, rate = shared_out(parts, total)
    return LaborVariance(*shown, work if known else None, pace if known else None, rate, total)


def material_sum(variances: Iterable[MoneyVariance]) -> MoneyVariance | None:
    """The sum of variances that are known in all their parts; None of none."""
    every = tuple(variances)
    if not every:
        return None
    nothing = Decimal("0.00")
    return MoneyVariance(
        scope=sum((one.scope for one in every), nothing),
        offcut=sum((one.offcut for one in every), nothing),
        handling=sum((one.handling for one in every), nothing),
        unaccounted=sum((one.unaccounted or nothing for one in every), nothing),
        price=sum((one.price or nothing for one in every), nothing),
        total=sum((one.total or nothing for one in every), nothing),
        usage=sum((one.usage for one in every), nothing),
    )


def labor_sum(variances: Sequence[LaborVariance]) -> LaborVariance | None:
    """Hours of all, money of those that have it; None of none. Work and pace are known together
    where they are of each."""
    if not variances:
        return None
    none, nothing = Fraction(0), Decimal("0.00")
    hours = (
        _known(none, [one.scope_hours for one in variances]),
        _known(none, [one.efficiency_hours for one in variances]),
        sum((one.hours for one in variances), none),
    )
    priced = [one for one in variances if one.total is not None]
    if not priced:
        return LaborVariance(*hours)
    return LaborVariance(
        *hours,
        _known(nothing, [one.scope for one in priced]),
        _known(nothing, [one.efficiency for one in priced]),
        sum((one.rate or nothing for one in priced), nothing),
        sum((one.total or nothing for one in priced), nothing),
    )


Sum = TypeVar("Sum", Fraction, Decimal)


def _known(begin: Sum, parts: Sequence[Sum | None]) -> Sum | None:
    """The sum; None where one of them is not known."""
    total = begin
    for part in parts:
        if part is None:
            return None
        total += part
    return total


def shared_out(parts: Sequence[Fraction], total: Decimal) -> list[Decimal]:
    """Exact amounts rounded to cents that add up to `total`, by the largest remainders.

    Each is at most a cent from its exact amount, where `total` is within a cent of their sum.
    """
    split = [divmod(part.numerator * 100, part.denominator) for part in parts]
    floors = [floor for floor, _ in split]
    missing = int(total * 100) - sum(floors)
    if missing:
        rests = [
            Fraction(rest, part.denominator) for (_, rest), part in zip(split, parts, strict=True)
        ]
        by_rest = sorted(range(len(parts)), key=lambda at: -rests[at])
        for at in by_rest[: max(0, missing)]:
            floors[at] += 1
        floors[by_rest[0]] += max(0, missing - len(parts)) + min(0, missing)
    return [Decimal(cents).scaleb(-2) for cents in floors]
