"""What the plan allows of an item for the output that was really made: its standard quantity."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from joblog.form import amount
from joblog.model import PlannedItem, TaskLine

PIECES, AS_PLANNED = "pieces cut", "as planned"


@dataclass(frozen=True, slots=True)
class Allowed:
    """In the item's own unit."""

    net: Fraction
    offcut: Fraction
    """The geometric waste that goes with it."""
    by: str
    """What says how much output was made."""


def allowed_of(
    line: PlannedItem | None, pieces: Fraction | None, offcut: Fraction, task: TaskLine | None
) -> Allowed | None:
    """None where neither a plan nor pieces say; `pieces` is what all of them measure together, with
    the `offcut` that they force.

    Standard quantity allowed for the actual output, as a flexible budget has it (Warren and others,
    Accounting, on standards and flexible budgets). The pieces themselves are the output; else the
    plan's quantity goes up and down with its task, where it was said how much of that was done;
    else the work counts as done as planned.
    """
    if pieces is not None:
        return Allowed(pieces, offcut, PIECES)
    if line is None or not line.quantity:
        return None
    net, planned_offcut = parted(line)[:2]
    if task is not None and task.done is not None and task.planned_quantity:
        done = task.done / task.planned_quantity
        by = f"{amount(task.done)} of {amount(task.planned_quantity)} {task.unit} done"
        return Allowed(net * done, planned_offcut * done, by)
    return Allowed(net, planned_offcut, AS_PLANNED)


def parted(line: PlannedItem) -> tuple[Fraction, Fraction, Fraction]:
    """Net, offcut and allowance of a planned quantity; all of it is net where it is not parted."""
    net = line.quantity - line.offcut if line.net is None else line.net
    return net, line.offcut, line.quantity - net - line.offcut
