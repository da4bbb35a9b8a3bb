"""A bid from its basis and the numbers that a person says; every sum to the cent.

Overhead is a share of the cost, or a sum. The margin is a share of the price, not of the cost:
price = all cost / (1 - margin). A markup is a share of the cost: price = all cost x (1 + markup),
so that markup = margin / (1 - margin); a margin of 20 % is a markup of 25 % (any text on retail or
construction accounting). Tax is a share of the price, or of the part of the price that is for
material, which goes by its share of the cost. Halves of a cent go to the even one, and a line that
is rounded is rounded once: every sum is a sum of the lines that are shown.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from math import ceil

from joblog.bid.said import GENERAL, Said, value
from joblog.model import (
    Bid,
    BidBasis,
    BidBeside,
    BidExtra,
    BidFoot,
    BidGround,
    BidItem,
    BidPart,
    BidPlace,
    BidTask,
    PlannedItem,
    PlannedTask,
)
from joblog.quantity import money

NOTHING = Decimal("0.00")


def work_out(job: str, day: date, basis: BidBasis, said: Said = ()) -> Bid:
    """The bid, whole. `said` is as `with_said` gives it.

    Raises ValueError, with a plain line, where the numbers that were said cannot all be.
    """
    from joblog.bid.chances import chances_of

    told = dict(said)
    parts = basis.parts or (BidPart("", ""),)
    items = tuple(
        _item(line, ground, told, parts)
        for line, ground in zip(basis.plan.items, basis.items, strict=True)
    )
    tasks = tuple(
        _task(line, ground, told, parts)
        for line, ground in zip(basis.plan.tasks, basis.tasks, strict=True)
    )
    beside = (*_other_hours(basis, told, tasks), *_beside(told))
    extras = tuple(_extras(told))
    material, labor, besides = (
        _sum(line.cost for line in lines) for lines in (items, tasks, beside)
    )
    cost = material + labor + besides
    overhead_share, overhead = _overhead(value(told, "overhead"), cost)
    all_cost = cost + overhead
    taken = _sum(extra.price for extra in extras if extra.taken)
    margin, rounding = _margin(told, all_cost, taken)
    own = all_cost + margin + rounding
    price = own + taken
    tax_share: Fraction = value(told, "tax") or Fraction(0)
    on_all = value(told, "tax on") != "material"
    taxed = price if on_all else money(_share(material, cost) * Fraction(own))
    tax = money(Fraction(taxed) * tax_share)
    bid = Bid(
        job=job,
        day=day,
        basis=basis,
        said=said,
        items=items,
        tasks=tasks,
        beside=beside,
        extras=extras,
        material=material,
        labor=labor,
        besides=besides,
        cost=cost,
        overhead=overhead,
        overhead_share=overhead_share,
        all_cost=all_cost,
        margin=margin,
        margin_share=_share(own - all_cost, own),
        markup_share=_share(own - all_cost, all_cost) if all_cost else None,
        rounding=rounding,
        taken=taken,
        price=price,
        tax=tax,
        tax_share=tax_share,
        tax_on="nothing" if not tax_share else "all" if on_all else "material",
        total=price + tax,
        hours=sum((task.hours for task in tasks), Fraction(0)),
        places=_places(items, tasks, parts, own),
        feet=_feet(items, tasks, parts, own),
        chances=None,
        valid_until=_until(value(told, "valid"), day),
        mile_rate=value(told, "mile rate"),
        left_out=value(told, "not included") or (),
        lacks=tuple(_lacks(items, tasks, beside)),
    )
    return replace(bid, chances=chances_of(bid))


def names_of(basis: BidBasis) -> tuple[str, ...]:
    """The lines whose numbers can be said."""
    names = (
        *(line.item.name for line in basis.plan.items),
        *(line.task.name for line in basis.plan.tasks),
    )
    return tuple(dict.fromkeys(names))


def parted(amount: Decimal, shares: Sequence[Fraction]) -> tuple[Decimal, ...]:
    """An amount of whole cents parted by these weights, exactly: the parts add up to it.

    A cent that is left goes to the part that lost most by rounding down, the first of equal ones.
    With no weight above zero all of it goes to the first.
    """
    whole = sum(shares, Fraction(0))
    weights = list(shares) if whole else [Fraction(1), *([Fraction(0)] * (len(shares) - 1))]
    whole = whole or Fraction(1)
    cents = int(amount * 100)
    exact = [cents * weight / whole for weight in weights]
    down = [part.numerator // part.denominator for part in exact]
    by_loss = sorted(range(len(down)), key=lambda at: down[at] - exact[at])
    for at in by_loss[: cents - sum(down)]:
        down[at] += 1
    return tuple(Decimal(part).scaleb(-2) for part in down)


# --- lines --------------------------------------------------------------------------------------


def _item(
    line: PlannedItem, ground: BidGround, told: Mapping[str, str], parts: Sequence[BidPart]
) -> BidItem:
    item, name = line.item, line.item.name
    said = {number: value(told, f"{name}.{number}") for number in _OF_ITEM}
    gross = line.quantity if line.net is None else line.net + line.offcut
    quantity, source = line.quantity, line.source
    if said["quantity"] is not None:
        quantity, source = said["quantity"], ""
    elif said["waste"] is not None:
        amount, of_gross = said["waste"]
        quantity, source = gross + (gross * amount if of_gross else amount), ""
    packs = max(0, ceil(quantity / item.pack))
    whole = value(told, "packs") if said["packs"] is None else said["packs"]
    charged = packs * item.pack if whole else quantity
    price = line.unit_cost if said["price"] is None else said["price"]
    cost = None if price is None else money(charged * Fraction(price))
    return BidItem(
        name=name,
        unit=item.unit,
        net=line.net,
        offcut=line.offcut if line.net is not None else Fraction(0),
        waste=quantity - gross,
        quantity=quantity,
        packs=packs,
        pack=item.pack,
        pack_name=item.pack_name,
        whole=bool(whole),
        charged=charged,
        price=price,
        cost=cost,
        source=source,
        price_source="" if said["price"] is not None else ground.price_source,
        priced=None if said["price"] is not None else ground.priced,
        changed=tuple(number for number in _OF_ITEM if said[number] is not None),
        by_part=_by_part(cost, ground, parts),
    )


_OF_ITEM = ("price", "quantity", "waste", "packs")


def _task(
    line: PlannedTask, ground: BidGround, told: Mapping[str, str], parts: Sequence[BidPart]
) -> BidTask:
    name = line.task.name
    said = {number: value(told, f"{name}.{number}") for number in _OF_TASK}
    todo = line.quantity if said["amount"] is None else said["amount"]
    hours, source = line.hours, line.source
    if said["amount"] is not None and line.quantity:
        hours = hours * said["amount"] / line.quantity
    if said["hours"] is not None:
        hours, source = said["hours"], ""
    elif said["pace"] is not None:
        if todo is None:
            raise ValueError(f"{name}.pace: nobody says how much of it there is; say its hours")
        hours, source = todo / said["pace"], ""
    usual = value(told, "hourly cost")
    hourly = line.hourly_cost if usual is None else usual
    if said["hourly cost"] is not None:
        hourly = said["hourly cost"]
    cost = None if hourly is None else money(hours * Fraction(hourly))
    return BidTask(
        name=name,
        unit=line.task.unit,
        amount=todo,
        hours=hours,
        hourly_cost=hourly,
        cost=cost,
        source=source,
        changed=tuple(number for number in _OF_TASK if said[number] is not None),
        by_part=_by_part(cost, ground, parts),
    )


_OF_TASK = ("amount", "hours", "pace", "hourly cost")


def _by_part(
    cost: Decimal | None, ground: BidGround, parts: Sequence[BidPart]
) -> tuple[Decimal, ...]:
    return parted(cost or NOTHING, ground.shares or (Fraction(0),) * len(parts))


OTHER_HOURS = "other hours"


def _other_hours(
    basis: BidBasis, told: Mapping[str, str], tasks: Sequence[BidTask]
) -> Iterator[BidBeside]:
    """Hours around the work, to the quarter; they cost what was said, or what a task does."""
    on_tasks = sum((task.hours for task in tasks), Fraction(0))
    hours = value(told, OTHER_HOURS)
    if hours is None:
        hours = Fraction(round(4 * on_tasks * basis.other_share), 4)
    if not hours:
        return
    hourly = value(told, "hourly cost")
    rate = None if hourly is None else Fraction(hourly)
    if rate is None and on_tasks and all(task.cost is not None for task in tasks):
        rate = Fraction(_sum(task.cost for task in tasks)) / on_tasks
    yield BidBeside(OTHER_HOURS, None if rate is None else money(hours * rate), hours=hours)


def _beside(told: Mapping[str, str]) -> Iterator[BidBeside]:
    for name in told:
        kind, _, own = name.partition(".")
        if kind == "expense" and own:
            yield BidBeside(own, value(told, name))
    miles, rate = value(told, "miles"), value(told, "mile rate")
    if miles:
        yield BidBeside("driving", None if rate is None else money(miles * Fraction(rate)), miles)


def _extras(told: Mapping[str, str]) -> Iterator[BidExtra]:
    for name in told:
        kind, _, own = name.partition(".")
        if kind == "extra" and own:
            price, taken = value(told, name)
            yield BidExtra(own, price, taken)


def _lacks(
    items: Sequence[BidItem], tasks: Sequence[BidTask], beside: Sequence[BidBeside]
) -> Iterator[str]:
    unpriced = [item.name for item in items if item.cost is None and item.charged]
    if unpriced:
        yield f"nobody knows what this costs: {', '.join(unpriced)}; say {unpriced[0]}.price"
    untimed = [task.name for task in tasks if not task.hours and "hours" not in task.changed]
    if untimed:
        yield f"nobody knows how long this takes: {', '.join(untimed)}; say {untimed[0]}.hours"
    unpaid = [task.name for task in tasks if task.cost is None and task.hours]
    if unpaid:
        yield f"nobody says what an hour of this costs: {', '.join(unpaid)}; say hourly cost"
    for one in beside:
        if one.cost is None and one.miles is not None:
            yield "nobody says what a mile costs; say mile rate"
        elif one.cost is None and not unpaid:
            yield "nobody says what an hour costs; say hourly cost"
    if not (items or tasks or beside):
        yield "there is nothing to bid on"


# --- sums ---------------------------------------------------------------------------------------


def _overhead(said: Fraction | Decimal | None, cost: Decimal) -> tuple[Fraction | None, Decimal]:
    if isinstance(said, Decimal):
        return None, said
    share = said or Fraction(0)
    return share, money(Fraction(cost) * share)


def _margin(told: Mapping[str, str], all_cost: Decimal, taken: Decimal) -> tuple[Decimal, Decimal]:
    """The margin in money, and what rounding the price up adds to it."""
    price = value(told, "price")
    if price is not None:
        if price < taken:
            raise ValueError(f"price: {price} is less than the extras in it, {taken}")
        return price - taken - all_cost, NOTHING
    share: Fraction = value(told, "margin") or Fraction(0)
    margin = money(Fraction(all_cost) * share / (1 - share))
    step = value(told, "round")
    if step is None:
        return margin, NOTHING
    # The whole price is round, extras and all.
    up = ceil(Fraction(all_cost + margin + taken) / Fraction(step)) * step
    return margin, up - all_cost - margin - taken


def _places(
    items: Sequence[BidItem], tasks: Sequence[BidTask], parts: Sequence[BidPart], own: Decimal
) -> tuple[BidPlace, ...]:
    """The places with what they cost; the price goes by that, what belongs to none with it."""
    names = tuple(dict.fromkeys(part.place for part in parts))
    costs = dict.fromkeys(names, NOTHING)
    for cost, part in zip(_part_costs(items, tasks, parts), parts, strict=True):
        costs[part.place] += cost
    prices = parted(own, [Fraction(costs[name]) for name in names])
    return tuple(
        BidPlace(name, costs[name], price) for name, price in zip(names, prices, strict=True)
    )


def _feet(
    items: Sequence[BidItem], tasks: Sequence[BidTask], parts: Sequence[BidPart], own: Decimal
) -> tuple[BidFoot, ...]:
    """By kind of work that is measured in feet throughout, what a foot is charged for."""
    costs = _part_costs(items, tasks, parts)
    prices = parted(own, [Fraction(cost) for cost in costs])
    found = []
    for work in dict.fromkeys(part.work for part in parts):
        of = [(part, price) for part, price in zip(parts, prices, strict=True) if part.work == work]
        feet = [part.feet for part, _ in of]
        length = sum((one for one in feet if one), Fraction(0))
        if work and length and all(feet):
            price = _sum(price for _, price in of)
            found.append(BidFoot(work, length, price, money(Fraction(price) / length)))
    return tuple(found)


def _part_costs(
    items: Sequence[BidItem], tasks: Sequence[BidTask], parts: Sequence[BidPart]
) -> tuple[Decimal, ...]:
    lines: tuple[BidItem | BidTask, ...] = (*items, *tasks)
    return tuple(_sum(line.by_part[at] for line in lines) for at in range(len(parts)))


def _until(said: date | timedelta | None, day: date) -> date | None:
    return day + said if isinstance(said, timedelta) else said


def _share(part: Decimal, whole: Decimal) -> Fraction:
    return Fraction(part) / Fraction(whole) if whole else Fraction(0)


def _sum(amounts: Iterable[Decimal | None]) -> Decimal:
    return sum((amount for amount in amounts if amount is not None), NOTHING)


USUAL = tuple(
    name for name in GENERAL if name not in ("price", "miles", "other hours", "not included")
)
"""Numbers of a contractor rather than of one job: a new bid begins with those of the last one."""
