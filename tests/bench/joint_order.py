"""What it costs to order all items together against each by itself, on simulated jobs.

    python -m tests.bench.joint_order [--people 6] [--half held]

One trip brings all that is missing, however many items ran short; each pack left over costs so
much. A person has closed twelve jobs, and some lie ahead, each with its own sizes. Each is ordered
in three ways: every item by itself (as if the others could not run short), all together, and by who
knows the true rates, but not the luck. Then each job is done over many times, each time with other
luck, and the costs are what really happened. Besides, each job is ordered at a chance of 10 %: for
each item by itself, and that anything is missing; printed is how often anything was. The same is
done on the trades of `tests.bench.learning`, after 3, 10 and 40 closed jobs.

What makes the jobs is not what is fitted to them: pieces are lost one by one, as many as a Poisson
says, at a rate times the luck of the job times the luck of the item, both gamma-distributed; what
is left is counted in halves. Every number is invented. The held half of the settings was chosen
with the open one before anything was measured; it is run once, when all is done.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from itertools import product

import numpy as np
import numpy.typing as npt

from joblog.model import History, OrderCosts, PastUse
from joblog.rates import learn, order_quantity, predict
from joblog.rates.jointly import Demand, order_together
from joblog.rates.together import together
from tests.bench.learning.simulators import HELD as HELD_TRADES
from tests.bench.learning.simulators import OPEN as TRADES
from tests.bench.learning.simulators import contractor
from tests.bench.learning.trade import Contractor

Floats = npt.NDArray[np.float64]
Counts = npt.NDArray[np.int64]

CLOSED = 12
AHEAD = 4
OUTCOMES = 4000
RISK = 0.10


@dataclass(frozen=True)
class Setting:
    seed: int
    trip: int
    left_over: int
    items: int
    scatter: float
    """The standard deviation of the luck of an item on a job, of which the mean is 1."""
    shared: float
    """The part of its variance that all items of the job have in common."""
    packs: tuple[int, ...] = (1, 1, 1, 10)


OPEN = {
    "six items": Setting(1, 60, 8, 6, 0.4, 0.5),
    "three, dear leftovers": Setting(2, 40, 15, 3, 0.6, 0.2),
    "ten, dear trip": Setting(3, 150, 5, 10, 0.3, 0.7),
    "fifteen, no shared luck": Setting(4, 90, 8, 15, 0.5, 0.0),
}
HELD = {
    "eight, nearly one luck": Setting(7001, 75, 10, 8, 0.5, 0.9),
    "four, wild": Setting(7002, 35, 4, 4, 0.8, 0.4, (1, 2, 12)),
    "twelve, dear both": Setting(7003, 200, 20, 12, 0.35, 0.3, (1, 1, 6)),
    "twenty, cheap leftovers": Setting(7004, 60, 2, 20, 0.6, 0.6),
}


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--people", type=int, default=6)
    asked.add_argument("--half", choices=("open", "held"), default="open")
    told = asked.parse_args()
    print(f"{'':<24} cost of a job             more than knowing  anything missing (10 % asked)")
    print(f"{'':<24} each  together  knowing   each  together    each   together, said  proved")
    for name, setting in (OPEN if told.half == "open" else HELD).items():
        rows = [row for at in range(told.people) for row in _jobs(setting, at)]
        each, joint, knowing, alone, any_of, said, proved, gap = np.mean(rows, axis=0)
        more = [100 * (one / knowing - 1) for one in (each, joint)]
        print(
            f"{name:<24} {each:6.2f} {joint:7.2f} {knowing:8.2f}"
            f"   {more[0]:5.1f} % {more[1]:5.1f} %"
            f"   {100 * alone:5.1f} %  {100 * any_of:5.1f} %  {100 * said:5.1f} %"
            f"  {100 * proved:4.0f} % (farthest {100 * gap:.2f} %)",
            flush=True,
        )
    print("\ntrade, closed jobs   anything missing (10 % asked)   bought beyond what is sure")
    print("                       each  together, said              each  together")
    for trade, of_trade in (TRADES if told.half == "open" else HELD_TRADES).items():
        for jobs in (3, 10, 40):
            found = [_of_trade(contractor(of_trade, at), jobs) for at in range(told.people)]
            alone, any_of, said, each, joint = 100 * np.mean(found, axis=0)
            print(
                f"{trade:<12} {jobs:>4}   {alone:7.1f} % {any_of:6.1f} % {said:6.1f} %"
                f"            {each:5.1f} % {joint:5.1f} %",
                flush=True,
            )


def _of_trade(person: Contractor, jobs: int) -> tuple[float, ...]:
    """How often anything was missing by itself and together, what was said of it, and how much was
    bought beyond what is sure."""
    learned = learn(person.history(jobs), estimate=person.estimate)
    demands, wanted = [], []
    for use in person.ahead[jobs].uses:
        found = predict(
            learned, use.goods.name, use.net, use.geometric, family=use.goods.family,
            fahrenheit=use.fahrenheit, depth=use.depth, crew=use.crew,
        )  # fmt: skip
        sure = use.net + (use.geometric or 0)
        demands.append(Demand(found, use.pack, at_least=sure, price=use.pack))
        wanted.append(_packs(np.array(use.counted), [float(use.pack)]))
    made = order_together(demands, alike=together(learned)[0], risk=RISK)
    each = [
        order_quantity(one.prediction, one.pack, risk=RISK, at_least=one.at_least)
        for one in demands
    ]
    needed = float(sum(one.at_least for one in demands))
    missing, bought = [], []
    for orders in (each, made.orders):
        packs = np.array([order.packs for order in orders])
        missing.append(float((packs < np.array(wanted).T).any(axis=1).mean()))
        bought.append(float(sum(order.quantity for order in orders)) / needed - 1)
    return (*missing, made.chance_any, *bought)


@dataclass(frozen=True)
class Person:
    rates: Floats
    packs: tuple[int, ...]
    setting: Setting

    def amounts(self, sizes: Counts, times: int, luck: np.random.Generator) -> Floats:
        """What is gone of each item (column), each time (row) with other luck, as counted."""
        scatter, shared = self.setting.scatter**2, self.setting.shared
        of_job = _gamma(luck, scatter * shared, (times, 1))
        of_item = _gamma(luck, scatter * (1 - shared), (times, len(sizes)))
        lost = luck.poisson(sizes * self.rates * of_job * of_item)
        trimmed = luck.uniform(0, 0.01, lost.shape) * sizes
        return np.asarray(np.round(2 * (sizes + lost + trimmed)) / 2)


def _gamma(luck: np.random.Generator, variance: float, shape: tuple[int, int]) -> Floats:
    if variance <= 0:
        return np.ones(shape)
    return luck.gamma(1 / variance, variance, shape)


def _jobs(setting: Setting, number: int) -> Iterator[tuple[float, ...]]:
    luck = np.random.default_rng([setting.seed, number])
    rates = np.exp(luck.uniform(np.log(0.03), np.log(0.15), setting.items))
    packs = tuple(int(luck.choice(setting.packs)) for _ in range(setting.items))
    person = Person(rates, packs, setting)
    learned = learn(History(tuple(_past(person, luck))))
    alike = together(learned)[0]
    costs = OrderCosts(Decimal(setting.trip), Decimal(setting.left_over), once=True)
    for _ in range(AHEAD):
        sizes = _sizes(person, luck)
        foreseen = [
            predict(learned, _name(at), Fraction(int(size)), Fraction(0))
            for at, size in enumerate(sizes)
        ]
        demands = [
            Demand(one, Fraction(pack), at_least=Fraction(int(size)), price=Fraction(pack))
            for one, pack, size in zip(foreseen, packs, sizes, strict=True)
        ]
        joint = order_together(demands, alike=alike, costs=costs)
        at_risk = order_together(demands, alike=alike, risk=RISK)
        each, each_at_risk = (
            np.array(
                [
                    order_quantity(one.prediction, one.pack, at_least=one.at_least, **stakes).packs
                    for one in demands
                ]
            )
            for stakes in ({"costs": costs}, {"risk": RISK})
        )
        wanted = _packs(person.amounts(sizes, OUTCOMES, luck), packs)
        known = best(_packs(person.amounts(sizes, OUTCOMES, luck), packs), setting)
        together_ = np.array([order.packs for order in joint.orders])
        at_risk_ = np.array([order.packs for order in at_risk.orders])
        gap = max(one.at_most_saved for one in (joint, at_risk))
        yield (
            *(cost(packs_, wanted, setting) for packs_ in (each, together_, known)),
            *(float((wanted > packs_).any(axis=1).mean()) for packs_ in (each_at_risk, at_risk_)),
            at_risk.chance_any,
            float(gap < 1e-6),
            gap,
        )


def cost(packs: Counts, wanted: Counts, setting: Setting) -> float:
    """Of so many packs, on average over what was wanted."""
    trips = (wanted > packs).any(axis=1).mean() * setting.trip
    return float(trips + setting.left_over * np.maximum(packs - wanted, 0).sum(axis=1).mean())


def best(wanted: Counts, setting: Setting) -> Counts:
    """The cheapest packs, when these amounts are as likely as each other.

    Up to three items every choice is tried. More items are climbed one by one, from the least packs
    and from the most; that is the best where both ends meet, and near it where they do not.
    """
    low, high = wanted.min(axis=0), wanted.max(axis=0)
    if wanted.shape[1] <= 3:
        every = product(*(range(a, b + 1) for a, b in zip(low, high, strict=True)))
        return min((np.array(one) for one in every), key=lambda one: cost(one, wanted, setting))
    return min(
        (_climbed(start.copy(), wanted, setting) for start in (low, high)),
        key=lambda one: cost(one, wanted, setting),
    )


def _climbed(packs: Counts, wanted: Counts, setting: Setting) -> Counts:
    before = None
    while before is None or (packs != before).any():
        before = packs.copy()
        for at in range(len(packs)):
            others = np.delete(wanted > packs, at, axis=1).any(axis=1)
            packs[at] = min(
                range(wanted[:, at].min(), wanted[:, at].max() + 1),
                key=lambda count, at=at, others=others: (  # type: ignore[misc]
                    setting.trip * (others | (wanted[:, at] > count)).mean()
                    + setting.left_over * np.maximum(count - wanted[:, at], 0).mean()
                ),
            )
    return np.asarray(packs)


def _past(person: Person, luck: np.random.Generator) -> Iterator[PastUse]:
    for job in range(CLOSED):
        sizes = _sizes(person, luck)
        [gone] = person.amounts(sizes, 1, luck)
        day = date(2025, 1, 6) + timedelta(weeks=2 * job)
        for at, (size, amount) in enumerate(zip(sizes, gone, strict=True)):
            yield PastUse(
                job=f"job {job}", day=day, item=_name(at), net=Fraction(int(size)),
                consumed=Fraction(float(amount)), geometric=Fraction(0),
            )  # fmt: skip


def _sizes(person: Person, luck: np.random.Generator) -> Counts:
    of_job = np.exp(luck.uniform(np.log(6), np.log(60)))
    sizes = of_job * luck.uniform(0.5, 1.5, person.setting.items)
    return np.asarray(np.maximum(2, np.round(sizes)), dtype=np.int64)


def _packs(amounts: Floats, packs: Sequence[float]) -> Counts:
    whole: Counts = np.ceil(amounts / np.array(packs) - 1e-9).astype(np.int64)
    return whole


def _name(at: int) -> str:
    return f"item {at + 1}"


if __name__ == "__main__":
    main()
