"""The closed jobs behind the rates: out of their reconciliations, and one by one for a plot."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from joblog.model import History, PastUse, Reconciliation
from joblog.rates.learned import ODD, Learned, key_of, name_of
from joblog.rates.spread import trust


@dataclass(frozen=True, slots=True)
class JobRate:
    """One job's own rate of an item or task, beside what the model expected of it."""

    job: str
    day: date
    value: float
    usual: float
    weight: float
    """0 to 1: what it counts for beside a job in the middle."""
    odd: bool


def history_of(closed: Iterable[tuple[date, Reconciliation]]) -> History:
    """What closed jobs say of waste: every line that was counted, and placed anything.

    Net is what was placed, geometric waste the offcut; all the rest was handling.
    """
    return History(
        uses=tuple(
            PastUse(done.job, day, line.item, line.placed, line.consumed, line.offcut)
            for day, done in closed
            for line in done.stock
            if line.consumed is not None and line.placed > 0 and not line.left_out
        )
    )


def by_job(learned: Learned, name: str) -> tuple[JobRate, ...]:
    """Every job of an item or task in order of time; none where there is no such job."""
    found = []
    for group in (*learned.waste.values(), learned.hours):
        for at, line in enumerate(group.jobs):
            if key_of(name_of(line)) == key_of(name):
                away = group.away[at]
                found.append(
                    JobRate(
                        line.job,
                        line.day,
                        float(group.value[at]),
                        float(group.usual[at]),
                        float(trust(away)),
                        bool(abs(away) > ODD),
                    )
                )
    return tuple(sorted(found, key=lambda one: one.day))
