"""Waste: contractor, families, items, jobs. The model is told in `learn`."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date

import numpy as np

from joblog.model import PastUse
from joblog.rates.families import family_of
from joblog.rates.fit import Family, Fitted, Scatter, fit, pooled, shared_grid
from joblog.rates.group import CONDITION_ERROR, Draft, conditions_of, group_of, lines_of
from joblog.rates.learned import NOT_SPLIT, Condition, Group, key_of
from joblog.rates.spread import Floats, slack_of

USUAL_WASTE, CONTRACTOR_ERROR, FAMILY_ERROR, ITEM_ERROR = 0.05, 0.4, 0.3, 0.35
"""The stated prior of handling waste; errors on the log scale."""
UNSPLIT, UNSPLIT_ERROR = 0.4, 0.4
"""Prior of how much larger (in logarithms) waste is that still holds geometric waste."""
SCATTER = Scatter(spread=0.7, lumps=(0.1, 0.5, 2.0))


def learn_waste(
    uses: Sequence[PastUse], weigh: Callable[[date], float], named: Mapping[str, str]
) -> tuple[dict[str, Group], Group]:
    """Every family's group by its name, and the group of a family without lines.

    Raises ValueError for a line whose net is not above zero.
    """
    families = {
        key: named.get(key) or use.family or family_of(use.item)
        for use in uses
        for key in (key_of(use.item),)
    }
    sorted_uses: dict[str, list[PastUse]] = {}
    for use in sorted(uses, key=lambda use: (key_of(use.item), use.day)):
        sorted_uses.setdefault(families[key_of(use.item)], []).append(use)
    drafts = {name: _draft_waste(lines, weigh) for name, lines in sorted_uses.items()}
    empty = _draft_waste([], weigh)
    likely = {name: _likelihood_of_contractor(draft) for name, draft in drafts.items()}
    everybody = sum(likely.values(), np.zeros(_CONTRACTOR.size))
    groups = {
        name: group_of(
            "waste", name, draft, _from_contractor(draft.family, everybody - likely[name])
        )
        for name, draft in sorted(drafts.items())
    }
    return groups, group_of("waste", None, empty, _from_contractor(empty.family, everybody))


_CONTRACTOR = np.log(USUAL_WASTE) + CONTRACTOR_ERROR * np.linspace(-4, 4, 33)
_DIFFERENCES = np.array([0.05, 0.15, 0.25, 0.4, 0.6, 0.8])
_DIFFERENCE_BEFORE = -0.5 * (_DIFFERENCES / ITEM_ERROR) ** 2 + np.log(np.gradient(_DIFFERENCES))


def _draft_waste(uses: Sequence[PastUse], weigh: Callable[[date], float]) -> Draft:
    net = np.array([float(use.net) for use in uses])
    base = net + np.array([float(use.geometric or 0) for use in uses])
    if not (net > 0).all():
        raise ValueError("a job whose finished work measures nothing has no waste rate")
    consumed = np.array([float(use.consumed) for use in uses])
    not_split = np.array([float(use.geometric is None) for use in uses])
    conditions, columns, idle = conditions_of(uses)
    conditions = (Condition(NOT_SPLIT), *conditions)
    lines = lines_of(
        [use.item for use in uses],
        base,
        consumed / base - 1,
        slack_of(base),
        np.array([weigh(use.day) for use in uses]),
        np.column_stack([not_split, *columns]),
        np.array([UNSPLIT, *(0.0 for _ in columns)]),
        np.array([UNSPLIT_ERROR, *(CONDITION_ERROR for _ in columns)]),
    )
    count = len(lines.names)
    fitted = fit(lines, np.full(count, np.log(USUAL_WASTE)), np.full(count, _LOOSE), SCATTER)
    return Draft(uses, conditions, lines, fitted, _family(fitted), idle)


_LOOSE = 0.6


def _family(fitted: Fitted) -> Family:
    """A grid of family means around where the items lie."""
    wide = CONTRACTOR_ERROR**2 + FAMILY_ERROR**2
    sure = 1 / (0.4**2 + fitted.settled.error**2)
    total = 1 / wide + sure.sum()
    mean = (np.log(USUAL_WASTE) / wide + sure @ fitted.settled.theta) / total
    means = mean + np.linspace(-5.5, 5.5, 17) / np.sqrt(total)
    return Family(means, np.zeros(17), _DIFFERENCES, _DIFFERENCE_BEFORE)


def _likelihood_of_contractor(draft: Draft) -> Floats:
    """How well each contractor's mean explains one family's lines."""
    _, _, before = shared_grid(draft.family)
    evidence = pooled(draft.fitted, draft.family).evidence + before
    of_mean = np.exp(evidence - evidence.max()).reshape(draft.family.means.size, -1).sum(axis=1)
    about = (draft.family.means - _CONTRACTOR[:, None]) / FAMILY_ERROR
    return np.asarray(np.log(np.exp(-0.5 * about**2) @ of_mean + 1e-300))


def _from_contractor(family: Family, others: Floats) -> Family:
    """The family with the prior of its mean that the other families leave."""
    log = others - 0.5 * ((_CONTRACTOR - np.log(USUAL_WASTE)) / CONTRACTOR_ERROR) ** 2
    contractor = np.exp(log - log.max())
    about = (family.means[:, None] - _CONTRACTOR) / FAMILY_ERROR
    before = np.log(np.exp(-0.5 * about**2) @ contractor + 1e-300)
    return Family(family.means, before, family.differences, family.difference_before)
