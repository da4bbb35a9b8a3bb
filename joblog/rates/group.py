"""One family, or all tasks: from its lines to what was learned of each member."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from joblog.model import RateKind
from joblog.rates.fit import (
    Family,
    Fitted,
    Lines,
    Points,
    observed,
    points_of,
    points_of_new,
    pooled,
)
from joblog.rates.learned import ODD, Condition, Drift, Group, Member, Past, key_of
from joblog.rates.spread import Floats, below, location_and_scale, trust
from joblog.rates.steps import piece_of

SCALES = {"fahrenheit": 20.0, "depth": 12.0, "crew": 1.0}
"""One step of each condition: 20 F, 12 in of depth, one person."""
CONDITION_ERROR = 0.15
"""What is assumed of what one step does to the logarithm of a rate (standard deviation)."""
ALIKE = 0.5
"""How much of their variance the lines of one job have in common: a good or a bad job strikes all
that is done on it. Its weather and crew are the job's too, so that ten lines of one job say hardly
more of them than one."""
ENOUGH, APART = 6, 0.25
"""Jobs that must tell a condition before it takes part, and how many steps they must differ by
(standard deviation)."""


@dataclass(frozen=True, slots=True)
class Draft:
    """The lines of a group and their fit, before the prior of the family is settled."""

    jobs: Sequence[Past]
    conditions: tuple[Condition, ...]
    lines: Lines
    fitted: Fitted
    family: Family
    idle: tuple[Condition, ...] = ()
    """Conditions that were told, but do not count yet."""
    steps: Mapping[str, float] = field(default_factory=dict)
    """What an item is counted in, by its key."""
    drift: Drift | None = None


def group_of(kind: RateKind, name: str | None, draft: Draft, before: Floats | None = None) -> Group:
    """The group with every member pooled; `before` as in `pooled`."""
    fitted, lines, family = draft.fitted, draft.lines, draft.family
    result = pooled(fitted, family, before)
    count = len(lines.names)
    new = points_of_new(fitted, result, family)
    at_first = np.full(count, _error(new))
    if family.errors is not None:
        at_first = np.sqrt(family.errors**2 @ result.shared.sum(axis=0))
    n = np.bincount(lines.item, minlength=count)
    counted = np.bincount(lines.item, lines.weight, count)
    ends = np.cumsum(n)
    members = {}
    for at, written in enumerate(lines.names):
        points = points_of(fitted, result, at)
        step = draft.steps.get(key_of(written), 0.5)
        own = 1 - (_error(points) / at_first[at]) ** 2
        members[key_of(written)] = Member(
            written,
            points,
            fitted.settled.middle[at],
            int(n[at]),
            float(counted[at]),
            float(np.median(lines.base[ends[at] - n[at] : ends[at]])) * piece_of(step),
            min(max(float(own), 0.0), 1.0),
            step,
            _means(draft.jobs[ends[at] - n[at] : ends[at]], draft.idle),
        )
    middle = lines.covariates.mean(axis=0) if count else np.zeros(lines.expected.size)
    base = float(np.median(lines.base)) if count else 20.0
    unmet = Member("", new, middle, 0, 0.0, base, 0.0)
    effect = fitted.settled.effect
    value, usual, away, off, error = _compared(lines, list(members.values()), effect)
    tails = new if not members else next(iter(members.values())).points
    counts, chance = weights_and_chances(away, tails)
    return Group(
        kind, name, members, unmet, draft.conditions, effect, fitted.settled.unsure,
        draft.jobs, value, usual, counts, chance < ODD, draft.idle, off, error, draft.drift,
    )  # fmt: skip


def _means(past: Sequence[Past], conditions: Sequence[Condition]) -> dict[str, float]:
    told = {one.name: [getattr(line, one.name) for line in past] for one in conditions}
    known = {name: [float(value) for value in of if value is not None] for name, of in told.items()}
    return {name: float(np.mean(of)) for name, of in known.items() if of}


def _error(points: Points) -> float:
    mean = points.weight @ points.theta
    return float(np.sqrt(points.weight @ (points.theta - mean) ** 2))


def _compared(
    lines: Lines, members: Sequence[Member], effect: Floats
) -> tuple[Floats, Floats, Floats, Floats, Floats]:
    """Each line's rate, what was to be expected, how many scales it lies off; and how far off the
    logarithm of its rate is, with the scale of that."""
    if not members:
        none = np.zeros(0)
        return none, none, none, none, none
    means = np.array(
        [
            one.points.weight
            @ np.array([one.points.theta, one.points.lump, one.points.spread, one.points.set_up]).T
            for one in members
        ]
    )
    theta, lump, spread, set_up = means[lines.item].T
    of_size = np.exp(theta + lines.shift(effect))
    rate = of_size + set_up / lines.base
    middle, scale = location_and_scale(rate, lines.base, lines.slack, lump, spread)
    off, slope = observed(lines) - middle, of_size / (rate + lines.slack)
    return lines.ratio, rate, off / scale, off / slope, scale / slope


def weights_and_chances(away: Floats, tails: Points) -> tuple[Floats, Floats]:
    """What each line counts for, and the chance of one as far off, under what is believed of the
    tails (which all members share)."""
    counts, chance = np.zeros(away.size), np.zeros(away.size)
    for degrees in np.unique(tails.degrees):
        share = float(tails.weight[tails.degrees == degrees].sum())
        counts += share * trust(away, degrees)
        chance += share * 2 * below(-np.abs(away), int(degrees))
    return counts, chance


def conditions_of(
    past: Sequence[Past],
) -> tuple[tuple[Condition, ...], list[Floats], tuple[Condition, ...]]:
    """The conditions that enough jobs carry and that differ enough between them, their columns, and
    the conditions that were told but do not count yet."""
    found: list[Condition] = []
    columns: list[Floats] = []
    idle: list[Condition] = []
    for name, scale in SCALES.items():
        values = np.array(
            [np.nan if (value := getattr(line, name)) is None else float(value) for line in past]
        )
        known = ~np.isnan(values)
        of_job = {
            key_of(line.job): value
            for line, value in zip(past, values, strict=True)
            if not np.isnan(value)
        }
        if not of_job:
            continue
        of_lines = values[known]
        condition = Condition(
            name, float(of_lines.mean()), scale, float(of_lines.min()), float(of_lines.max())
        )
        if len(of_job) < ENOUGH or np.std(list(of_job.values())) < APART * scale:
            idle.append(condition)
            continue
        found.append(condition)
        columns.append(np.where(known, (values - condition.centre) / condition.scale, 0.0))
    return tuple(found), columns, tuple(idle)


def lines_of(
    names: Sequence[str],
    base: Floats,
    ratio: Floats,
    slack: Floats,
    weight: Floats,
    covariates: Floats,
    expected: Floats,
    loose: Floats,
    level: Floats,
    jobs: Sequence[str],
) -> Lines:
    """The lines as `fit` takes them, from columns sorted by name and then by day."""
    keys = [key_of(name) for name in names]
    written = dict(zip(keys, names, strict=True))
    order = {key: at for at, key in enumerate(written)}
    item = np.array([order[key] for key in keys], dtype=np.int64)
    return Lines(
        tuple(written.values()),
        item,
        base,
        ratio,
        slack,
        weight,
        covariates,
        expected,
        loose,
        level,
        _apart(jobs),
    )


def _apart(jobs: Sequence[str]) -> Floats:
    """What each line counts for where the lines of a job have `ALIKE` of their scatter in common:
    Kish's design effect (Survey Sampling, 1965)."""
    of_job = Counter(map(key_of, jobs))
    return np.array([1 / (1 + ALIKE * (of_job[key_of(job)] - 1)) for job in jobs])
