"""Are the intervals honest after few jobs and after many? Each at 50, 80 and 95 %.

    python -m tests.bench.calibration [--contractors 60] [--seed 5]

First on the simulated contractors of `tests.bench.contractors`, whose jobs are not made by the
model that is fitted; then on items and tasks drawn from the stated prior itself, where every
interval must hold what it says but for chance: what differs there is a fault of the fit, what
differs only above lies in the prior. Predictions are told by how many jobs of the item or task
came before. What is counted in halves of a piece, or quarters of an hour, may lie on the edge of
an interval: on which side of it is left to chance.
"""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from datetime import date, timedelta
from fractions import Fraction

import numpy as np

from joblog.model import History, PastUse, PastWork, Prediction
from joblog.rates import learn, predict, predict_hours
from joblog.rates.fit import SPREAD_SURE, SPREADS, Scatter, scale_of
from joblog.rates.hours import ESTIMATE_ERROR, ESTIMATE_ERRORS, ESTIMATE_SURE
from joblog.rates.hours import SCATTER as HOURS
from joblog.rates.spread import Floats, slack_of
from joblog.rates.waste import CONTRACTOR_ERROR, FAMILY_ERROR, ITEM_ERROR, USUAL_WASTE
from joblog.rates.waste import SCATTER as WASTE
from tests.bench.contractors import contractor

ESTIMATE = 0.1
FIRST = date(2025, 1, 6)
BEFORE = ((0, 0), (1, 2), (3, 5), (6, 10), (11, 30))
Place = tuple[int, float]
"""How many jobs came before, and which share of the distribution lies below what happened."""


def main() -> None:
    reading = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    reading.add_argument("--contractors", type=int, default=60)
    reading.add_argument("--seed", type=int, default=5)
    asked = reading.parse_args()
    luck = np.random.default_rng(asked.seed)
    everybody = [contractor(luck).history for _ in range(asked.contractors)]
    report("waste, simulated", [place for one in everybody for place in of_waste(luck, one)])
    report("hours, simulated", [place for one in everybody for place in of_hours(luck, one)])
    for what, drawn in (("waste", waste_from_prior), ("hours", hours_from_prior)):
        places = [place for n in (1, 4, 8, 20) for place in drawn(luck, n, 400)]
        report(f"{what}, from the stated prior", places)


def of_waste(luck: np.random.Generator, history: History) -> Iterator[Place]:
    for day in sorted({use.day for use in history.uses})[1:]:
        before = History(tuple(use for use in history.uses if use.day < day))
        learned = learn(before, as_of=day)
        for use in history.uses:
            if use.day == day:
                told = predict(
                    learned, use.item, use.net, use.geometric,
                    family=use.family, fahrenheit=use.fahrenheit,
                )  # fmt: skip
                yield told.n, _place(luck, told, float(use.consumed), 0.5)


def of_hours(luck: np.random.Generator, history: History) -> Iterator[Place]:
    for day in sorted({work.day for work in history.work})[1:]:
        learned = learn(History(work=tuple(one for one in history.work if one.day < day)))
        for one in history.work:
            if one.day == day:
                told = predict_hours(learned, one.task, one.quantity, fahrenheit=one.fahrenheit)
                yield told.n, _place(luck, told, float(one.crew_hours), 0.25)


def hours_from_prior(
    luck: np.random.Generator, jobs: int, times: int, ahead: int = 1
) -> Iterator[Place]:
    """One task and one more job of it, drawn as `joblog.rates.learn` says that they come about; the
    job ahead is done over so many times."""
    for _ in range(times):
        degrees, spread, lump = _scatter(luck, HOURS)
        off = _likely(luck, ESTIMATE_ERRORS, ESTIMATE_ERROR, ESTIMATE_SURE)
        rate = ESTIMATE * np.exp(luck.normal(0, off))
        quantity = luck.integers(50, 400, jobs + 1)
        quantity = np.append(quantity[:jobs], [quantity[jobs]] * ahead)
        rate = rate + luck.choice(HOURS.set_ups) / quantity
        squared = np.log1p((lump * rate / quantity + (spread * rate) ** 2) / rate**2)
        log = np.log(rate) - squared / 2 + np.sqrt(squared) * luck.standard_t(degrees, jobs + ahead)
        hours = quantity * np.exp(log)
        work = tuple(
            PastWork(f"job {at}", FIRST + timedelta(weeks=at), "dig", Fraction(int(much)), took)
            for at, (much, took) in enumerate(zip(quantity, map(_exact, hours), strict=True))
        )
        learned = learn(History(work=work[:jobs]), estimate={"dig": _exact(ESTIMATE)})
        told = predict_hours(learned, "dig", work[jobs].quantity)
        for took in hours[jobs:].tolist():
            yield told.n, _place(luck, told, took, 0)


def waste_from_prior(
    luck: np.random.Generator, jobs: int, times: int, ahead: int = 1
) -> Iterator[Place]:
    """Three items of a family, `jobs` of each, and one more of the first, done over so many times;
    drawn in the same way."""
    for _ in range(times):
        degrees, spread, lump = _scatter(luck, WASTE)
        family = luck.normal(np.log(USUAL_WASTE), np.hypot(CONTRACTOR_ERROR, FAMILY_ERROR))
        apart = abs(luck.normal(0, ITEM_ERROR))
        uses = []
        for item in ("one", "another", "the third"):
            rate = np.exp(luck.normal(family, apart))
            net = luck.integers(10, 120, jobs + 1)
            net = np.append(net[:jobs], [net[jobs]] * ahead)
            slack = slack_of(net.astype(np.float64))
            variance = lump * rate / net + (spread * rate) ** 2 + (slack / 2) ** 2
            squared = np.log1p(variance / (rate + slack) ** 2)
            away = np.sqrt(squared) * luck.standard_t(degrees, jobs + ahead)
            consumed = net * (1 + np.exp(np.log(rate + slack) - squared / 2 + away) - slack)
            uses += [
                PastUse(
                    f"job {at}", FIRST + timedelta(weeks=at), item, Fraction(int(much)),
                    _exact(used), Fraction(0), "family",
                )
                for at, (much, used) in enumerate(zip(net, consumed, strict=True))
            ]  # fmt: skip
        next_ones = uses[jobs : jobs + ahead]
        next_one = next_ones[0]
        learned = learn(History(tuple(use for use in uses if use.day < next_one.day)))
        told = predict(learned, "one", next_one.net, Fraction(0), family="family")
        for one in next_ones:
            yield told.n, _place(luck, told, float(one.consumed), 0)


def _scatter(luck: np.random.Generator, scatter: Scatter) -> tuple[float, float, float]:
    degrees = float(luck.choice(scatter.degrees))
    usual = float(scale_of(scatter, np.array(degrees)))
    spread = _likely(luck, SPREADS, usual, SPREAD_SURE)
    return degrees, spread, float(luck.choice(scatter.lumps))


def _likely(luck: np.random.Generator, values: Floats, usual: float, sure: float) -> float:
    """One of the values, log-normal about the usual one."""
    likely = np.exp(-0.5 * (np.log(values / usual) / sure) ** 2)
    return float(luck.choice(values, p=likely / likely.sum()))


def _exact(hours: float) -> Fraction:
    return Fraction(max(round(hours * 10_000), 1), 10_000)


def _place(luck: np.random.Generator, told: Prediction, happened: float, step: float) -> float:
    amounts = np.array(told.equally_likely)
    return float((amounts < happened + step * luck.uniform(-0.5, 0.5)).mean())


def coverage(places: Sequence[Place]) -> tuple[float, float, float]:
    """Shares of what happened that lay in the middle 50, 80 and 95 %."""
    away = np.abs(np.array([place for _, place in places]) - 0.5)
    return float(np.mean(away < 0.25)), float(np.mean(away < 0.40)), float(np.mean(away < 0.475))


def report(what: str, places: Sequence[Place]) -> None:
    print(f"\n{what}\n{'jobs before':14}{'n':>7}{'50 %':>8}{'80 %':>8}{'95 %':>8}")
    for low, high in (*BEFORE, (0, 30)):
        among = [place for place in places if low <= place[0] <= high]
        if among:
            shares = "".join(f"{share:8.1%}" for share in coverage(among))
            print(f"{f'{low} to {high}':14}{len(among):7}{shares}")


if __name__ == "__main__":
    main()
