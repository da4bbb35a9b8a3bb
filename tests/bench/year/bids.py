"""Bids made before each job from the sixth on, and what became of them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from fractions import Fraction
from statistics import median
from typing import Any

from joblog.book import Book
from joblog.model import Bid
from joblog.service import Desk, bidding, open_desk
from tests.bench.year.ledger import Key, Ledger
from tests.bench.year.life import PAY, Fact

FROM = 6
"""The first job that is bid on: the five before have taught something."""
MILE_RATE, MILES_A_DAY, SPENT_A_DAY = Decimal("0.67"), 23, 10
MARGIN = Fraction(1, 5)


@dataclass(slots=True)
class Bidding:
    """Makes a bid wherever a plan is loaded, once enough jobs were done."""

    seen: int = 0
    bids: dict[str, Bid] = field(default_factory=dict)

    def on(self, desk: Desk, plan: Fact) -> None:
        self.seen += 1
        if self.seen < FROM:
            return
        days = -(-sum(hours for _, hours, _, _ in plan[4]) // 8)
        numbers = [
            ("hourly cost", str(PAY)), ("margin", "20%"), ("miles", str(MILES_A_DAY * days)),
            ("mile rate", str(MILE_RATE)), ("expense.dump", str(SPENT_A_DAY * days)),
        ]  # fmt: skip
        self.bids[desk.job.name] = bidding.bid_on_plan(desk, numbers).bid


@dataclass(frozen=True, slots=True)
class Outcome:
    """A bid beside what the job really cost, by the independent ledger."""

    job: str
    bid: Bid
    real: float

    def within(self) -> Iterator[tuple[float, bool]]:
        assert self.bid.chances is not None
        for interval in self.bid.chances.intervals:
            yield interval.level, interval.low <= self.real <= interval.high

    @property
    def off(self) -> float:
        """The cost that was bid, less the real one, as a share of that."""
        return float(self.bid.all_cost) / self.real - 1


def outcomes(bids: dict[str, Bid], ledger: Ledger) -> tuple[Outcome, ...]:
    return tuple(Outcome(job, bid, float(real_cost(ledger, job))) for job, bid in bids.items())


def real_cost(ledger: Ledger, job: str) -> Fraction:
    """Material, hours of tasks, money spent, hours of no task and driving."""
    untold = max(ledger.figures[job, "sum", "untold_hours"], Fraction(0))
    miles = ledger.figures[job, "beside", "miles"]
    return ledger.costs[job] + untold * Fraction(PAY) + miles * Fraction(MILE_RATE)


def put_what_became(ledger: Ledger, bids: dict[str, Bid]) -> None:
    """What each bid should be told to have come to."""
    for job, bid in bids.items():
        real = real_cost(ledger, job)
        charged = Fraction(bid.price) + ledger.figures[job, "beside", "to_charge"]
        ledger.figures[job, "bid", "cost"] = real
        ledger.figures[job, "bid", "charged"] = charged
        ledger.figures[job, "bid", "earned"] = charged - real


def shown_to_have_become(book: Book, bids: dict[str, Bid]) -> Iterator[tuple[Key, Any]]:
    for job in bids:
        became = bidding.what_became(open_desk(book, job))
        for name in ("cost", "charged", "earned"):
            yield (job, "bid", name), getattr(became, name)


def plan_as_it_stands(book: Book, job: str) -> Fact:
    """The plan that the bid made, as a fact: what was bid is where the ledger begins."""
    plan = book.plan(job)
    items = tuple(
        (line.item.name, line.quantity, line.unit_cost, line.net, line.offcut, line.task)
        for line in plan.items
    )
    tasks = tuple(
        (line.task.name, line.hours, line.hourly_cost, line.quantity) for line in plan.tasks
    )
    return ("plan", job, None, items, tasks)


def told_of_bids(found: Sequence[Outcome]) -> Iterator[str]:
    """How often the real cost lay in the intervals, and how far the bids were off."""
    if not found:
        return
    held: dict[float, list[bool]] = {}
    for one in found:
        for level, inside in one.within():
            held.setdefault(level, []).append(inside)
    shares = ", ".join(
        f"{level:.0%}: {sum(inside)} of {len(inside)} ({sum(inside) / len(inside):.0%})"
        for level, inside in sorted(held.items())
    )
    yield f"the real cost lay in the interval of the bid: {shares}"
    off = median(abs(one.off) for one in found)
    together = sum(float(one.bid.all_cost) for one in found) / sum(one.real for one in found) - 1
    over = sum(one.real > float(one.bid.price) for one in found)
    said = sum(one.bid.chances.over for one in found if one.bid.chances) / len(found)
    yield (
        f"cost as bid beside real: off by {off:.1%} (median), together {together:+.1%}; dearer"
        f" than the price {over} of {len(found)}, and {said:.1%} were said"
    )
