"""What was learned, as it passes from learning to predicting."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from math import inf

import numpy as np
import numpy.typing as npt

from joblog.model import History, PastUse, PastWork, RateKind, Rates
from joblog.rates.fit import Points
from joblog.rates.spread import Floats

Past = PastUse | PastWork


@dataclass(frozen=True, slots=True)
class Condition:
    """One column of x: a value v enters as (v - centre) / scale, and 0 where it is not known.

    What lies beyond `low` or `high`, the least and the most that any job had, enters as that.
    """

    name: str
    centre: float = 0.0
    scale: float = 1.0
    low: float = -inf
    high: float = inf


@dataclass(frozen=True, slots=True)
class Member:
    """What was learned of one item or task."""

    name: str
    points: Points
    middle: Floats
    """Mean conditions of its lines."""
    n: int
    counted: float
    base: float
    """The usual size: the median of its jobs."""
    own: float
    step: float = 0.5
    """What it is counted in."""
    idle: Mapping[str, float] = field(default_factory=dict)
    """The mean of each condition that does not count yet, over those of its lines that told it."""


@dataclass(frozen=True, slots=True)
class Drift:
    """How the level of all rates moved over time."""

    levels: Mapping[tuple[date, str], float]
    """Of each job (its day and `key_of` its name): how far the logarithm of its rates lay from
    those of today."""
    unsure: float
    """Variance of the next job's level."""
    since: date
    times: float
    """What the jobs since then took, against what those before did."""


@dataclass(frozen=True, slots=True)
class Group:
    """What was learned of one family, or of all tasks."""

    kind: RateKind
    family: str | None
    members: Mapping[str, Member]
    new: Member
    """An item that the family has not met yet."""
    conditions: tuple[Condition, ...]
    effect: Floats
    unsure: Floats
    jobs: Sequence[Past]
    """Its lines, in the order of the next four."""
    value: Floats
    usual: Floats
    counts: Floats
    odd: npt.NDArray[np.bool_]
    """Of each line: its rate, what was to be expected of it, what it counts for beside one in the
    middle (0 to 1), and whether it stands out."""
    idle: tuple[Condition, ...] = ()
    """Conditions that too few jobs told, or that hardly differ: they do not count yet."""
    off: Floats = field(default_factory=lambda: np.zeros(0))
    error: Floats = field(default_factory=lambda: np.zeros(0))
    """Of each line: how far the logarithm of its rate lies off, and how far it usually may."""
    drift: Drift | None = None


@dataclass(frozen=True, slots=True)
class Learned:
    """What was learned, for showing (`rates`) and for predicting (the rest)."""

    rates: Rates
    waste: Mapping[str, Group]
    hours: Group
    nobody: Group
    """A family without any line: what the contractor's other families say of it."""
    families: Mapping[str, str] = field(default_factory=dict)
    """The families that the caller named, by `key_of` the item."""


NOT_SPLIT = "not split"
"""The condition of a job whose geometric waste was not worked out."""
PRACTICE = "practice"
"""The condition that counts the jobs of a task."""
ODD = 0.01
"""A job stands out that lies further off than one in a hundred."""


def key_of(name: str) -> str:
    """How an item or task is looked up, however it was written."""
    return " ".join(name.lower().split())


def knows_task(learned: Learned, task: str) -> bool:
    """True where a closed job had the task."""
    return key_of(task) in learned.hours.members


def name_of(line: Past) -> str:
    """The item or task of a line."""
    return line.item if isinstance(line, PastUse) else line.task


def past_of(history: History) -> tuple[Past, ...]:
    """Every line of the history."""
    return (*history.uses, *history.work)


def weight_of(day: date, as_of: date, half_life: float | None) -> float:
    """What a line of that day counts for; 1 without a half-life."""
    if half_life is None:
        return 1.0
    return float(0.5 ** (max((as_of - day).days, 0) / half_life))
