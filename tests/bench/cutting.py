"""Cut lists: stock used and time, against first-fit-decreasing and OR-Tools CP-SAT.

    python -m tests.bench.cutting [--cp-sat SECONDS] [--jobs N]

N random jobs (20 unless said) of 120 pieces over 20 lengths, in sixteenths of an inch, from 12 ft
stock with a kerf of 1/8, for three ranges of lengths. For each: sticks by first-fit-decreasing, by
joblog with its proved lower bound and the seconds of processor time until the stock is proved and
until the whole list is done (patterns and offcuts too), and by CP-SAT on one worker with the lower
bound that it reached within its limit. CP-SAT gets the usual model of equal sticks: how many of
each length are in each stick, used ones first, and the answer of first-fit-decreasing to start
from; it is not told of patterns. Then the patterns, and the fence settings.
"""

from __future__ import annotations

import argparse
import random
import time
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from joblog.cutting.columns import Bin, Pattern
from joblog.cutting.cuts import plan_cuts
from joblog.cutting.effort import Effort
from joblog.cutting.packing import pack
from joblog.cutting.whole_sticks import filled_greedily
from joblog.model import Piece, StockLength

STOCK, KERF = 144 * 16, 2
RANGES = {"12 to 96 in": (12, 96), "6 to 40 in": (6, 40), "40 to 140 in": (40, 140)}


@dataclass(frozen=True)
class Job:
    """Lengths in sixteenths, and how many of each."""

    lengths: tuple[int, ...]
    pieces: tuple[int, ...]

    def weights(self) -> list[int]:
        return [length + KERF for length in self.lengths]


def main(jobs: int, cp_sat_seconds: float) -> None:
    for name, (least, most) in RANGES.items():
        print(f"\n{jobs} jobs of 120 pieces over 20 lengths, {name}, from 144 in, kerf 1/8")
        print(
            f"{'job':>4}{'FFD':>6}{'joblog':>8}{'bound':>7}{'proof s':>9}{'all s':>8}"
            f"{'CP-SAT':>8}{'bound':>7}{'s':>7}{'patterns':>10}{'fence':>7}"
        )
        rows = [
            _row(number, random_job(number, least, most), cp_sat_seconds) for number in range(jobs)
        ]
        _print_totals(rows)


@dataclass(frozen=True)
class Row:
    greedy: int
    sticks: int
    bound: int
    proof: float
    whole: float
    other: int | None
    other_bound: int
    other_seconds: float


def random_job(seed: int, least: int, most: int) -> Job:
    chance = random.Random(seed)
    lengths = chance.sample(range(least * 16, most * 16 + 1), 20)
    counts = Counter(range(20)) + Counter(chance.choices(range(20), k=100))
    return Job(tuple(lengths), tuple(counts[at] for at in range(20)))


def _row(number: int, job: Job, cp_sat_seconds: float) -> Row:
    bins = [Bin(STOCK + KERF, 1)]
    first_fit = filled_greedily(job.weights(), job.pieces, bins)
    greedy = sum(first_fit.values())
    began = time.process_time()
    packing = pack(job.weights(), job.pieces, bins, Effort())
    proof = time.process_time() - began
    began = time.process_time()
    wanted = [
        Piece(Fraction(length, 16), count)
        for length, count in zip(job.lengths, job.pieces, strict=True)
    ]
    plan, _ = plan_cuts(wanted, [StockLength(Fraction(144))])
    whole = time.process_time() - began
    other, other_bound, seconds = _cp_sat(job, first_fit, cp_sat_seconds)
    row = Row(greedy, len(plan.sticks), packing.bound, proof, whole, other, other_bound, seconds)
    print(
        f"{number:4}{greedy:6}{row.sticks:8}{row.bound:7}{proof:9.2f}{whole:8.2f}"
        f"{other if other is not None else '-':>8}{other_bound:7}{seconds:7.1f}"
        f"{plan.patterns:10}{plan.settings:7}",
        flush=True,
    )
    return row


def _cp_sat(job: Job, start: Counter[Pattern], limit: float) -> tuple[int | None, int, float]:
    from ortools.sat.python import cp_model

    if not limit:
        return None, 0, 0.0
    weights = job.weights()
    answer = sorted((counts for _, counts in start.elements()), reverse=True)
    model = cp_model.CpModel()
    used = [model.new_bool_var("") for _ in answer]
    cut = [
        [model.new_int_var(0, (STOCK + KERF) // weight, "") for weight in weights] for _ in answer
    ]
    for stick, in_use, known in zip(cut, used, answer, strict=True):
        model.add(sum(map(_times, stick, weights)) <= (STOCK + KERF) * in_use)
        model.add_hint(in_use, 1)
        for variable, count in zip(stick, known, strict=True):
            model.add_hint(variable, count)
    for at, count in enumerate(job.pieces):
        model.add(sum(stick[at] for stick in cut) == count)
    for one, following in pairwise(used):
        model.add(one >= following)
    room = -(-sum(map(_times, weights, job.pieces)) // (STOCK + KERF))
    model.add(sum(used) >= room)
    model.minimize(sum(used))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    # Its own measure of work, about seconds of an idle core: a busy machine takes nothing from it.
    solver.parameters.max_deterministic_time = limit
    solver.parameters.max_time_in_seconds = 20 * limit
    began = time.process_time()
    status = solver.solve(model)
    seconds = time.process_time() - began
    found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return (
        round(solver.objective_value) if found else None,
        round(solver.best_objective_bound),
        seconds,
    )


def _times(one: object, other: object) -> object:
    return one * other  # type: ignore[operator]


def _print_totals(rows: Sequence[Row]) -> None:
    proved = sum(row.sticks == row.bound for row in rows)
    others = [row for row in rows if row.other is not None]
    print(
        f" all{sum(row.greedy for row in rows):6}{sum(row.sticks for row in rows):8}"
        f"{sum(row.bound for row in rows):7}{max(row.proof for row in rows):9.2f}"
        f"{max(row.whole for row in rows):8.2f}{sum(row.other or 0 for row in others):8}"
        f"{sum(row.other_bound for row in rows):7}   (seconds: the longest)"
    )
    print(
        f"proved best: joblog {proved} of {len(rows)}, "
        f"CP-SAT {sum(row.other == row.other_bound for row in others)} of {len(others)}"
    )


if __name__ == "__main__":
    options = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    options.add_argument("--jobs", type=int, default=20)
    options.add_argument("--cp-sat", type=float, default=5.0, help="seconds; 0 leaves it out")
    asked = options.parse_args()
    main(asked.jobs, asked.cp_sat)
