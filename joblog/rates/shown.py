"""What was learned, as nouns for showing."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import numpy as np

from joblog.model import History, Interval, OddJob, Rate, RateKind
from joblog.rates.fit import quantile
from joblog.rates.learned import Group, name_of
from joblog.rates.predict import interval_of, ratios, source_of
from joblog.rates.waste import USUAL_WASTE


def rates_of(group: Group) -> Iterable[Rate]:
    """The rate of every member, waste with the geometric part only where its jobs hold it."""
    for member in group.members.values():
        conditions = member.middle.copy()
        if group.kind == "waste":
            conditions[0] = round(conditions[0])
        rate = member.points.rate(member.base, float(conditions @ group.effect))
        low, high = quantile(rate, member.points.weight, (0.1, 0.9))
        next_job = ratios(group, member, member.base, conditions)
        yield Rate(
            kind=group.kind,
            name=member.name,
            family=group.family,
            n=member.n,
            counted=member.counted,
            mean=float(member.points.weight @ rate),
            interval=Interval(0.8, float(low), float(high)),
            next_job=interval_of(next_job, 0.8),
            own=member.own,
            source=source_of(
                group, member, bool(conditions[0]) if group.kind == "waste" else False
            ),
        )


def odd_in(group: Group) -> Iterable[OddJob]:
    """The jobs that lie further off than one in a hundred should."""
    for at in np.flatnonzero(group.odd):
        line = group.jobs[int(at)]
        yield OddJob(
            kind=group.kind,
            name=name_of(line),
            job=line.job,
            day=line.day,
            value=float(group.value[at]),
            usual=float(group.usual[at]),
            weight=float(group.counts[at]),
        )


def notes_of(history: History, groups: Sequence[Group]) -> Iterable[str]:
    """What the figures rest on, in words."""
    if not history.uses:
        yield (
            f"no closed job yet: waste is a rule of thumb, {USUAL_WASTE:.0%} (half to twice that); "
            "common practice, not a measurement"
        )
    for kind, words in _DRIFTED.items():
        drift = next((group.drift for group in groups if group.kind == kind), None)
        if drift:
            more = drift.times > 1
            since = f"{words[more]} since {drift.since:%B %Y}"
            yield f"{since}, {_by(drift.times)}; newer jobs weigh most"
    for group in groups:
        errors = np.sqrt(np.diag(group.unsure))
        for condition, effect, error in zip(group.conditions, group.effect, errors, strict=True):
            if condition.name in _STEP and abs(effect) > 2 * error:
                less = group.kind, bool(effect < 0)
                yield (
                    f"{group.family or 'work'}: {_STEP[condition.name]} {_TAKES[less]} "
                    f"{abs(np.expm1(effect)):.0%}, give or take {error:.0%}"
                )


_STEP = {
    "fahrenheit": "20 F warmer",
    "depth": "12 in deeper",
    "crew": "one more person",
}
_TAKES = {
    ("waste", True): "wastes less, by about",
    ("waste", False): "wastes more, by about",
    ("hours", True): "takes fewer man-hours, by about",
    ("hours", False): "takes more man-hours, by about",
}


def _by(times: float) -> str:
    """ "to about 1.8 times", "by about 40%"."""
    return f"to about {times:.1f} times" if times >= 1.5 else f"by about {abs(times - 1):.0%}"


_DRIFTED: Mapping[RateKind, tuple[str, str]] = {
    "waste": ("you waste less", "you waste more"),
    "hours": ("you take less time", "you take more time"),
}
