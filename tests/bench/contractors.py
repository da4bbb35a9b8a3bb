"""Simulated contractors: are the intervals honest, and does ordering by them pay?

    python -m tests.bench.contractors [--contractors 200] [--seed 5]

Each contractor has true rates that nobody tells, and 3 to 30 closed jobs; every job after the
first is predicted from the ones before it by `joblog.rates.back_test`. What makes the jobs is not
the model that is fitted: pieces are spoiled one by one and part of a spoiled piece is often used
elsewhere, trimming takes a little of everything, a job's luck is gamma-distributed and partly
shared by all its items, cold days break panels, one job in forty has an accident that costs up to
a third of an item, nets are measured with an error, and what is left is counted in halves of a
piece. Contractors differ by a uniform factor, families and items by further ones, job sizes over
a tenfold range. Every number here is invented.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction

import numpy as np

from joblog.model import BackTest, History, OrderCosts, PastUse, PastWork
from joblog.rates import back_test

ITEMS = (
    # item, family, size of a usual job in pieces, usual handling waste, breaks in the cold
    ("soffit panel", "panels", 40, 0.07, 1.0),
    ("siding panel", "panels", 90, 0.06, 1.0),
    ("fascia", "trim", 16, 0.06, 0.2),
    ("wall channel", "trim", 18, 0.05, 0.4),
    ("j channel", "trim", 24, 0.06, 0.4),
    ("starter strip", "trim", 14, 0.04, 0.2),
    ("siding nails", "fasteners", 12, 0.10, 0.0),
    ("gutter", "gutters", 12, 0.03, 0.0),
)
TASKS = (("hang soffit", 0.11), ("hang siding", 0.05), ("bend fascia", 0.09))
COSTS = OrderCosts(second_trip=Decimal(4), left_over=Decimal(1))
ONE_TRIP = OrderCosts(second_trip=Decimal(10), left_over=Decimal(1), once=True)


@dataclass(frozen=True)
class Simulated:
    """A contractor's history, and what nobody tells: how each use came about."""

    history: History
    truths: tuple[Truth, ...]


@dataclass(frozen=True)
class Truth:
    """Behind one use: its true size, long-run rate in this weather, and how even the luck is."""

    use: PastUse
    size: float
    geometric: float
    rate: float
    evenness: float


def main() -> None:
    reading = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    reading.add_argument("--contractors", type=int, default=200)
    reading.add_argument("--seed", type=int, default=5)
    asked = reading.parse_args()
    luck = np.random.default_rng(asked.seed)
    everybody = [contractor(luck) for _ in range(asked.contractors)]
    tests = [back_test(one.history, costs=COSTS) for one in everybody]
    knowing = float(np.mean([cost for one in everybody for cost in _knowing(luck, one)]))
    report(tests, knowing)
    few = everybody[: asked.contractors // 4]
    trips = [back_test(one.history, costs=ONE_TRIP) for one in few]
    _report_costs(trips, "one trip costs 10 left over, however many are missing")


def contractor(luck: np.random.Generator) -> Simulated:
    """The closed jobs of one contractor."""
    sloppy = luck.uniform(0.5, 1.7)
    family_factor = {family: luck.uniform(0.7, 1.4) for _, family, *_ in ITEMS}
    item_factor = {item: luck.uniform(0.7, 1.35) for item, *_ in ITEMS}
    evenness = luck.uniform(3, 12)
    speed = {task: hours * luck.uniform(0.7, 1.5) for task, hours in TASKS}
    day = date(2024, 3, 1)
    truths: list[Truth] = []
    work: list[PastWork] = []
    for number in range(int(luck.integers(3, 31))):
        day += timedelta(days=int(luck.integers(5, 25)))
        name = f"job {number + 1}"
        fahrenheit = Fraction(int(60 - 30 * np.cos(2 * np.pi * day.timetuple().tm_yday / 365)))
        cold = max(0.0, (45 - float(fahrenheit)) / 25)
        big = luck.uniform(0.3, 2.0)
        shared = luck.gamma(evenness, 1 / evenness)
        for item, family, pieces, waste, brittle in ITEMS:
            if luck.random() < 0.25:
                continue
            size = pieces * big * luck.uniform(0.6, 1.6)
            geometric = size * luck.uniform(0.01, 0.07)
            rate = waste * sloppy * family_factor[family] * item_factor[item]
            rate *= 1 + 0.5 * brittle * cold
            lucky = rate * shared * luck.gamma(evenness, 1 / evenness)
            use = PastUse(
                name, day, item,
                net=Fraction(round(8 * max(size * luck.normal(1, 0.01), 0.6)), 8),
                consumed=Fraction(_consumed(luck, size, geometric, lucky)),
                geometric=Fraction(round(8 * geometric), 8),
                family=family,
                fahrenheit=fahrenheit,
            )  # fmt: skip
            truths.append(Truth(use, size, geometric, rate, evenness))
        for task, hours in speed.items():
            quantity = Fraction(round(200 * big * luck.uniform(0.5, 1.5)) + 20)
            took = float(quantity) * hours * luck.gamma(20, 1 / 20) * shared**0.3
            took += luck.uniform(0.2, 1.0)
            quarter_hours = max(1, round(took * 4))
            work.append(PastWork(name, day, task, quantity, Fraction(quarter_hours, 4), fahrenheit))
    return Simulated(History(tuple(truth.use for truth in truths), tuple(work)), tuple(truths))


def _consumed(luck: np.random.Generator, size: float, geometric: float, rate: float) -> float:
    spoiled = int(luck.poisson(0.75 * rate * size / 0.8))
    lost = 0.25 * rate * size + luck.choice([1.0, 0.5], size=spoiled, p=[0.6, 0.4]).sum()
    if luck.random() < 1 / 40:
        lost += luck.uniform(0.1, 0.33) * size
    return max(round(2 * (size + geometric + lost)), 2) / 2


def _knowing(luck: np.random.Generator, one: Simulated) -> Iterator[float]:
    """What the same orders cost somebody who knows the true rates and how luck falls."""
    trip = float(COSTS.second_trip / COSTS.left_over)
    for truth in one.truths:
        if truth.use.day == one.history.uses[0].day:
            continue
        rates = truth.rate * np.prod(luck.gamma(truth.evenness, 1 / truth.evenness, (2, 100)), 0)
        drawn = [_consumed(luck, truth.size, truth.geometric, rate) for rate in rates]
        ordered = np.ceil(np.quantile(drawn, trip / (1 + trip), method="inverted_cdf"))
        wanted = np.ceil(float(truth.use.consumed))
        yield float(max(ordered - wanted, 0) + trip * max(wanted - ordered, 0))


def report(tests: list[BackTest], knowing: float) -> None:
    count = np.array([test.predictions for test in tests])
    hours = np.array([test.hours_predictions for test in tests])
    print(f"{len(tests)} contractors, {count.sum()} orders and {hours.sum()} tasks predicted\n")
    print(f"{'interval':12}{'waste':>8}{'hours':>8}")
    for at, level in enumerate((0.5, 0.8, 0.95)):
        of_waste = np.array([test.coverage[at][1] if test.coverage else 0 for test in tests])
        of_hours = np.array(
            [test.hours_coverage[at][1] if test.hours_coverage else 0 for test in tests]
        )
        print(
            f"{level:<12.0%}{of_waste @ count / count.sum():8.1%}"
            f"{of_hours @ hours / hours.sum():8.1%}"
        )
    _report_costs(tests, "each pack missing costs 4 left over")
    print(f"{'knowing all':22}{knowing:8.3f}")


def _report_costs(tests: list[BackTest], what: str) -> None:
    count = np.array([test.predictions for test in tests])
    cost, short, left = (_over_all(tests, count, what) for what in ("costs", "short", "left_over"))
    print(f"\n{what}, {count.sum()} orders")
    print(f"{'way of ordering':22}{'cost':>8}{'learned saves':>16}{'short':>8}{'left':>8}")
    for way, each in cost.items():
        print(
            f"{way:22}{each:8.3f}{1 - cost['learned'] / each:16.1%}"
            f"{short[way]:8.1%}{left[way]:8.2f}"
        )


def _over_all(tests: list[BackTest], count: np.ndarray, what: str) -> dict[str, float]:
    ways = [way for way, _ in getattr(tests[0], what)]
    return {
        way: float(np.array([dict(getattr(test, what))[way] for test in tests]) @ count)
        / float(count.sum())
        for way in ways
    }


if __name__ == "__main__":
    main()
