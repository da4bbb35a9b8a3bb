"""How well the rates would have predicted: each job from the ones that closed before it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

import numpy as np

from joblog.model import BackTest, History, OrderCosts, PastUse, PastWork, Prediction
from joblog.rates.learn import learn
from joblog.rates.learned import Learned, key_of, past_of
from joblog.rates.order import order_quantity
from joblog.rates.predict import predict, predict_hours

FLAT = 0.10
COSTS = OrderCosts(second_trip=Decimal(4), left_over=Decimal(1))
"""Each pack missing is taken to cost as much as four packs left over, unless told."""
LEVELS = (0.5, 0.8, 0.95)
WAYS = ("learned", "plain average", "flat 10 % after cuts", "flat 10 % of net")


def back_test(
    history: History,
    *,
    half_life: float | None = None,
    costs: OrderCosts = COSTS,
    packs: Mapping[str, Fraction] | None = None,
    last: int = 60,
) -> BackTest:
    """Coverage of the intervals, and the cost of ordering, over the `last` jobs.

    Every job is predicted from the jobs of earlier days only; jobs of the first day are not
    predicted. `packs` holds what one pack of an item holds, in its unit; 1 unless given. Four
    ways of ordering whole packs are compared: as learned at the risk that balances `costs`; with
    the plain average of the earlier jobs' waste of the item (of all items while it has none); with
    a tenth more than net plus geometric waste; with a tenth more than net, as is common where no
    cut list was made. A way costs `second_trip` for each pack missing
    (or once) and `left_over` for each unopened pack, told in left-over packs.
    """
    held: list[tuple[float, ...]] = []
    hours: list[tuple[float, ...]] = []
    trials: list[Trial] = []
    days = _days(history, last)
    sizes = {key_of(item): pack for item, pack in (packs or {}).items()}
    for day in days:
        before = _earlier(history, day)
        learned = learn(before, half_life=half_life, as_of=day)
        for use in (use for use in history.uses if use.day == day):
            demand = _predicted(learned, use)
            held.append(_held(demand, float(use.consumed)))
            pack = sizes.get(key_of(use.item), Fraction(1))
            trials.append(trial(before.uses, use, demand, pack, costs))
        for work in (work for work in history.work if work.day == day):
            if key_of(work.task) in learned.hours.members:
                hours.append(_held(_hours_of(learned, work), float(work.crew_hours)))
    return BackTest(
        jobs=len({(line.job, line.day) for line in past_of(history) if line.day in set(days)}),
        predictions=len(held),
        coverage=_coverage(held),
        hours_predictions=len(hours),
        hours_coverage=_coverage(hours),
        costs=tuple(_mean(way, (one.cost[way] for one in trials)) for way in WAYS if trials),
        short=tuple(_mean(way, (one.short[way] for one in trials)) for way in WAYS if trials),
        left_over=tuple(_mean(way, (one.left[way] for one in trials)) for way in WAYS if trials),
        notes=tuple(_notes(len(days), costs)),
    )


@dataclass(frozen=True, slots=True)
class Trial:
    """What each way of ordering would have cost one job and item, and what went wrong."""

    cost: Mapping[str, float]
    short: Mapping[str, float]
    left: Mapping[str, float]


def trial(
    before: Sequence[PastUse],
    use: PastUse,
    demand: Prediction,
    pack: Fraction,
    costs: OrderCosts,
) -> Trial:
    """Every way of ordering, on one job and item."""
    base = float(use.net + (use.geometric or 0))
    ordered = {
        "learned": float(order_quantity(demand, pack, costs=costs).packs),
        "plain average": _whole(base * (1 + _average(before, use.item)), pack),
        "flat 10 % after cuts": _whole(base * (1 + FLAT), pack),
        "flat 10 % of net": _whole(float(use.net) * (1 + FLAT), pack),
    }
    wanted = _whole(float(use.consumed), pack)
    trip = float(costs.second_trip / costs.left_over)
    return Trial(
        {
            way: max(n - wanted, 0) + trip * (n < wanted if costs.once else max(wanted - n, 0))
            for way, n in ordered.items()
        },
        {way: float(n < wanted) for way, n in ordered.items()},
        {way: max(n - wanted, 0) for way, n in ordered.items()},
    )


def _whole(amount: float, pack: Fraction) -> float:
    return float(np.ceil(amount / float(pack) - 1e-9))


def _average(before: Sequence[PastUse], item: str) -> float:
    mine = [use for use in before if key_of(use.item) == key_of(item)] or before
    shares = [float(use.consumed / (use.net + (use.geometric or 0))) - 1 for use in mine]
    return sum(shares) / len(shares) if shares else FLAT


def _days(history: History, last: int) -> list[date]:
    """The days to predict: those of the last jobs, but never the first day of all."""
    jobs = sorted({(line.day, line.job) for line in past_of(history)})
    later = [(day, job) for day, job in jobs if day > jobs[0][0]]
    return sorted({day for day, _ in later[-last:]}) if last > 0 else []


def _earlier(history: History, day: date) -> History:
    return History(
        tuple(use for use in history.uses if use.day < day),
        tuple(work for work in history.work if work.day < day),
    )


def _predicted(learned: Learned, use: PastUse) -> Prediction:
    return predict(
        learned,
        use.item,
        use.net,
        use.geometric,
        family=use.family,
        fahrenheit=use.fahrenheit,
        depth=use.depth,
        crew=use.crew,
    )


def _hours_of(learned: Learned, work: PastWork) -> Prediction:
    return predict_hours(
        learned,
        work.task,
        work.quantity,
        fahrenheit=work.fahrenheit,
        depth=work.depth,
        crew=work.crew,
    )


def _held(prediction: Prediction, happened: float) -> tuple[float, ...]:
    return tuple(float(one.low <= happened <= one.high) for one in prediction.intervals)


def _coverage(held: Sequence[tuple[float, ...]]) -> tuple[tuple[float, float], ...]:
    if not held:
        return ()
    shares = np.array(held).mean(axis=0)
    return tuple((level, float(share)) for level, share in zip(LEVELS, shares, strict=True))


def _mean(way: str, values: Iterator[float] | Iterable[float]) -> tuple[str, float]:
    return way, float(np.mean(list(values)))


def _notes(days: int, costs: OrderCosts) -> Iterator[str]:
    if not days:
        yield "all jobs closed on one day, or there is none: nothing came before to predict from"
        return
    trip = float(costs.second_trip / costs.left_over)
    what = "a second trip" if costs.once else "each pack missing"
    yield f"{what} is taken to cost as much as {trip:.3g} packs left over"
