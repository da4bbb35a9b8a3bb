"""How long it takes to learn from many closed jobs, and whether the time grows with them.

    python -m tests.bench.refit

Jobs of 40 items in 8 families and 6 tasks; prints processor seconds, and microseconds a line.
"""

from __future__ import annotations

import time
from datetime import date, timedelta
from fractions import Fraction

import numpy as np

from joblog.model import History, PastUse, PastWork
from joblog.rates import learn

FIRST = date(2015, 1, 1)


def main() -> None:
    print(f"{'jobs':>6}{'lines':>8}{'seconds':>9}{'us a line':>11}")
    for jobs in (125, 250, 500, 1000, 2000, 4000):
        closed = history(jobs)
        lines = len(closed.uses) + len(closed.work)
        started = time.process_time()
        learn(closed)
        took = time.process_time() - started
        print(f"{jobs:6}{lines:8}{took:9.2f}{1e6 * took / lines:11.1f}")


def history(jobs: int) -> History:
    """That many closed jobs, all invented."""
    luck = np.random.default_rng(1)
    uses: list[PastUse] = []
    work: list[PastWork] = []
    for job in range(jobs):
        name, day = f"job {job}", FIRST + timedelta(days=job)
        for item in range(40):
            net = Fraction(int(luck.integers(40, 400)), 8)
            lost = Fraction(round(8 * float(net) * 0.05 * np.exp(0.5 * luck.normal())), 8)
            family = f"family {item % 8}"
            uses.append(PastUse(name, day, f"item {item}", net, net + lost, Fraction(0), family))
        for task in range(6):
            quantity = Fraction(int(luck.integers(40, 400)))
            hours = quantity * Fraction(int(luck.integers(80, 150)), 1000)
            work.append(PastWork(name, day, f"task {task}", quantity, hours))
    return History(tuple(uses), tuple(work))


if __name__ == "__main__":
    main()
