"""The one place that talks to HiGHS, the solver of linear and whole-number programs.

One thread and a fixed seed, so that the same question always gets the same answer.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import highspy
import numpy as np
import numpy.typing as npt

from joblog.cutting.effort import Effort

NEVER = float("inf")


@dataclass(frozen=True, slots=True)
class Column:
    """A variable from 0 to `most`: its cost and its entries as (row, value)."""

    cost: float
    entries: tuple[tuple[int, float], ...]
    most: float = NEVER
    whole: bool = True


@dataclass(frozen=True, slots=True)
class Row:
    """What a sum over the columns must lie between."""

    least: float = -NEVER
    most: float = NEVER


@dataclass(frozen=True, slots=True)
class Answer:
    """`values` of the columns, None when none were found.

    `final` is True when the best was proved, or that there is none.
    """

    values: tuple[float, ...] | None
    final: bool


def solve(
    columns: Sequence[Column],
    rows: Sequence[Row],
    *,
    effort: Effort,
    nodes: int,
    gap: float = 1e-7,
    good_enough: float | None = None,
    start: Sequence[float] | None = None,
) -> Answer:
    """The columns' values of least cost.

    Within `gap` of it, to be exact. Stops after `nodes` nodes of the branch and bound, when
    `effort` is spent, or when the cost is no more than `good_enough`. `start` is a solution to
    begin from.
    """
    if effort.spent:
        return Answer(None, False)
    solver = _solver()
    entries = sum(len(column.entries) for column in columns)
    step = _STEP + entries * len(rows) // _STEP_CELLS
    steps_left = effort.left // step

    def stop_when_spent(event: Any) -> None:
        nonlocal steps_left
        steps_left -= 1
        if steps_left < 0:
            event.data_in.user_interrupt = True

    solver.cbMipInterrupt.subscribe(stop_when_spent)
    solver.setOptionValue("mip_max_nodes", nodes)
    _keep_time(solver, effort)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("mip_abs_gap", gap)
    if good_enough is not None:
        solver.setOptionValue("objective_target", good_enough)
    solver.passModel(_model(columns, rows))
    if start is not None:
        solution = highspy.HighsSolution()
        solution.col_value = list(start)
        solver.setSolution(solution)
    solver.run()
    status, info = solver.getModelStatus(), solver.getInfo()
    if steps_left < 0:
        effort.spend(effort.left)
    else:
        iterations = max(0, info.simplex_iteration_count)
        effort.spend(_MODEL * entries + iterations * (_MIP_ITERATION + entries // 80))
    if status == highspy.HighsModelStatus.kInfeasible:
        return Answer(None, True)
    if info.primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
        return Answer(None, False)
    values = tuple(solver.getSolution().col_value)
    return Answer(values, status == highspy.HighsModelStatus.kOptimal)


# Work, measured over lists of 20 to 300 lengths. What the solver counts while it runs is only how
# often it asks whether to go on; its iterations, the better measure, are known at its end.
_MODEL = 5
"""For one entry of a model, to begin with."""
_STEP, _STEP_CELLS = 300, 50
"""From one time that the solver asks to the next, and cells of the model to one unit more."""
_MIP_ITERATION, _ITERATION = 90, 20
"""For one iteration of the simplex method: in a branch and bound with all that belongs to it, and
alone."""


class Relaxation:
    """A linear program that columns are added to; each solving begins where the last one ended."""

    def __init__(self, rows: Sequence[Row], effort: Effort) -> None:
        self._effort = effort
        self._entries = 0
        self._solver = _solver()
        for row in rows:
            self._solver.addRow(row.least, row.most, 0, _INDICES, _VALUES)

    def add(self, column: Column) -> None:
        rows = np.array([row for row, _ in column.entries], dtype=np.int32)
        values = np.array([value for _, value in column.entries], dtype=np.float64)
        self._solver.addCol(column.cost, 0.0, column.most, len(rows), rows, values)
        self._entries += len(rows)

    def add_row(self, row: Row, values: npt.NDArray[np.float64]) -> None:
        """One more row: its value for every column that there is."""
        columns = np.flatnonzero(values).astype(np.int32)
        self._solver.addRow(row.least, row.most, len(columns), columns, values[columns])
        self._entries += len(columns)

    def set_row(self, number: int, row: Row) -> None:
        self._solver.changeRowBounds(number, row.least, row.most)

    def solve(self) -> tuple[list[float], list[float]]:
        """Values of the columns and dual values of the rows; not the best of them when late."""
        _keep_time(self._solver, self._effort)
        self._solver.run()
        iterations = max(0, self._solver.getInfo().simplex_iteration_count)
        self._effort.spend(self._entries + iterations * _ITERATION)
        solution = self._solver.getSolution()
        return list(solution.col_value), list(solution.row_dual)


_INDICES = np.array([], dtype=np.int32)
_VALUES = np.array([], dtype=np.float64)


class _Silent(highspy.Highs):
    """Says nothing from the first: its banner would stand where the cut list goes."""

    def enableCallbacks(self) -> None:  # noqa: N802
        self.silent()  # the last step of being made, in which it would say who it is
        super().enableCallbacks()  # type: ignore[no-untyped-call]


def _keep_time(solver: highspy.Highs, effort: Effort) -> None:
    """The solver's limit is on all that it ran since it was made."""
    if effort.seconds_left < NEVER:
        solver.setOptionValue("time_limit", solver.getRunTime() + max(0.0, effort.seconds_left))


def _solver() -> highspy.Highs:
    solver = _Silent()  # type: ignore[no-untyped-call]
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("random_seed", 0)
    return solver


def _model(columns: Sequence[Column], rows: Sequence[Row]) -> Any:
    model = highspy.HighsLp()
    model.num_col_, model.num_row_ = len(columns), len(rows)
    model.col_cost_ = np.array([column.cost for column in columns])
    model.col_lower_ = np.zeros(len(columns))
    model.col_upper_ = np.array([column.most for column in columns])
    model.row_lower_ = np.array([row.least for row in rows])
    model.row_upper_ = np.array([row.most for row in rows])
    starts = np.cumsum([0, *(len(column.entries) for column in columns)])
    model.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    model.a_matrix_.start_ = starts.astype(np.int32)
    model.a_matrix_.index_ = np.array(
        [row for column in columns for row, _ in column.entries], dtype=np.int32
    )
    model.a_matrix_.value_ = np.array(
        [value for column in columns for _, value in column.entries], dtype=np.float64
    )
    kinds = highspy.HighsVarType
    model.integrality_ = [
        kinds.kInteger if column.whole else kinds.kContinuous for column in columns
    ]
    return model
