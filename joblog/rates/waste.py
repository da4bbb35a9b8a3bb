"""Waste: contractor, families, items, jobs. The model is told in `learn`."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from functools import cached_property

import numpy as np

from joblog.model import PastUse
from joblog.rates.drift import level_of
from joblog.rates.families import OTHER, family_of
from joblog.rates.fit import Family, Fitted, Scatter, fit, likely, narrowed, pooled
from joblog.rates.group import CONDITION_ERROR, Draft, conditions_of, group_of, lines_of
from joblog.rates.learned import NOT_SPLIT, Condition, Drift, Group, key_of
from joblog.rates.spread import Floats, slack_of
from joblog.rates.steps import piece_of, step_of

USUAL_WASTE, CONTRACTOR_ERROR, FAMILY_ERROR, ITEM_ERROR = 0.05, 0.4, 0.3, 0.35
VARIANTS_ERROR = 0.2
"""The stated prior of handling waste; errors on the log scale."""
UNSPLIT, UNSPLIT_ERROR = 0.4, 0.4
"""Prior of how much larger (in logarithms) waste is that still holds geometric waste."""
SCATTER = Scatter(spread=0.7, lumps=(0.1, 0.5, 2.0))


def learn_waste(
    uses: Sequence[PastUse],
    weigh: Callable[[date], float],
    named: Mapping[str, str],
    drift: Drift | None = None,
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
    for name in [*sorted_uses]:
        if above := _above(name):
            sorted_uses.setdefault(above, [])
    sorted_uses.setdefault(_NOBODY, [])
    drafts = {
        name: _draft_waste(lines, weigh, drift) for name, lines in sorted(sorted_uses.items())
    }
    tree = Tree(drafts, {name: _above(name) for name in drafts})
    if not all(draft.fitted.whole for draft in drafts.values()):
        kept = likely(_log_sum(tree.everything(), axis=1))
        drafts = {
            name: replace(draft, fitted=narrowed(draft.fitted, draft.lines, kept))
            for name, draft in drafts.items()
        }
        tree = replace(tree, drafts=drafts)
    groups = {
        name: group_of("waste", name or None, draft, tree.before(name))
        for name, draft in drafts.items()
    }
    nobody = groups.pop(_NOBODY)
    return groups, nobody


_NOBODY = ""


_CONTRACTOR = np.log(USUAL_WASTE) + CONTRACTOR_ERROR * np.linspace(-4, 4, 33)
_DIFFERENCES = np.array([0.05, 0.15, 0.25, 0.4, 0.6, 0.8])
_DIFFERENCE_BEFORE = -0.5 * (_DIFFERENCES / ITEM_ERROR) ** 2 + np.log(np.gradient(_DIFFERENCES))


def _draft_waste(
    uses: Sequence[PastUse], weigh: Callable[[date], float], drift: Drift | None
) -> Draft:
    net = np.array([float(use.net) for use in uses])
    base = net + np.array([float(use.geometric or 0) for use in uses])
    if not (net > 0).all():
        raise ValueError("a job whose finished work measures nothing has no waste rate")
    consumed = np.array([float(use.consumed) for use in uses])
    not_split = np.array([float(use.geometric is None) for use in uses])
    amounts: dict[str, list[Fraction]] = {}
    for use in uses:
        amounts.setdefault(key_of(use.item), []).append(use.consumed)
    steps = {item: float(step_of(of_item)) for item, of_item in amounts.items()}
    step = np.array([steps[key_of(use.item)] for use in uses])
    conditions, columns, idle = conditions_of(uses)
    conditions = (Condition(NOT_SPLIT), *conditions)
    lines = lines_of(
        [use.item for use in uses],
        base / np.array([piece_of(one) for one in step]),
        consumed / base - 1,
        slack_of(base, step),
        np.array([weigh(use.day) for use in uses]),
        np.column_stack([not_split, *columns]),
        np.array([UNSPLIT, *(0.0 for _ in columns)]),
        np.array([UNSPLIT_ERROR, *(CONDITION_ERROR for _ in columns)]),
        np.array([level_of(drift, use) for use in uses]),
        [use.job for use in uses],
    )
    count = len(lines.names)
    fitted = fit(lines, np.full(count, np.log(USUAL_WASTE)), np.full(count, _LOOSE), SCATTER)
    return Draft(uses, conditions, lines, fitted, _family(fitted), idle, steps, drift)


_LOOSE = 0.6


def _family(fitted: Fitted) -> Family:
    """A grid of family means around where the items lie."""
    wide = CONTRACTOR_ERROR**2 + FAMILY_ERROR**2
    sure = 1 / (0.4**2 + fitted.settled.error**2)
    total = 1 / wide + sure.sum()
    mean = (np.log(USUAL_WASTE) / wide + sure @ fitted.settled.theta) / total
    reach = 5.5 / np.sqrt(total)
    means = np.linspace(mean - reach, mean + reach, max(17, int(np.ceil(2 * reach / _FINE))))
    return Family(means, np.zeros(means.size), _DIFFERENCES, _DIFFERENCE_BEFORE)


_FINE = 0.15
"""Means of families lie no further apart, so that none falls between what leans on it."""


@dataclass(frozen=True)
class Tree:
    """What the families of one contractor say of each other.

    They share how jobs scatter, and lean on the contractor's mean. Beliefs are passed up and down
    as tables over scatter and mean, each summed exactly (Pearl's belief propagation on a tree).
    """

    drafts: Mapping[str, Draft]
    above: Mapping[str, str | None]

    def everything(self) -> Floats:
        """Log belief of each scatter and each mean of the contractor."""
        some = next(iter(self.drafts.values())).fitted.scatter_before
        about = -0.5 * ((_CONTRACTOR - np.log(USUAL_WASTE)) / CONTRACTOR_ERROR) ** 2
        below = (self._up(name) for name, above in self.above.items() if above is None)
        return np.asarray(some[:, None] + about + sum(below))

    def before(self, name: str) -> Floats:
        """Log prior of each scatter and each pair of `shared_grid`, all other families known."""
        family = self.drafts[name].family
        table = self._down(name) + self._from_below(name)
        pairs = table[:, :, None] + family.difference_before
        return np.asarray(pairs.reshape(len(table), -1))

    def _up(self, name: str) -> Floats:
        """What a family says of what it leans on, whose places are the columns."""
        if name not in self._said:
            said = self._own(name) + self._from_below(name)
            self._said[name] = _through(said, self._passage(name).T)
        return self._said[name]

    def _down(self, name: str) -> Floats:
        """What a family is told by what it leans on, its own words left out."""
        above = self.above[name]
        if above is None:
            told = self.everything() - self._up(name)
        else:
            told = self._down(above) + self._own(above) + self._from_below(above) - self._up(name)
        return _through(told, self._passage(name))

    def _own(self, name: str) -> Floats:
        """What a family's own lines say of each scatter and mean."""
        if name not in self._lines:
            draft = self.drafts[name]
            evidence = pooled(draft.fitted, draft.family).evidence
            shape = (len(evidence), draft.family.means.size, -1)
            pairs = evidence.reshape(shape) + draft.family.difference_before
            self._lines[name] = _log_sum(pairs, axis=2)
        return self._lines[name]

    def _from_below(self, name: str) -> Floats:
        shape = (self.drafts[name].fitted.lump.size, self.drafts[name].family.means.size)
        below = (self._up(other) for other, above in self.above.items() if above == name)
        return np.asarray(sum(below, np.zeros(shape)))

    def _passage(self, name: str) -> Floats:
        """How likely each mean of a family is under each of what it leans on: above, family."""
        above = self.above[name]
        middles = _CONTRACTOR if above is None else self.drafts[above].family.means
        error = FAMILY_ERROR if above is None else VARIANTS_ERROR
        off = (self.drafts[name].family.means - middles[:, None]) / error
        return np.asarray(np.exp(-0.5 * off**2))

    @cached_property
    def _said(self) -> dict[str, Floats]:
        return {}

    @cached_property
    def _lines(self) -> dict[str, Floats]:
        return {}


def _through(log: Floats, passage: Floats) -> Floats:
    """log(exp(log) @ passage), row by row."""
    top = log.max(axis=1, keepdims=True)
    return np.asarray(np.log(np.exp(log - top) @ passage + 1e-300) + top)


def _log_sum(log: Floats, axis: int) -> Floats:
    top = log.max(axis=axis, keepdims=True)
    return np.asarray(np.log(np.exp(log - top).sum(axis=axis)) + top.squeeze(axis))


def _above(name: str) -> str | None:
    """The family that a family leans on: the variants of an item on that of the item."""
    family = family_of(name)
    return family if family not in (name, OTHER) else None
