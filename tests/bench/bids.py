"""How often what a job really costs lies in the interval of its bid, on the simulated trades.

    python -m tests.bench.bids [--people 40] [--half held]

Every person bids on the job ahead after so many closed jobs; the job is then done over, each time
with other luck. Printed for each trade and number of jobs: how many of the real costs lay in the
50, 80 and 95 % intervals, and how many were above the price at margins of 10 and 20 %, beside how
many the bid said. Material and pay are priced so that both are about half of the cost. The trades
and their settings are those of `tests.bench.learning`, and who changes how bids are made looks at
the open half only. About 2 s a person.
"""

from __future__ import annotations

import argparse
from collections import defaultdict
from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from fractions import Fraction

import numpy as np

from joblog.bid.chances import thinned
from joblog.bid.work_out import work_out
from joblog.model import (
    Bid,
    BidBasis,
    BidGround,
    Item,
    Plan,
    PlannedItem,
    PlannedTask,
    Prediction,
    Task,
)
from joblog.rates import learn, predict, predict_hours
from joblog.rates.together import together
from tests.bench.learning.simulators import HELD, OPEN, contractor
from tests.bench.learning.trade import JOBS, Ahead, Contractor

PAY = Decimal("40.00")
MARGINS = (10, 20)


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--people", type=int, default=40)
    asked.add_argument("--half", choices=("open", "held"), default="open")
    told = asked.parse_args()
    print("trade      jobs   50 %   80 %   95 %   above the price, said -> real, at 10 and 20 %")
    for name, setting in (OPEN if told.half == "open" else HELD).items():
        inside: dict[int, list[list[bool]]] = defaultdict(list)
        above: dict[int, list[list[float]]] = defaultdict(list)
        for number in range(told.people):
            person = contractor(setting, number)
            for jobs in JOBS:
                for one, over in _bids(person, jobs):
                    inside[jobs] += one
                    above[jobs] += over
        for jobs in JOBS:
            shares = np.mean(inside[jobs], axis=0)
            often = np.mean(above[jobs], axis=0)
            print(
                f"{name:<10} {jobs:>4}  "
                + "  ".join(f"{100 * share:5.1f}" for share in shares)
                + "   "
                + "   ".join(
                    f"{100 * often[2 * at]:5.1f} -> {100 * often[2 * at + 1]:5.1f}"
                    for at in range(len(MARGINS))
                ),
                flush=True,
            )


def _bids(person: Contractor, jobs: int) -> Iterator[tuple[list[list[bool]], list[list[float]]]]:
    ahead = person.ahead[jobs]
    basis = bid_basis(person, jobs, ahead)
    bid = work_out("ahead", date(2026, 1, 1), basis)
    assert bid.chances is not None
    real = real_costs(ahead, basis)
    yield (
        [[one.low <= cost <= one.high for one in bid.chances.intervals] for cost in real],
        [[*_above(basis, cost)] for cost in real],
    )


def _above(basis: BidBasis, cost: float) -> Iterator[float]:
    for margin in MARGINS:
        bid = _with_margin(basis, margin)
        assert bid.chances is not None
        yield bid.chances.over
        yield float(cost > float(bid.price))


_KEPT: dict[tuple[int, int], Bid] = {}


def _with_margin(basis: BidBasis, margin: int) -> Bid:
    key = (id(basis), margin)
    if key not in _KEPT:
        if len(_KEPT) > 2 * len(MARGINS):
            _KEPT.clear()
        _KEPT[key] = work_out("ahead", date(2026, 1, 1), basis, (("margin", f"{margin}%"),))
    return _KEPT[key]


def bid_basis(person: Contractor, jobs: int, ahead: Ahead) -> BidBasis:
    """The job ahead as it would be bid: what is foreseen of each item and task."""
    learned = learn(person.history(jobs), estimate=person.estimate)
    items, item_grounds, tasks, task_grounds = [], [], [], []
    for use in ahead.uses:
        found = predict(
            learned, use.goods.name, use.net, use.geometric, family=use.goods.family,
            fahrenheit=use.fahrenheit, depth=use.depth, crew=use.crew,
        )  # fmt: skip
        items.append(PlannedItem(Item(use.goods.name, "each"), _exact(found.mean), Decimal("1.00")))
        item_grounds.append(_ground(found))
    for work in ahead.work:
        found = predict_hours(
            learned, work.labor.name, work.quantity, estimate=work.labor.planned,
            fahrenheit=work.fahrenheit, depth=work.depth, crew=work.crew,
        )  # fmt: skip
        hours = Fraction(round(found.mean * 100), 100)
        tasks.append(PlannedTask(Task(work.labor.name), hours, PAY, work.quantity))
        task_grounds.append(_ground(found))
    # Material at a price that makes it about half of all.
    labor = float(sum(task.hours for task in tasks)) * float(PAY)
    price = Decimal(str(round(labor / float(sum(item.quantity for item in items)), 2)))
    priced = tuple(
        PlannedItem(item.item, item.quantity, max(price, Decimal("0.01"))) for item in items
    )
    return BidBasis(
        Plan(priced, tuple(tasks)), (), tuple(item_grounds), tuple(task_grounds), (),
        *together(learned),
    )  # fmt: skip


def real_costs(ahead: Ahead, basis: BidBasis) -> list[float]:
    """What the job cost, each time that it was done over."""
    price = float(basis.plan.items[0].unit_cost or 0)
    times = len(ahead.uses[0].counted)
    return [
        sum(use.counted[at] * price for use in ahead.uses)
        + sum(work.told[at] * float(PAY) for work in ahead.work)
        for at in range(times)
    ]


def _ground(found: Prediction) -> BidGround:
    return BidGround(found.name, (), thinned(found.equally_likely), found.n)


def _exact(amount: float) -> Fraction:
    return Fraction(round(amount * 1000), 1000)


if __name__ == "__main__":
    main()
