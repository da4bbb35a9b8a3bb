"""What became of a bid: beside what the job really came to, in money, and what to learn of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from decimal import Decimal
from fractions import Fraction

from joblog.form import amount, units_of
from joblog.local import money_written
from joblog.model import (
    Bid,
    BidAgainst,
    BidItem,
    BidLoss,
    BidOutcome,
    BidTask,
    ExtraTold,
    LaborVariance,
    Reconciliation,
    StockLine,
    TaskLine,
)
from joblog.quantity import about, money
from joblog.reconcile.agreed import agreement

NOTHING = Decimal("0.00")
MOST = 3
"""Losses that are told."""


def became(bid: Bid, squared: Reconciliation) -> BidOutcome:
    """The bid beside the job as it was squared, which is squared against the bid's own plan.

    What is charged is the price of the bid before tax, and every extra of the record that has a
    price and is not in the bid already. What nobody told, or what cannot be, is in `lacks`, and
    then the cost is no more than what is known of it: of an item that nobody counted, what was told
    installed, wasted and cut off at the price of the bid; hours without pay at the average of the
    bid.
    """
    lacks = doubts_of_all(squared)
    other = _other(bid)
    lines = (
        _against("material", bid.material, _material, bid, squared),
        _against("hours", bid.labor + other, _labor, bid, squared),
        _against("expenses and driving", bid.besides - other, _besides, bid, squared),
    )
    lacks += [lack for line in lines for lack in line.lacks]
    cost = sum((line.real or NOTHING for line in lines), NOTHING)
    extra_lines = _extras(bid, squared)
    charged_lacks = tuple(_charged_lacks(bid, extra_lines))
    not_told = tuple(hours_lacks(squared))
    lacks += charged_lacks
    extras = sum((line.price or NOTHING for line in extra_lines), NOTHING).quantize(NOTHING)
    charged = bid.price + extras
    earned = charged - cost
    hours = _hours(squared)
    feet = _feet(bid)
    losses = sorted(_losses(bid, squared), key=lambda loss: -loss.money)[:MOST]
    return BidOutcome(
        job=bid.job,
        bid_price=bid.price,
        extras=extras,
        charged=charged,
        lines=lines,
        cost=cost,
        earned=earned,
        overhead=bid.overhead,
        profit=earned - bid.overhead,
        hoped=bid.price - bid.cost,
        hours=hours,
        earned_an_hour=money(Fraction(earned) / hours) if hours and not not_told else None,
        feet=feet,
        earned_a_foot=money(Fraction(earned) / feet) if feet else None,
        losses=tuple(losses),
        next_time=_next_time(bid, squared, losses, lacks),
        extra_lines=extra_lines,
        expenses=squared.beside.spent,
        miles=squared.beside.miles,
        lacks=tuple(lacks),
        charged_lacks=charged_lacks,
        hours_lacks=not_told,
    )


def doubts_of_all(squared: Reconciliation) -> list[str]:
    """What casts a doubt on every figure of the job."""
    lacks = [gap.text for gap in squared.gaps if gap.contradiction]
    if squared.open_doubts:
        one = squared.open_doubts == 1
        wait = "1 entry waits" if one else f"{squared.open_doubts} entries wait"
        lacks.append(f"{wait} for a decision, and {'counts' if one else 'count'} nowhere")
    return lacks


def _against(
    name: str,
    in_bid: Decimal,
    real: Callable[[Bid, Reconciliation, list[str]], Decimal],
    bid: Bid,
    squared: Reconciliation,
) -> BidAgainst:
    lacks: list[str] = []
    return BidAgainst(name, in_bid, real(bid, squared, lacks), tuple(lacks))


# --- what it cost -------------------------------------------------------------------------------


def _material(bid: Bid, squared: Reconciliation, lacks: list[str]) -> Decimal:
    prices = {item.name: item.price for item in bid.items}
    total, silent = NOTHING, []
    for line in squared.stock:
        price = prices.get(line.item)
        if line.actual_cost is not None:
            total += line.actual_cost
        elif not line.entries and not line.opening:
            silent.append(line.item)
        elif price is None:
            lacks.append(f"nobody knows what {line.item} cost")
        else:
            total += money(line.at_least * Fraction(price))
            gone = units_of(line.at_least, line.unit, line.item)
            least = f"at least {gone} went" if line.at_least else "none of it is in the cost"
            lacks.append(f"nobody counted what is left of {line.item}; {least}")
    if silent:
        lacks.append(f"nothing was told of {', '.join(silent)}")
    return total


def _labor(bid: Bid, squared: Reconciliation, lacks: list[str]) -> Decimal:
    average = Fraction(bid.labor) / bid.hours if bid.hours else None
    total = NOTHING
    for task in squared.tasks:
        if task.actual_cost is not None:
            total += task.actual_cost
        elif task.actual and average is not None:
            total += money(task.actual * average)
        elif task.actual:
            lacks.append(f"nobody knows what the hours of {task.task} cost")
    lacks += hours_lacks(squared)
    if average is not None:
        total += money(_untold(squared) * average)
    return total


def hours_lacks(squared: Reconciliation) -> Iterator[str]:
    silent = [task.task for task in squared.tasks if not task.entries and task.planned]
    if silent:
        yield f"no hours were told of {', '.join(silent)}"
    # Whoever never says when he starts counts only what he tells of his tasks.
    half_told = [day for day in squared.days if (day.started or day.stopped)]
    if any(day.crew_hours is None for day in half_told):
        yield "a start or a stop is missing, so hours that belong to no task are not known"


def _besides(bid: Bid, squared: Reconciliation, lacks: list[str]) -> Decimal:
    beside = squared.beside
    if beside.miles and bid.mile_rate is None:
        lacks.append(f"nobody said what a mile costs, and {amount(beside.miles)} were driven")
    return beside.spent + money(beside.miles * Fraction(bid.mile_rate or 0))


def _extras(bid: Bid, squared: Reconciliation) -> tuple[ExtraTold, ...]:
    in_bid = {extra.name.lower() for extra in bid.extras if extra.taken}
    return tuple(
        ExtraTold(line.text, line.price, agreement(line))
        for line in squared.beside.lines
        if line.kind == "extra" and line.text.lower() not in in_bid
    )


def _charged_lacks(bid: Bid, extras: Iterable[ExtraTold]) -> Iterator[str]:
    if bid.lacks and "price" not in dict(bid.said):
        yield f"the bid has no price: {'; '.join(bid.lacks)}"
    for line in extras:
        if line.price is None:
            yield f"nobody said what is charged for: {line.text}"


def _other(bid: Bid) -> Decimal:
    """What the bid has for hours that belong to no task."""
    return sum((one.cost or NOTHING for one in bid.beside if one.hours is not None), NOTHING)


def _untold(squared: Reconciliation) -> Fraction:
    """Hours at work that belong to no task; those told beyond the day's are none."""
    return max(squared.untold_hours or Fraction(0), Fraction(0))


def _hours(squared: Reconciliation) -> Fraction:
    return sum((task.actual for task in squared.tasks), _untold(squared))


def _feet(bid: Bid) -> Fraction | None:
    feet = [part.feet for part in bid.basis.parts]
    if not feet or not all(feet):
        return None
    return sum((one for one in feet if one), Fraction(0))


# --- where it was lost --------------------------------------------------------------------------


def _losses(bid: Bid, squared: Reconciliation) -> Iterator[BidLoss]:
    items = {item.name: item for item in bid.items}
    tasks = {task.name: task for task in bid.tasks}
    for line in squared.stock:
        found = line.money
        if found is None:
            continue
        # What was used beside the work, wasted and unexplained is one waste: the bid allowed for it
        # as one, and too little of one part pays for too much of another.
        waste = found.usage + found.handling + (found.unaccounted or NOTHING)
        for kind, lost in (
            ("waste", waste),
            ("scope", found.scope),
            ("offcut", found.offcut),
            ("price", found.price or NOTHING),
        ):
            if lost > 0:
                why = _OF_ITEM[kind](line, items.get(line.item), squared)
                yield BidLoss(line.item, kind, lost, why)
    for task in squared.tasks:
        for kind, lost in _task_parts(task.variance):
            if lost > 0:
                yield BidLoss(task.task, kind, lost, _OF_TASK[kind](task, tasks.get(task.task)))
    yield from _beside_losses(bid, squared)


def _task_parts(variance: LaborVariance | None) -> Iterator[tuple[str, Decimal]]:
    """Where nobody said how much was done, more hours are neither more work nor a slower pace."""
    if variance is None or variance.total is None:
        return
    rate = variance.rate or NOTHING
    yield "rate", rate
    if variance.scope is None or variance.efficiency is None:
        yield "hours", variance.total - rate
    else:
        yield "scope", variance.scope
        yield "efficiency", variance.efficiency


def _beside_losses(bid: Bid, squared: Reconciliation) -> Iterator[BidLoss]:
    beside = squared.beside
    driving = sum((one.cost or NOTHING for one in bid.beside if one.miles is not None), NOTHING)
    expenses = bid.besides - driving - _other(bid)
    if beside.spent > expenses:
        words = f"{money_written(beside.spent)} was spent, {money_written(expenses)} was bid"
        yield BidLoss("expenses", "expenses", beside.spent - expenses, words)
    driven = money(beside.miles * Fraction(bid.mile_rate or 0))
    if driven > driving:
        bid_miles = sum((one.miles or Fraction(0) for one in bid.beside), Fraction(0))
        words = f"{amount(beside.miles)} miles were driven, {amount(bid_miles)} were bid"
        yield BidLoss("driving", "driving", driven - driving, words)
    untold = _untold(squared)
    average = Fraction(bid.labor) / bid.hours if bid.hours else Fraction(0)
    lost = money(untold * average) - _other(bid)
    if lost > 0:
        planned = sum((one.hours or Fraction(0) for one in bid.beside), Fraction(0))
        words = f"{amount(untold)} man-hours at work belong to no task; {amount(planned)} were bid"
        yield BidLoss("other hours", "untold", lost, words)


def _wasted(line: StockLine, item: BidItem | None, squared: Reconciliation) -> str:
    """Each part of the waste with its reason, and what was allowed for it."""

    def of(quantity: Fraction) -> str:
        return units_of(quantity, line.unit, line.item)

    parts = []
    variance = line.variance
    if variance is not None and variance.usage > 0:
        parts.append(f"the same work took {of(variance.usage)} more")
    if line.spoiled > 0:
        told = [reason for reason in squared.reasons if reason.item == line.item]
        why = "; ".join(f"{one.text} ({amount(one.quantity)})" for one in told)
        parts.append(f"{of(line.spoiled)} wasted: {why or 'nobody said why'}")
    if line.unaccounted is not None and line.unaccounted > 0:
        parts.append(f"{of(line.unaccounted)} gone that nobody explains")
    if item is not None:
        parts.append(f"{amount(item.waste)} allowed for waste")
    return "; ".join(parts)


def _more_work(line: StockLine, item: BidItem | None, squared: Reconciliation) -> str:
    if item is None:
        return "was not in the bid"
    return "there was more of the work than was bid"


def _more_cutoffs(line: StockLine, item: BidItem | None, squared: Reconciliation) -> str:
    planned = f", {amount(item.offcut)} planned" if item else ""
    return f"{units_of(line.offcut, line.unit, line.item)} of cutoffs{planned}"


def _dearer(line: StockLine, item: BidItem | None, squared: Reconciliation) -> str:
    if item is None or item.price is None:
        return "it cost more than was planned"
    paid = _paid(line)
    return f"{paid} was paid for one, {money_written(item.price)} was bid"


def _paid(line: StockLine) -> str:
    if line.actual_cost is None or not line.consumed:
        return "more"
    return f"about {money_written(money(Fraction(line.actual_cost) / line.consumed))}"


_OF_ITEM: Mapping[str, Callable[[StockLine, BidItem | None, Reconciliation], str]] = {
    "waste": _wasted,
    "scope": _more_work,
    "offcut": _more_cutoffs,
    "price": _dearer,
}


def _slower(task: TaskLine, bid: BidTask | None) -> str:
    if task.actual_rate is None or bid is None or bid.pace is None:
        return f"{amount(task.actual)} man-hours, {amount(task.planned)} were bid"
    return (
        f"{about(task.actual_rate, 1).lstrip('~')} {task.unit} an hour, "
        f"{about(bid.pace, 1).lstrip('~')} were bid"
    )


def _longer(task: TaskLine, bid: BidTask | None) -> str:
    hours = f"{amount(task.actual)} man-hours, {amount(task.planned)} were bid"
    return f"{hours}; nobody said how much was done in them"


def _more_done(task: TaskLine, bid: BidTask | None) -> str:
    if bid is None:
        return "was not in the bid"
    if task.done is None or bid.amount is None:
        return "there was more of it than was bid"
    return f"{units_of(task.done, task.unit)} done, {amount(bid.amount)} were bid"


def _better_paid(task: TaskLine, bid: BidTask | None) -> str:
    if task.actual_cost is None or not task.actual or bid is None or bid.hourly_cost is None:
        return "an hour cost more than was bid"
    hour = money(Fraction(task.actual_cost) / task.actual)
    return f"an hour cost {money_written(hour)}, {money_written(bid.hourly_cost)} was bid"


_OF_TASK: Mapping[str, Callable[[TaskLine, BidTask | None], str]] = {
    "scope": _more_done,
    "efficiency": _slower,
    "hours": _longer,
    "rate": _better_paid,
}


# --- what to change -----------------------------------------------------------------------------


def _next_time(
    bid: Bid, squared: Reconciliation, losses: Iterable[BidLoss], lacks: Iterable[str]
) -> str:
    """One sentence on the largest loss: what to change, and by which figures."""
    worst = next(iter(losses), None)
    if worst is None:
        if missing := next(iter(lacks), None):
            return f"Next time write down what is missing here, to learn from it: {missing}."
        if bid.margin < 0:
            return "Nothing cost more than it was bid, but the price was below the cost in the bid."
        return "Nothing cost more than it was bid; bid the same way again."
    item = next((one for one in bid.items if one.name == worst.name), None)
    line = next((one for one in squared.stock if one.item == worst.name), None)
    change = _CHANGES[worst.kind].format(name=worst.name)
    if worst.kind == "waste" and item is not None and line is not None:
        share = _waste_shares(item, line)
        return f"Next time {change}: {share or worst.why}."
    return f"Next time {change}: {worst.why}."


_CHANGES = {
    "waste": "plan more waste for {name}, or waste less of it",
    "offcut": "plan more cutoffs for {name}, or order the length that fits",
    "scope": "measure {name} once more before you bid, or charge what is added",
    "price": "ask what {name} costs before you bid",
    "efficiency": "bid more hours for {name}",
    "hours": "bid more hours for {name}, and tell how much gets done in them",
    "rate": "bid what an hour of {name} really costs",
    "expenses": "put more for expenses into the bid",
    "driving": "put the miles that you really drive into the bid",
    "untold": "bid the hours around the work as well",
}


def _waste_shares(item: BidItem, line: StockLine) -> str:
    """ "18 % of it was waste, 6 % was bid"; "" where that is not known."""
    base = None if item.net is None else item.net + item.offcut
    if not base or line.consumed is None or line.variance is None:
        return ""
    made = base + line.variance.scope + line.variance.offcut
    if made <= 0:
        return ""
    real, planned = ((line.consumed - made) / made, item.waste / base)
    return f"{_percent(real)} was wasted, {_percent(planned)} was bid"


def _percent(share: Fraction) -> str:
    return f"{about(share * 100, 0).lstrip('~')} %"
