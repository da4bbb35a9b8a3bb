"""What a bid is made of: planned lines, where they go, how they may turn out, and their prices."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from joblog.bid.chances import thinned
from joblog.model import (
    BidBasis,
    BidGround,
    BidPart,
    Catalog,
    Plan,
    PlannedItem,
    PlannedTask,
    Prediction,
    TakeOff,
    Task,
)
from joblog.ordering.foresee import Foreseen, allowed, expected_hours, hours_source, share_source
from joblog.ordering.needs import work_of
from joblog.ordering.planned import planned


@dataclass(frozen=True, slots=True)
class PriceSource:
    """Where the price of an item came from, and when it was last said or paid."""

    words: str
    day: date | None = None


def basis_of_runs(
    found: TakeOff,
    catalog: Catalog,
    before: Plan,
    cut: Mapping[str, Fraction],
    foreseen: Foreseen | None,
    prices: Mapping[str, PriceSource],
) -> BidBasis:
    """What measured runs need, with the prices of the catalog.

    Of the plan before, only what is on hand and how things are called stays. A task whose hours
    nobody knows is there with none, so that the bid says that it lacks them. Raises ValueError as
    `planned` does.
    """
    named = {line.item for line in found.lines} | {line.task for line in found.tasks}
    kept = Plan(
        tuple(replace(one, unit_cost=None) for one in before.items if one.item.name in named),
        tuple(replace(one, hourly_cost=None) for one in before.tasks if one.task.name in named),
    )
    plan = planned(found, catalog, kept, cut, foreseen)
    known = {line.task.name for line in plan.tasks}
    untimed = tuple(
        PlannedTask(task, Fraction(0), task.hourly_cost, quantity)
        for task, quantity in work_of(found, catalog).items()
        if task.name not in known
    )
    plan = replace(plan, tasks=(*plan.tasks, *untimed))
    parts = _parts(found)
    return BidBasis(
        plan,
        parts,
        tuple(
            _ground(
                line.item.name,
                _shares(
                    ((one.place, one.work, one.gross) for one in found.lines
                     if one.item == line.item.name),
                    parts,
                ),
                foreseen.items.get(line.item.name) if foreseen else None,
                prices.get(line.item.name),
            )
            for line in plan.items
        ),
        tuple(
            _ground(
                line.task.name,
                _shares(
                    ((one.place, one.work, one.amount.quantity) for one in found.tasks
                     if one.task == line.task.name and one.amount.unit == line.task.unit),
                    parts,
                ),
                foreseen.tasks.get(line.task.name) if foreseen else None,
            )
            for line in plan.tasks
        ),
        found.notes,
        *_together(foreseen),
    )  # fmt: skip


def basis_of_plan(
    plan: Plan,
    catalog: Catalog,
    foreseen: Foreseen | None,
    prices: Mapping[str, PriceSource],
) -> BidBasis:
    """What a plan says and earlier jobs say of it, with the catalog's price where it has none.

    Waste is learned where the plan parts net and cutoffs from its quantity, and hours where it says
    how much is to be done; else the quantity or the hours stay as planned.
    """
    known = {item.name: item for item in catalog.items}
    tasks_known = {task.name: task for task in catalog.tasks}
    items, item_grounds = [], []
    for line in plan.items:
        name = line.item.name
        prediction = foreseen.items.get(name) if foreseen else None
        source = PriceSource("the plan") if line.unit_cost is not None else None
        if source is None and name in known and known[name].unit == line.item.unit:
            line = replace(line, unit_cost=known[name].unit_cost)
        if prediction is not None and line.net is not None:
            line = _with_waste(line, prediction)
        items.append(line)
        item_grounds.append(
            _ground(
                name,
                (),
                prediction,
                source or prices.get(name),
                line.quantity if line.net is None else None,
            )
        )
    tasks, task_grounds = [], []
    for work in plan.tasks:
        prediction = foreseen.tasks.get(work.task.name) if foreseen else None
        hourly = work.hourly_cost
        if hourly is None and work.task.name in tasks_known:
            hourly = tasks_known[work.task.name].hourly_cost
        work = replace(work, hourly_cost=hourly)
        if prediction is not None and prediction.n:
            work = replace(work, hours=expected_hours(prediction), source=hours_source(prediction))
        tasks.append(work)
        task_grounds.append(_ground(work.task.name, (), prediction))
    made = Plan(tuple(items), tuple(tasks), plan.places)
    return BidBasis(
        made,
        (_longest(made),),
        tuple(item_grounds),
        tuple(task_grounds),
        (),
        *_together(foreseen),
    )


def timed(plan: Plan) -> dict[Task, Fraction]:
    """The planned work of which is said how much there is, each task at the plan's own pace."""
    return {
        replace(line.task, per_hour=line.quantity / line.hours if line.hours else None): (
            line.quantity
        )
        for line in plan.tasks
        if line.quantity
    }


def _together(foreseen: Foreseen | None) -> tuple[float, float]:
    if foreseen is None or foreseen.learned is None:
        return 0.0, 0.0
    from joblog.rates.together import together

    items, tasks = together(foreseen.learned)
    return round(items, 2), round(tasks, 2)


def _with_waste(line: PlannedItem, prediction: Prediction) -> PlannedItem:
    gross = (line.net or Fraction(0)) + line.offcut
    return replace(
        line,
        quantity=gross + allowed(prediction.mean, gross),
        source=share_source(prediction),
    )


def _ground(
    name: str,
    shares: Sequence[Fraction],
    prediction: Prediction | None,
    source: PriceSource | None = None,
    around: Fraction | None = None,
) -> BidGround:
    """`around` is what the chances are to lie about where nobody parts net and cutoffs from it."""
    chances = thinned(prediction.equally_likely) if prediction else ()
    if prediction and around is not None:
        chances = tuple(amount * float(around) / prediction.mean for amount in chances)
    return BidGround(
        name,
        tuple(shares),
        chances,
        prediction.n if prediction else 0,
        source.day if source else None,
        source.words if source else "",
    )


def _parts(found: TakeOff) -> tuple[BidPart, ...]:
    """The places and kinds of work, each as long as the task that goes the longest way there."""
    feet: dict[tuple[str, str], dict[str, Fraction]] = {}
    for line in found.lines:
        feet.setdefault((line.place, line.work), {})
    for one in found.tasks:
        here = feet.setdefault((one.place, one.work), {})
        if one.amount.unit == "ft":
            here[one.task] = here.get(one.task, Fraction(0)) + one.amount.quantity
    return tuple(
        BidPart(place, work, max(tasks.values(), default=None))
        for (place, work), tasks in feet.items()
    )


def _longest(plan: Plan) -> BidPart:
    """The whole plan as one part, as long as its longest task in feet."""
    runs = [line for line in plan.tasks if line.task.unit == "ft" and line.quantity]
    if not runs:
        return BidPart("", "")
    longest = max(runs, key=lambda line: line.quantity or Fraction(0))
    return BidPart("", longest.task.name, longest.quantity)


def _shares(
    amounts: Iterable[tuple[str, str, Fraction]], parts: Sequence[BidPart]
) -> tuple[Fraction, ...]:
    sums = {(part.place, part.work): Fraction(0) for part in parts}
    for place, work, amount in amounts:
        sums[place, work] += amount
    whole = sum(sums.values(), Fraction(0))
    return tuple(amount / whole for amount in sums.values()) if whole else ()
