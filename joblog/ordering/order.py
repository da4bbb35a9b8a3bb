"""What to buy: gross and an allowance, less what is on hand, in whole packs, with its cost."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from joblog.model import (
    Catalog,
    Item,
    OrderCosts,
    OrderLine,
    Plan,
    PlannedItem,
    PlannedTask,
    Prediction,
    Reconciliation,
    StockLength,
    TakeOff,
    Task,
)
from joblog.ordering.foresee import (
    LEVEL,
    Foreseen,
    Need,
    allowed,
    expected_hours,
    hours_source,
    share_source,
)
from joblog.quantity import about, fraction_of, money, money_of, tape
from joblog.takeoff.take_off import KERF

ALLOWANCE = Fraction(1, 20)
"""Of gross, for what cracks, goes missing or is cut wrong, until a rate is learned (common
practice; the waste that stock lengths force is in gross already)."""
RISK = 0.10
"""Of running short, where earlier jobs tell how much is needed and nobody says a risk."""

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
            source = _said(share) if usual_allowance is not None else f"{_percent(share)} usual"
            lines.append(_line(need, there, need.gross * share, source))
    return tuple(lines)


def needs_of(
    found: TakeOff, catalog: Catalog, cut: Mapping[str, Fraction] | None = None
) -> tuple[Need, ...]:
    """What a take-off needs, summed by item, in the order in which items first come.

    `cut` is gross by item name where a cut list knows it better than the sum of the lines.
    """
    items = {item.name: item for item in catalog.items}
    sums: dict[str, tuple[Fraction, Fraction]] = {}
    for line in found.lines:
        net, gross = sums.get(line.item, (Fraction(0), Fraction(0)))
        sums[line.item] = (net + line.net, gross + line.gross)
    known = cut or {}
    return tuple(
        Need(items[name], net, known.get(name, gross)) for name, (net, gross) in sums.items()
    )


def work_of(found: TakeOff, catalog: Catalog) -> dict[Task, Fraction]:
    """How much of each task a take-off holds, in the task's unit, in the order they first come.

    A task that the catalog lacks has the unit of its first run; runs in another unit do not count.
    """
    known = {task.name: task for task in catalog.tasks}
    sums: dict[Task, Fraction] = {}
    for line in found.tasks:
        task = known.setdefault(line.task, Task(line.task))
        if not task.unit:
            task = known[line.task] = replace(task, unit=line.amount.unit)
        if line.amount.unit == task.unit:
            sums[task] = sums.get(task, Fraction(0)) + line.amount.quantity
    return sums


def cut_from(found: TakeOff, catalog: Catalog, effort: float = 0.05) -> dict[str, Fraction]:
    """How many whole stock lengths the pieces of each item are cut from, by their cut list.

    The best plan found with `effort` times the usual search for each item. An item with a piece
    that cannot be cut, or that is also used otherwise than in pieces, is left out.
    """
    from joblog.cutting.cuts import plan_cuts

    counts = {}
    for need in needs_of(found, catalog):
        item, net = need.item, need.net or Fraction(0)
        pieces = [piece for piece in found.pieces if piece.item == item.name]
        length = sum((piece.length * piece.pieces for piece in pieces), Fraction(0))
        if item.stock_length is None or length < net * item.stock_length or not pieces:
            continue
        plan, problems = plan_cuts(
            pieces,
            [StockLength(item.stock_length)],
            kerf=KERF if item.kerf is None else item.kerf,
            useful=item.least_offcut or Fraction(0),
            effort=effort,
        )
        if not problems and not plan.short:
            counts[item.name] = Fraction(len(plan.sticks))
    return counts


def needs_of_plan(plan: Plan, catalog: Catalog) -> tuple[Need, ...]:
    """What a plan needs; packs and prices that the plan does not know are the catalog's.

    A plan that does not part its quantity says nothing of net or allowance.
    """
    known = {item.name: item for item in catalog.items}
    needs = []
    for line in plan.items:
        item = _with_price(line, known.get(line.item.name))
        if line.net is None:
            needs.append(Need(item, None, line.quantity))
            continue
        gross = line.net + line.offcut
        extra = line.quantity - gross
        needs.append(Need(item, line.net, gross, extra or None, line.source if extra else ""))
    return tuple(needs)


def planned(
    found: TakeOff,
    catalog: Catalog,
    before: Plan,
    cut: Mapping[str, Fraction] | None = None,
    foreseen: Foreseen | None = None,
) -> Plan:
    """The plan that a take-off makes of the plan before.

    Each line keeps net and offcut apart (`cut` is as in `needs_of`). Where something is `foreseen`
    of it, its quantity also holds the expected allowance, and its hours are the expected ones: the
    mean of the distribution, because only means add up over items and jobs, so that over many jobs
    the variances against them come to nothing. Else there is no allowance, and hours are the
    catalog's. A reserve against running short belongs into the order, not into the plan.

    Lines of the plan before that the take-off does not speak of stay; so do what is on hand,
    prices and spoken names. Raises ValueError for an item that is counted in another unit there.
    """
    items = {line.item.name: line for line in before.items}
    for need in needs_of(found, catalog, cut):
        name, old = need.item.name, items.get(need.item.name)
        if old and old.item.unit != need.item.unit:
            raise ValueError(
                f"{name} is planned in {old.item.unit}, but the catalog counts it in "
                f"{need.item.unit}; make them the same"
            )
        prediction = foreseen.items.get(name) if foreseen else None
        extra = allowed(prediction.mean, need.gross) if prediction else Fraction(0)
        items[name] = PlannedItem(
            old.item if old else need.item,
            need.gross + extra,
            old.unit_cost if old and old.unit_cost is not None else need.item.unit_cost,
            old.opening if old else Fraction(0),
            need.net,
            need.offcut,
            share_source(prediction) if prediction else "",
        )
    tasks = {line.task.name: line for line in before.tasks}
    for task, quantity in work_of(found, catalog).items():
        known = tasks.get(task.name)
        hours, source = _hours(task, quantity, foreseen)
        if hours is not None:
            tasks[task.name] = PlannedTask(
                known.task if known else task,
                hours,
                known.hourly_cost if known and known.hourly_cost is not None else task.hourly_cost,
                quantity,
                source,
            )
    places = dict.fromkeys([*before.places, *(line.place for line in found.lines if line.place)])
    return Plan(tuple(items.values()), tuple(tasks.values()), tuple(places))


def on_hand_of(result: Reconciliation) -> tuple[dict[str, Fraction], tuple[str, ...]]:
    """What is on hand of each item of a job, and lines on what a person should know of it.

    It is known where it was counted, and where nothing has come or gone since the job began.
    """
    known, notes = {}, []
    for line in result.stock:
        if line.on_hand is not None:
            known[line.item] = line.on_hand
        elif not line.entries and not line.left_out:
            known[line.item] = line.opening
        else:
            notes.append(f"{line.item}: nobody counted what is left; taken as none")
        if line.placed or line.spoiled:
            used = f"{tape(line.placed)} {line.unit} placed and {tape(line.spoiled)} spoiled"
            notes.append(f"{line.item}: {used} so far; the order is for the whole job")
    return known, tuple(notes)


@dataclass(frozen=True, slots=True)
class Shares:
    """Allowances as shares of gross: by item name, and for all other items if one was said."""

    items: dict[str, Fraction]
    usual: Fraction | None = None


def shares_of(texts: Sequence[str]) -> Shares:
    """Allowances as a person says them, in percent: "7%", "fascia=10%". Raises ValueError."""
    shares = Shares({})
    for text in texts:
        name, equals, percent = text.rpartition("=")
        share = fraction_of(percent.strip().removesuffix("%")) / 100
        if not 0 <= share <= 1:
            raise ValueError(f"an allowance of {percent.strip()} is not between 0 and 100%")
        if equals:
            shares.items[_name(name)] = share
        else:
            shares = replace(shares, usual=share)
    return shares


def stakes_of(
    risk: str | None, trip: str | None, missing: str | None, left_over: str | None
) -> tuple[float | None, OrderCosts | None]:
    """What may be risked, as a person says it: a chance of running short, or what mistakes cost.

    At most one of `risk` ("10%"), `trip` (the money that one trip for all that is missing costs)
    and `missing` (the money that each pack missing costs); the last two with `left_over`, the
    money that each pack left over costs. Raises ValueError.
    """
    if sum(text is not None for text in (risk, trip, missing)) > 1:
        raise ValueError("say one of --risk, --trip and --missing")
    if risk is not None:
        share = fraction_of(risk.strip().removesuffix("%")) / 100
        if not Fraction(1, 1000) <= share <= Fraction(999, 1000):
            raise ValueError(f"a risk of {risk.strip()} is not between 0.1% and 99.9%")
        return float(share), None
    dearer = trip if trip is not None else missing
    if dearer is None and left_over is None:
        return None, None
    if dearer is None or left_over is None:
        raise ValueError("--left-over goes with --trip or --missing; say what both cost")
    costs = OrderCosts(money_of(dearer), money_of(left_over), once=trip is not None)
    if costs.second_trip <= 0 or costs.left_over <= 0:
        raise ValueError("a second trip and a pack left over must cost something")
    return None, costs


def stakes_in_words(risk: float | None, costs: OrderCosts | None) -> str:
    """The risk that an order was made at, in words."""
    if costs is None:
        share = _percent(Fraction(RISK if risk is None else risk).limit_denominator(100_000))
        usual = " (usual; say --risk for another)" if risk is None else ""
        return f"ordered so that each item runs short in at most {share} of such jobs{usual}"
    what = "a trip for all that is missing" if costs.once else "each pack missing"
    return (
        f"ordered at the least cost of each item: {what} {costs.second_trip}, each pack left over "
        f"{costs.left_over}"
    )


def counts_of(texts: Sequence[str]) -> dict[str, Fraction]:
    """What is on hand as a person says it: "soffit panel=3". Raises ValueError."""
    counts = {}
    for text in texts:
        name, equals, count = text.rpartition("=")
        if not equals:
            raise ValueError(f"{text!r} is written like soffit panel=3")
        counts[_name(name)] = fraction_of(count)
        if counts[_name(name)] < 0:
            raise ValueError(f"{text!r} is below zero")
    return counts


def _name(text: str) -> str:
    return " ".join(text.lower().split())


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


def _said(share: Fraction) -> str:
    return f"{_percent(share)} as said"


def _percent(share: Fraction) -> str:
    return f"{about(share * 100, 2)} %"


def _hours(
    task: Task, quantity: Fraction, foreseen: Foreseen | None
) -> tuple[Fraction | None, str]:
    """Crew hours, and where they came from; the catalog's rate stands until a job taught one."""
    prediction = foreseen.tasks.get(task.name) if foreseen else None
    if prediction is not None and prediction.n:
        return expected_hours(prediction), hours_source(prediction)
    if task.per_hour is None:
        return None, ""
    if prediction is not None:
        return quantity / task.per_hour, hours_source(prediction)
    return quantity / task.per_hour, f"catalog: {tape(task.per_hour)} {task.unit} an hour"


def _with_price(line: PlannedItem, known: Item | None) -> Item:
    same = known is not None and known.unit == line.item.unit
    source = known if same and known is not None else line.item
    cost = line.unit_cost if line.unit_cost is not None else source.unit_cost
    return replace(line.item, pack=source.pack, pack_name=source.pack_name, unit_cost=cost)
