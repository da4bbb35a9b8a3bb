"""The plan that a take-off makes of a job."""

from __future__ import annotations

from collections.abc import Mapping, Set
from fractions import Fraction

from joblog.model import (
    Catalog,
    Plan,
    PlannedItem,
    PlannedTask,
    TakeOff,
    Task,
)
from joblog.ordering.foresee import (
    Foreseen,
    allowed,
    expected_hours,
    hours_source,
    share_source,
)
from joblog.ordering.needs import needs_of, work_of
from joblog.quantity import tape


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
    mean of the distribution without its far tails, because only means add up over items and jobs,
    so that over many jobs the variances against them come to nothing. Else there is no allowance,
    and hours are the catalog's. A reserve against running short belongs into the order, not into
    the plan.

    Lines of the plan before that the take-off does not speak of stay; so do what is on hand,
    prices and spoken names. Raises ValueError for an item that is counted in another unit there.
    """
    items = {line.item.name: line for line in before.items}
    goes_with = _tasks(found)
    for need in needs_of(found, catalog, cut):
        name, old = need.item.name, items.get(need.item.name)
        if old and old.item.unit != need.item.unit:
            raise ValueError(
                f"{name} is planned in {old.item.unit}, but the catalog counts it in "
                f"{need.item.unit}; make them the same"
            )
        prediction = foreseen.items.get(name) if foreseen else None
        if prediction and need.counted and not prediction.n:
            prediction = None
        extra = allowed(prediction.mean, need.gross) if prediction else Fraction(0)
        items[name] = PlannedItem(
            old.item if old else need.item,
            need.gross + extra,
            old.unit_cost if old and old.unit_cost is not None else need.item.unit_cost,
            old.opening if old else Fraction(0),
            need.net,
            need.offcut,
            share_source(prediction) if prediction else "",
            _task(goes_with[name], old),
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


def _tasks(found: TakeOff) -> dict[str, set[str]]:
    """The tasks that each item goes up with; "" is among them where some of its runs name none."""
    tasks: dict[str, set[str]] = {}
    for line in found.lines:
        tasks.setdefault(line.item, set()).add(line.task)
    return tasks


def _task(named: Set[str], old: PlannedItem | None) -> str:
    """The one task of an item; "" where it is used in several, for none of them says how much."""
    if named == {""} and old is not None:
        return old.task
    [task] = named if len(named) == 1 else ("",)
    return task


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
