"""Arc-flow models of cutting stock for HiGHS and CP-SAT, which joblog's answers are held against.

Sticks of one kind as the reflect model (Delorme and Iori 2020): the flow goes over half a stick
only, from both its ends, and the two halves meet in one reflected arc. Sticks of several kinds as
the plain model (Valerio de Carvalho 1999). In both the pieces of a stick come in falling order, and
only what can be reached by pieces is a node.
"""

from __future__ import annotations

import threading
import time
from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

import highspy
import numpy as np

from joblog.cutting.columns import Bin


@dataclass(frozen=True)
class Answer:
    """The cost of what was found, None where nothing was, and what any must cost at least."""

    cost: int | None
    bound: int


@dataclass
class Model:
    """Whole variables from 0: cost, most, and entries; rows with what they must lie between."""

    costs: list[int] = field(default_factory=list)
    most: list[int] = field(default_factory=list)
    entries: list[dict[int, int]] = field(default_factory=list)
    rows: list[tuple[int, int | None]] = field(default_factory=list)

    def row(self, least: int, most: int | None) -> int:
        self.rows.append((least, most))
        return len(self.rows) - 1

    def add(self, cost: int, most: int, entries: Counter[int]) -> None:
        self.costs.append(cost)
        self.most.append(most)
        self.entries.append({row: value for row, value in entries.items() if value})


def by_highs(
    weights: Sequence[int], demands: Sequence[int], bins: Sequence[Bin], seconds: float
) -> Answer:
    until = time.process_time() + seconds
    model = model_of(weights, demands, bins)
    solver = highspy.Highs()
    solver.silent()
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("mip_abs_gap", 0.999)
    solver.setOptionValue("time_limit", 20 * seconds)

    def stop_when_late(event: Any) -> None:
        if time.process_time() > until:
            event.data_in.user_interrupt = True

    solver.cbMipInterrupt.subscribe(stop_when_late)
    solver.cbSimplexInterrupt.subscribe(stop_when_late)
    solver.passModel(_for_highs(model))
    solver.run()
    info = solver.getInfo()
    found = info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible
    low = info.mip_dual_bound
    bound = int(np.ceil(low - 1e-6)) if abs(low) < 1e15 else 0
    cost = round(info.objective_function_value) if found else None
    if solver.getModelStatus() == highspy.HighsModelStatus.kOptimal and cost is not None:
        bound = cost
    return Answer(cost, max(0, bound))


def by_cp_sat(
    weights: Sequence[int], demands: Sequence[int], bins: Sequence[Bin], seconds: float
) -> Answer:
    from ortools.sat.python import cp_model

    until = time.process_time() + seconds
    flow = model_of(weights, demands, bins)
    model = cp_model.CpModel()
    variables = [model.new_int_var(0, most, "") for most in flow.most]
    sums: dict[int, list[Any]] = defaultdict(list)
    for variable, entries in zip(variables, flow.entries, strict=True):
        for row, value in entries.items():
            sums[row].append(value * variable)
    for number, (least, most) in enumerate(flow.rows):
        total = sum(sums[number])
        if most is None:
            model.add(total >= least)
        elif least == most:
            model.add(total == least)
        else:
            model.add_linear_constraint(total, least, most)
    model.minimize(sum(cost * each for cost, each in zip(flow.costs, variables, strict=True)))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = 20 * seconds
    done = threading.Event()

    def stop_when_late() -> None:
        while not done.wait(0.05):
            if time.process_time() > until:
                solver.stop_search()

    watch = threading.Thread(target=stop_when_late)
    watch.start()
    status = solver.solve(model)
    done.set()
    watch.join()
    found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    cost = round(solver.objective_value) if found else None
    return Answer(cost, max(0, int(np.ceil(solver.best_objective_bound - 1e-6))))


def model_of(weights: Sequence[int], demands: Sequence[int], bins: Sequence[Bin]) -> Model:
    if len(bins) == 1 and bins[0].limit is None:
        return reflected(weights, demands, bins[0])
    return plain(weights, demands, bins)


def reflected(weights: Sequence[int], demands: Sequence[int], bin: Bin) -> Model:
    """All sizes are doubled, so that half a stick is a whole number."""
    half = bin.capacity
    most = sum(demands)
    model = Model()
    served = [model.row(count, None) for count in demands]
    arcs: list[tuple[int, int, int, bool]] = []
    for at, tail, head in _arcs([2 * weight for weight in weights], demands, 2 * half, half):
        reflects = head > half
        arcs.append((at, tail, 2 * half - head if reflects else head, reflects))
    nodes = sorted({0, half, *(node for _, tail, head, _ in arcs for node in (tail, head))})
    through = {node: model.row(0, 0) for node in nodes if node}
    ends = model.row(0, 0)

    def add(tail: int, head: int, reflects: bool, at: int | None) -> None:
        """A path enters a node and leaves it, or is reflected from it, or meets another there."""
        entries: Counter[int] = Counter()
        if at is not None:
            entries[served[at]] += 1
        if tail:
            entries[through[tail]] -= 1
        else:
            entries[ends] += 1
        if reflects:
            # Each stick has two paths; one that meets a path of nothing has but this.
            entries[ends] -= 2
            if head:
                entries[through[head]] -= 1
            else:
                entries[ends] += 1
        else:
            entries[through[head]] += 1
        model.add(bin.cost if reflects else 0, most if at is None else demands[at], entries)

    for at, tail, head, reflects in arcs:
        add(tail, head, reflects, at)
    for tail, head in pairwise(nodes):
        add(tail, head, False, None)
    add(half, half, True, None)
    return model


def plain(weights: Sequence[int], demands: Sequence[int], bins: Sequence[Bin]) -> Model:
    longest = max(bin.capacity for bin in bins)
    model = Model()
    served = [model.row(count, None) for count in demands]
    arcs = list(_arcs(weights, demands, longest, longest))
    ends = {bin.capacity for bin in bins}
    nodes = sorted({0, *ends, *(node for _, tail, head in arcs for node in (tail, head))})
    through = {node: model.row(0, 0) for node in nodes}
    for at, tail, head in arcs:
        model.add(0, demands[at], Counter({served[at]: 1, through[tail]: -1, through[head]: 1}))
    for tail, head in pairwise(nodes):
        model.add(0, sum(demands), Counter({through[tail]: -1, through[head]: 1}))
    for bin in bins:
        most = sum(demands) if bin.limit is None else bin.limit
        model.add(bin.cost, most, Counter({through[bin.capacity]: -1, through[0]: 1}))
    return model


def _arcs(
    weights: Sequence[int], demands: Sequence[int], room: int, furthest: int
) -> list[tuple[int, int, int]]:
    """Piece, tail and head; from tails up to `furthest`, pieces in their falling order."""
    reached = {0}
    arcs = []
    for at, (weight, count) in enumerate(zip(weights, demands, strict=True)):
        front = set(reached)
        seen: set[int] = set()
        for _ in range(count):
            front = {tail for tail in front if tail <= furthest and tail + weight <= room} - seen
            if not front:
                break
            seen |= front
            arcs += [(at, tail, tail + weight) for tail in sorted(front)]
            front = {tail + weight for tail in front}
        reached |= {tail + weight for tail in seen if tail + weight <= furthest}
    return arcs


def _for_highs(model: Model) -> Any:
    made = highspy.HighsLp()
    made.num_col_, made.num_row_ = len(model.costs), len(model.rows)
    made.col_cost_ = np.array(model.costs, dtype=np.float64)
    made.col_lower_ = np.zeros(len(model.costs))
    made.col_upper_ = np.array(model.most, dtype=np.float64)
    made.row_lower_ = np.array([least for least, _ in model.rows], dtype=np.float64)
    made.row_upper_ = np.array(
        [np.inf if most is None else most for _, most in model.rows], dtype=np.float64
    )
    starts = np.cumsum([0, *(len(entries) for entries in model.entries)])
    made.a_matrix_.format_ = highspy.MatrixFormat.kColwise
    made.a_matrix_.start_ = starts.astype(np.int32)
    made.a_matrix_.index_ = np.array(
        [row for entries in model.entries for row in entries], dtype=np.int32
    )
    made.a_matrix_.value_ = np.array(
        [value for entries in model.entries for value in entries.values()], dtype=np.float64
    )
    made.integrality_ = [highspy.HighsVarType.kInteger] * len(model.costs)
    return made
