"""What the plan allows of an item for the output that was really made: its standard quantity."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from joblog.form import amount
from joblog.model import PlannedItem, StockLine, TaskLine

PIECES, AS_PLANNED, AS_INSTALLED = "pieces cut", "as planned", "as installed"


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
    if task is not None and task.planned_quantity and task.done is not None and _all_told(task):
        done = task.done / task.planned_quantity
        by = f"{amount(task.done)} of {amount(task.planned_quantity)} {task.unit} done"
        return Allowed(net * done, planned_offcut * done, by)
    return Allowed(net, planned_offcut, AS_PLANNED)


def _all_told(task: TaskLine) -> bool:
    return not task.without_amount and not task.left_out


def why_it_teaches_nothing(line: StockLine) -> str:
    """Why a job says nothing of the waste of an item, in words; "" where it does."""
    if line.left_out:
        named = "entry" if len(line.left_out) == 1 else "entries"
        return f"without {named} {', '.join(map(str, line.left_out))} it is not whole"
    if not line.placed:
        return "nobody said that any was installed"
    if line.consumed is None and line.last_count is not None:
        return "more came or was used after what is left was counted"
    if line.consumed is None:
        return "nobody counted what is left"
    if line.placed < 0:
        return "it does not add up"
    if line.allowed is None:
        return "neither the plan nor any pieces say how much the work should have taken"
    if line.allowed <= 0:
        return "none of the work was done that it was planned for"
    return ""


def took(line: StockLine) -> Allowed | None:
    """What the work of a closed job should have taken, as rates are learned from it.

    What is allowed; but where that is only what was planned, and far less is gone than it takes,
    the work was less, and what was installed is the most that is known of it. None where the line
    teaches nothing.
    """
    if line.allowed is None or why_it_teaches_nothing(line):
        return None
    if less_than_planned(line):
        return Allowed(line.placed, line.offcut, AS_INSTALLED)
    return Allowed(line.allowed, line.allowed_offcut, line.allowed_by)


LEAST = Fraction(9, 10)
"""Of what a plan takes, with its offcuts; below that, the work was not done as planned (common
practice: a take-off measures to a tenth)."""


def less_than_planned(line: StockLine) -> bool:
    """Whether the work cannot have been done as planned, though nobody said otherwise."""
    if line.allowed_by != AS_PLANNED or line.consumed is None or line.allowed is None:
        return False
    return line.consumed < LEAST * (line.allowed + line.allowed_offcut)


def parted(line: PlannedItem) -> tuple[Fraction, Fraction, Fraction]:
    """Net, offcut and allowance of a planned quantity; all of it is net where it is not parted."""
    net = line.quantity - line.offcut if line.net is None else line.net
    return net, line.offcut, line.quantity - net - line.offcut
