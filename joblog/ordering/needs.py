"""What a job needs of each item and task: from its take-off, its cut lists or its plan."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from joblog.catalog.lines import starter
from joblog.form import amount, units_of
from joblog.model import (
    Catalog,
    Item,
    Plan,
    PlannedItem,
    Reconciliation,
    StockLine,
    TakeOff,
    Task,
)
from joblog.ordering.foresee import Need
from joblog.ordering.stock_cuts import with_cuts


def needs_of(
    found: TakeOff, catalog: Catalog, cut: Mapping[str, Fraction] | None = None
) -> tuple[Need, ...]:
    """What a take-off needs, summed by item, in the order in which items first come.

    `cut` is gross by item name where a cut list knows it better than the sum of the lines.
    """
    # What the catalog lacks was taken off as the starter has it.
    items = {item.name: item for item in (*starter(), *catalog.items)}
    sums: dict[str, tuple[Fraction, Fraction]] = {}
    for line in found.lines:
        net, gross = sums.get(line.item, (Fraction(0), Fraction(0)))
        sums[line.item] = (net + line.net, gross + line.gross)
    known = cut or {}
    whole = {line.item for line in found.lines if line.counted}
    return tuple(
        Need(
            items[name],
            net,
            known.get(name, gross),
            counted=items[name].counted or name in whole,
        )
        for name, (net, gross) in sums.items()
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


def cut_from(found: TakeOff, catalog: Catalog) -> dict[str, Fraction]:
    """How many whole stock lengths the pieces of each item are cut from, by their cut list.

    An item with a piece that cannot be cut, or that is also used otherwise than in pieces, is left
    out.
    """
    needs = with_cuts(needs_of(found, catalog), found)
    return {need.item.name: need.gross for need in needs if need.cut}


def needs_of_plan(plan: Plan, catalog: Catalog) -> tuple[Need, ...]:
    """What a plan needs; packs and prices that the plan does not know are the catalog's.

    A plan that does not part its quantity says nothing of net or allowance.
    """
    known = {item.name: item for item in catalog.items}
    needs = []
    for line in plan.items:
        item = _with_price(line, known.get(line.item.name))
        if line.net is None:
            needs.append(Need(item, None, line.quantity, counted=item.counted))
            continue
        gross = line.net + line.offcut
        extra = line.quantity - gross
        needs.append(
            Need(
                item,
                line.net,
                gross,
                extra or None,
                line.source if extra else "",
                counted=item.counted,
            )
        )
    return tuple(needs)


@dataclass(frozen=True, slots=True)
class StillNeeded:
    """What a job still needs of its plan, what is there of it, and why each item is needed."""

    needs: tuple[Need, ...]
    on_hand: Mapping[str, Fraction]
    why: Mapping[str, str]
    notes: tuple[str, ...] = ()


def still_needed(plan: Plan, catalog: Catalog, result: Reconciliation) -> StillNeeded:
    """What the plan of a job holds that is not installed yet, and what is on hand for it.

    The planned cutoffs and allowance of what is installed are gone with it. What was counted is on
    hand; where nobody counted, what came and was not told to be gone, and a note says so. What was
    put to use and not told then stands on both sides, so that it changes nothing.
    """
    stock = {line.item: line for line in result.stock}
    needs, on_hand, why, notes = [], {}, {}, []
    for need, line in zip(needs_of_plan(plan, catalog), plan.items, strict=True):
        name = need.item.name
        told = stock.get(name)
        on_hand[name], why[name] = line.opening, f"the plan of {result.job}"
        if told is None or not _begun(told):
            needs.append(need)
            continue
        net = need.gross if need.net is None else need.net
        # What was used says how far the work is only where nobody said how much of it was done.
        done = told.placed if told.allowed is None or not _by_work(told) else told.allowed
        share = max(1 - done / net, Fraction(0)) if net else Fraction(0)
        needs.append(_shared(need, share))
        on_hand[name] = told.on_hand if told.on_hand is not None else _by_what_was_told(need, told)
        parts = ", ".join(
            (
                f"{units_of(line.quantity, line.item.unit, name)} planned",
                f"{amount(told.placed)} installed",
                f"{amount(on_hand[name])} on hand",
            )
        )
        why[name] = f"the plan of {result.job}: {parts}"
        if told.on_hand is None:
            left = units_of(on_hand[name], line.item.unit, name)
            notes.append(f"{name}: nobody counted what is left; by what was told it is {left}")
        if told.left_out:
            notes.append(f"{name}: what waits for a decision is not counted; joblog review asks")
    return StillNeeded(tuple(needs), on_hand, why, tuple(notes))


def _begun(told: StockLine) -> bool:
    """Whether anything of it came, went, was counted, or waits to be."""
    moved = (told.delivered, told.returned, told.placed, told.spoiled, told.on_hand is not None)
    return any(moved) or bool(told.left_out) or told.at_most != told.opening


def _by_work(told: StockLine) -> bool:
    """Whether it was told how much of the work that it goes with was done."""
    return told.allowed_by.endswith(" done")


def _shared(need: Need, share: Fraction) -> Need:
    return replace(
        need,
        net=None if need.net is None else need.net * share,
        gross=need.gross * share,
        allowance=None if need.allowance is None else need.allowance * share,
    )


def _by_what_was_told(need: Need, told: StockLine) -> Fraction:
    """What should be left: all that came, less what was spoiled, installed, and cut off with it,
    as told or as planned for so much, whichever is more."""
    whole = need.gross / need.net if need.net else Fraction(1)
    gone = max(told.placed + told.offcut, told.placed * whole)
    return max(told.at_most - told.spoiled - gone, Fraction(0))


def _with_price(line: PlannedItem, known: Item | None) -> Item:
    same = known is not None and known.unit == line.item.unit
    source = known if same and known is not None else line.item
    cost = line.unit_cost if line.unit_cost is not None else source.unit_cost
    return replace(
        line.item,
        pack=source.pack,
        pack_name=source.pack_name,
        unit_cost=cost,
        length_costs=source.length_costs,
        supplier=source.supplier,
        least_order=source.least_order,
        tax=source.tax,
        counted=line.item.counted or source.counted,
    )
