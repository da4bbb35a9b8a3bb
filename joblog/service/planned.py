"""The plan of a job beside what the record says was used of it so far."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from joblog.model import PlannedItem, PlannedTask, StockLine, TaskLine
from joblog.service.desk import Desk
from joblog.service.errors import use_case
from joblog.service.record import read_balance


@dataclass(frozen=True, slots=True)
class ItemSoFar:
    """A planned item. All quantities in its own unit."""

    planned: PlannedItem
    line: StockLine

    @property
    def used(self) -> Fraction:
        """Gone at least: installed, wasted and cut off."""
        return self.line.at_least

    @property
    def left(self) -> Fraction:
        """Of what was planned; below zero where more is gone than was planned."""
        return self.planned.quantity - self.used

    @property
    def allowance(self) -> Fraction | None:
        """What is planned beyond work and offcuts; None where the plan parts no quantity."""
        if self.planned.net is None:
            return None
        return self.planned.quantity - self.planned.net - self.planned.offcut


@dataclass(frozen=True, slots=True)
class TaskSoFar:
    """A planned task, in crew hours."""

    planned: PlannedTask
    line: TaskLine

    @property
    def left(self) -> Fraction:
        """Of the planned hours; below zero where it took longer."""
        return self.planned.hours - self.line.actual


@use_case
def plan_so_far(desk: Desk) -> tuple[tuple[ItemSoFar, ...], tuple[TaskSoFar, ...]]:
    """Every line of the plan, in its order."""
    desk.plan = desk.book.plan(desk.job.name)
    squared = read_balance(desk)
    stock = {line.item: line for line in squared.stock}
    tasks = {line.task: line for line in squared.tasks}
    return (
        tuple(ItemSoFar(line, stock[line.item.name]) for line in desk.plan.items),
        tuple(TaskSoFar(line, tasks[line.task.name]) for line in desk.plan.tasks),
    )
