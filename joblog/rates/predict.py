"""What a new job will take: the whole predictive distribution, not only a mean."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from math import ceil, floor

import numpy as np

from joblog.model import Interval, Prediction
from joblog.rates.families import OTHER, family_of
from joblog.rates.group import CONDITION_ERROR
from joblog.rates.learned import NOT_SPLIT, PRACTICE, Condition, Group, Learned, Member, key_of
from joblog.rates.spread import Floats, below, location_and_scale, slack_of
from joblog.rates.steps import piece_of

LEVELS = (np.arange(1000) + 0.5) / 1000


def predict(
    learned: Learned,
    item: str,
    net: Fraction,
    geometric: Fraction | None = None,
    *,
    family: str | None = None,
    fahrenheit: Fraction | None = None,
    depth: Fraction | None = None,
    crew: int | None = None,
) -> Prediction:
    """What a job will consume of `item`, in its own unit.

    `geometric` is what the new job's cut list forces; None where there is none, and then the
    rate learned stands for both. Raises ValueError unless `net` is above zero and `geometric`
    not below it.
    """
    if net <= 0 or (geometric or 0) < 0:
        raise ValueError(f"{item}: net must be above zero, and geometric waste not below it")
    group, member = _member(learned, item, family)
    base = float(net + (geometric or 0))
    values = {"fahrenheit": fahrenheit, "depth": depth, "crew": crew}
    conditions, beyond, words = _row(group, member, {**values, NOT_SPLIT: int(geometric is None)})
    amounts = base * (1 + ratios(group, member, base, conditions, beyond))
    source = source_of(group, member, geometric is None) + words
    return _prediction(group, member, item, base, amounts, source)


def predict_hours(
    learned: Learned,
    task: str,
    quantity: Fraction,
    *,
    estimate: Fraction | None = None,
    fahrenheit: Fraction | None = None,
    depth: Fraction | None = None,
    crew: int | None = None,
) -> Prediction:
    """Crew hours that `quantity` units of `task` will take.

    `estimate` is the plan's own crew hours for one unit; it is used where no job of the task was
    closed yet, and labelled. Raises ValueError where there is neither, or for no quantity.
    """
    if quantity <= 0 or (estimate is not None and estimate <= 0):
        raise ValueError(f"{task}: quantity and estimate must be above zero")
    group = learned.hours
    member = group.members.get(key_of(task))
    source = source_of(group, member, False) if member else ""
    if member is None:
        if estimate is None:
            raise ValueError(f"{task}: no closed job has it, and the plan gives no hours")
        member = _estimated(group, float(estimate))
        source = "the plan's own hours; no job of this task yet"
    values = {"fahrenheit": fahrenheit, "depth": depth, "crew": crew}
    conditions, beyond, words = _row(group, member, {**values, PRACTICE: np.log(member.n + 1)})
    amounts = float(quantity) * ratios(group, member, float(quantity), conditions, beyond)
    return _prediction(group, member, task, 0.0, amounts, source + words)


def ratios(
    group: Group, member: Member, base: float, conditions: Floats, beyond: float = 0.0
) -> Floats:
    """A thousand equally likely rates of a new job of size `base`, ascending.

    `beyond` is the variance of the logarithm of the rate that conditions add which no job had.
    Waste beyond the whole base again is not believed: it stands at that.
    """
    away = conditions - member.middle
    unsure = float(away @ group.unsure @ away) + beyond
    unsure += group.drift.unsure if group.drift else 0.0
    points = member.points
    rate = points.rate(base, float(conditions @ group.effect))
    size = np.array(base / piece_of(member.step))
    slack = np.array(0.0)
    if group.kind == "waste":
        slack = slack_of(np.array(base), member.step)
    middle, scale = location_and_scale(rate, size, slack, points.lump, points.spread)
    of_size = rate - points.set_up / base
    scale = np.sqrt(scale**2 + (of_size / (rate + slack)) ** 2 * unsure)
    if group.kind == "waste":
        lowest, highest = np.log(0.1 * slack), np.log(1 + slack)
    else:
        lowest, highest = (middle - 9 * scale).min(), (middle + 9 * scale).max()
    places = np.linspace(lowest, highest, _PLACES)
    chance = np.zeros(_PLACES)
    for degrees in np.unique(points.degrees):
        of = points.degrees == degrees
        off = (places[:, None] - middle[of]) / scale[of]
        chance += below(off, int(degrees)) @ points.weight[of]
    return np.asarray(np.exp(np.interp(LEVELS, chance, places)) - slack)


_PLACES = 160


def _member(learned: Learned, item: str, family: str | None) -> tuple[Group, Member]:
    for group in learned.waste.values():
        if key_of(item) in group.members:
            return group, group.members[key_of(item)]
    named = learned.families.get(key_of(item)) or family or family_of(item)
    group = learned.waste.get(named, learned.nobody)
    return group, group.new


def _row(
    group: Group, member: Member, values: Mapping[str, Fraction | int | float | None]
) -> tuple[Floats, float, str]:
    """The conditions of a new job, what of them is not known adds to the variance, and words of it.

    Nothing is carried on beyond what was seen: such a value counts as the nearest that was, and the
    prediction is as much less sure as a step of the condition may matter, for two steps at most.
    While a condition does not count yet, that goes for all that lies between the new job and the
    usual one.
    """
    row, beyond, words = np.zeros(len(group.conditions)), 0.0, ""
    for at, one in enumerate(group.conditions):
        value = values[one.name]
        if value is None:
            continue
        seen = min(max(float(value), one.low), one.high)
        row[at] = (seen - one.centre) / one.scale
        if seen != value:
            beyond += _unsure(float(value) - seen, one)
            words += f"; no job {_NEVER[one.name, seen < value]}, so taken as "
            words += _SAID[one.name].format(seen)
    for one in group.idle:
        value = values[one.name]
        if value is None:
            continue
        beyond += _unsure(float(value) - member.idle.get(one.name, one.centre), one)
        if not one.low <= value <= one.high:
            words += f"; no job {_NEVER[one.name, one.high < value]}"
    return row, beyond, words


def _unsure(away: float, condition: Condition) -> float:
    """The variance of what so much of a condition may do, for two steps at most."""
    return float((CONDITION_ERROR * min(abs(away) / condition.scale, 2)) ** 2)


_SAID = {"fahrenheit": "{:.3g} F", "depth": "{:.3g} in deep", "crew": "a crew of {:.3g}"}
_NEVER = {
    ("fahrenheit", True): "was that warm",
    ("fahrenheit", False): "was that cold",
    ("depth", True): "was that deep",
    ("depth", False): "was that shallow",
    ("crew", True): "had that many people",
    ("crew", False): "had that few people",
}


def _estimated(group: Group, rate: float) -> Member:
    """A task known by its estimate only: it lies as far off as estimates do, and holds set-up."""
    about = group.new.points
    points = replace(about, theta=about.theta + np.log(rate), set_up=np.zeros(about.theta.size))
    return replace(group.new, points=points)


def _prediction(
    group: Group, member: Member, name: str, sure: float, amounts: Floats, source: str
) -> Prediction:
    intervals = tuple(interval_of(amounts, level) for level in (0.5, 0.8, 0.95))
    median = float(amounts[499:501].mean())
    return Prediction(
        kind=group.kind,
        name=name,
        sure=sure,
        mean=float(amounts.clip(intervals[-1].low, intervals[-1].high).mean()),
        median=median,
        intervals=tuple(_counted(one, median, member.step, sure) for one in intervals),
        n=member.n,
        source=source,
        equally_likely=tuple(amounts.tolist()),
    )


def _counted(interval: Interval, middle: float, step: float, base: float) -> Interval:
    """The interval of what will be told, in steps: it holds no less than its level says, while
    outward to the next step it would hold far more; and it holds the middle. Hours (no base) and
    what is little beside a step stay as they are."""
    if step > base / 4:
        return interval
    low = min(round(interval.low / step), floor(middle / step))
    high = max(round(interval.high / step), ceil(middle / step))
    return Interval(interval.level, step * low, step * high)


def interval_of(amounts: Floats, level: float) -> Interval:
    """The middle `level` of equally likely amounts."""
    low, high = np.interp([(1 - level) / 2, (1 + level) / 2], LEVELS, amounts)
    return Interval(level, float(low), float(high))


def source_of(group: Group, member: Member, not_split: bool) -> str:
    """Where a rate came from, in words."""
    others = sum(one.n for one in group.members.values()) - member.n
    if not member.n:
        if others:
            return f"borrowed from {_jobs(others)} of {_like(group.family)}; no job of it yet"
        return "a rule of thumb; no job of it yet"
    words = _jobs(member.n)
    if member.own < 0.5 and group.kind == "hours":
        words += "; mostly the plan's own hours"
    elif member.own < 0.5:
        like = f"borrowed from {_jobs(others)} of {_like(group.family)}"
        words += f"; mostly {like if others else 'a rule of thumb'}"
    return f"{words}; cutoffs not told apart" if not_split else words


def _like(family: str | None) -> str:
    if not family or family == OTHER:
        return "other material"
    # A family that bears an item's name holds its variants.
    return f"other kinds of {family}" if family_of(family) != OTHER else f"other {family}"


def _jobs(count: int) -> str:
    return "1 job" if count == 1 else f"{count} jobs"
