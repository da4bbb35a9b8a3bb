"""What a job needs of each item and task: from its take-off, its cut lists or its plan."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from joblog.form import amount, units_of
from joblog.model import (
    Catalog,
    Item,
    Plan,
    PlannedItem,
    Reconciliation,
    StockLength,
    TakeOff,
    Task,
)
from joblog.ordering.foresee import (
    Need,
)
from joblog.takeoff.take_off import KERF


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
            used = units_of(line.placed, line.unit, line.item)
            notes.append(
                f"{line.item}: {used} installed and {amount(line.spoiled)} wasted so far; "
                "the order is for the whole job"
            )
    return known, tuple(notes)


def _with_price(line: PlannedItem, known: Item | None) -> Item:
    same = known is not None and known.unit == line.item.unit
    source = known if same and known is not None else line.item
    cost = line.unit_cost if line.unit_cost is not None else source.unit_cost
    return replace(line.item, pack=source.pack, pack_name=source.pack_name, unit_cost=cost)
