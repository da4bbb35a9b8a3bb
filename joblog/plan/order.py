"""What to buy: gross and an allowance, less what is on hand, in whole packs, with its cost."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil

from joblog.model import (
    Catalog,
    Item,
    OrderLine,
    Plan,
    PlannedItem,
    PlannedTask,
    Reconciliation,
    StockLength,
    TakeOff,
    Task,
)
from joblog.plan.take_off import KERF
from joblog.quantity import fraction_of, money, tape

ALLOWANCE = Fraction(1, 20)
"""Of gross, for what cracks, goes missing or is cut wrong, until a rate is learned (common
practice; the waste that stock lengths force is in gross already)."""


@dataclass(frozen=True, slots=True)
class Need:
    """How much of an item a job needs, in the item's own unit; `net` where it is known."""

    item: Item
    net: Fraction | None
    gross: Fraction


def order(
    needs: Sequence[Need],
    on_hand: Mapping[str, Fraction] | None = None,
    allowance: Mapping[str, Fraction] | None = None,
    usual_allowance: Fraction = ALLOWANCE,
) -> tuple[OrderLine, ...]:
    """One line an item, in the order of the needs.

    `on_hand` is by item name in the item's unit, `allowance` by item name as a share of gross;
    items without one get `usual_allowance`. Rounding to packs comes last, upwards. Raises
    ValueError for an amount on hand or an allowance below zero.
    """
    kept, rates = on_hand or {}, allowance or {}
    for name, number in [*kept.items(), *rates.items(), ("the usual allowance", usual_allowance)]:
        if number < 0:
            raise ValueError(f"{name}: {number} is below zero")
    return tuple(
        _line(
            need, kept.get(need.item.name, Fraction(0)), rates.get(need.item.name, usual_allowance)
        )
        for need in needs
    )


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


def cut_from(found: TakeOff, catalog: Catalog, seconds: float = 1.0) -> dict[str, Fraction]:
    """How many whole stock lengths the pieces of each item are cut from, by their cut list.

    The best plan found within `seconds` for each item. An item with a piece that cannot be cut, or
    that is also used otherwise than in pieces, is left out.
    """
    from joblog.plan.cuts import plan_cuts

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
            seconds=seconds,
        )
        if not problems and not plan.short:
            counts[item.name] = Fraction(len(plan.sticks))
    return counts


def needs_of_plan(plan: Plan, catalog: Catalog) -> tuple[Need, ...]:
    """What a plan needs; packs and prices that the plan does not know are the catalog's."""
    known = {item.name: item for item in catalog.items}
    return tuple(
        Need(_with_price(line, known.get(line.item.name)), None, line.quantity)
        for line in plan.items
    )


def planned(found: TakeOff, catalog: Catalog, before: Plan) -> Plan:
    """The plan that a take-off makes of the plan before.

    Quantities are gross, without an allowance: what goes beyond them is what the job wasted. Lines
    of the plan before that the take-off does not speak of stay; so do what is on hand, prices and
    spoken names. Raises ValueError for an item that is counted in another unit there.
    """
    items = {line.item.name: line for line in before.items}
    for need in needs_of(found, catalog):
        old = items.get(need.item.name)
        if old and old.item.unit != need.item.unit:
            raise ValueError(
                f"{need.item.name} is planned in {old.item.unit}, but the catalog counts it in "
                f"{need.item.unit}; make them the same"
            )
        items[need.item.name] = PlannedItem(
            old.item if old else need.item,
            need.gross,
            old.unit_cost if old and old.unit_cost is not None else need.item.unit_cost,
            old.opening if old else Fraction(0),
        )
    tasks = {line.task.name: line for line in before.tasks}
    for task, hours in _hours(found, catalog).items():
        known = tasks.get(task.name)
        tasks[task.name] = PlannedTask(
            known.task if known else task,
            hours,
            known.hourly_cost if known and known.hourly_cost is not None else task.hourly_cost,
        )
    places = dict.fromkeys([*before.places, *(line.place for line in found.lines if line.place)])
    return Plan(tuple(items.values()), tuple(tasks.values()), tuple(places))


def on_hand_of(result: Reconciliation) -> tuple[dict[str, Fraction], tuple[str, ...]]:
    """What is on hand of each item of a job, and lines on what a person should know of it.

    It is known where it was counted, and where nothing has come or gone since the job began.
    """
    known, told = {}, []
    for line in result.stock:
        if line.on_hand is not None:
            known[line.item] = line.on_hand
        elif not line.entries and not line.left_out:
            known[line.item] = line.opening
        else:
            told.append(f"{line.item}: nobody counted what is left; taken as none")
        if line.placed or line.spoiled:
            used = f"{tape(line.placed)} {line.unit} placed and {tape(line.spoiled)} spoiled"
            told.append(f"{line.item}: {used} so far; the order is for the whole job")
    return known, tuple(told)


@dataclass(frozen=True, slots=True)
class Shares:
    """Allowances as shares of gross: by item name, and for all other items."""

    items: dict[str, Fraction]
    usual: Fraction


def shares_of(texts: Sequence[str]) -> Shares:
    """Allowances as a person says them, in percent: "7%", "fascia=10%". Raises ValueError."""
    shares = Shares({}, ALLOWANCE)
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


def _line(need: Need, on_hand: Fraction, rate: Fraction) -> OrderLine:
    item = need.item
    allowance = need.gross * rate
    needed = need.gross + allowance
    packs = max(0, ceil((needed - on_hand) / item.pack))
    bought = packs * item.pack
    cost = None if item.unit_cost is None else money(bought * Fraction(item.unit_cost))
    return OrderLine(
        item=item.name,
        unit=item.unit,
        net=need.net,
        gross=need.gross,
        rate=rate,
        allowance=allowance,
        needed=needed,
        on_hand=on_hand,
        packs=packs,
        pack=item.pack,
        pack_name=item.pack_name,
        bought=bought,
        unit_cost=item.unit_cost,
        cost=cost,
    )


def _with_price(line: PlannedItem, known: Item | None) -> Item:
    same = known is not None and known.unit == line.item.unit
    source = known if same and known is not None else line.item
    cost = line.unit_cost if line.unit_cost is not None else source.unit_cost
    return replace(line.item, pack=source.pack, pack_name=source.pack_name, unit_cost=cost)


def _hours(found: TakeOff, catalog: Catalog) -> dict[Task, Fraction]:
    known = {task.name: task for task in catalog.tasks}
    hours: dict[Task, Fraction] = {}
    for line in found.tasks:
        if line.hours is not None:
            task = known[line.task]
            hours[task] = hours.get(task, Fraction(0)) + line.hours
    return hours
