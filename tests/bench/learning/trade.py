"""What happens to material and hours on a job, piece by piece and day by day.

Nothing here is a distribution that somebody fitted: panels crack when they are handled, pieces are
cut short, the first cut is trimmed in place, a stack falls over, a day goes well or badly. What is
told afterwards is what a person would tell: sticks left counted to the half, hours to the quarter.
All of it common practice, none of it measured.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

import numpy as np

from joblog.model import History, PastUse, PastWork

JOBS = (1, 3, 5, 10, 40)
"""After how many closed jobs the next one is foreseen."""

DRAWS = 24
"""How often the job ahead is done over, each time with other luck, the same rates."""


@dataclass(frozen=True)
class Goods:
    """An item as it is sold and handled. Rates are shares at level 1 of the person."""

    name: str
    family: str
    unit: Fraction
    """The item's own units in one piece: 1 if counted by the piece, 12 for sticks in feet."""
    pack: int
    """Pieces in a pack."""
    cracked: float
    """The chance that a piece breaks while it is handled: all of it is lost."""
    miscut: float
    """The chance that a cut is wrong: what was cut is lost, unless it fits elsewhere."""
    fits_elsewhere: float
    trimmed: float
    """What is cut off in place, as a share of what is built in."""
    brittle: float
    """How much more breaks for each 20 F below 50: 0.5 is half as much again."""


@dataclass(frozen=True)
class Cuts:
    """What a job needs of an item: so many pieces, so many of which come out of one stick."""

    pieces: int
    size: Fraction
    """Of one, as a share of a stick."""

    @property
    def of_a_stick(self) -> int:
        return int(1 / self.size)

    @property
    def net(self) -> Fraction:
        return self.pieces * self.size

    @property
    def forced(self) -> Fraction:
        """The ends that are too short for one more piece."""
        return Fraction(self.pieces, self.of_a_stick) - self.net


@dataclass(frozen=True)
class Luck:
    """What a job does to all that is handled on it."""

    clumsy: float
    """The person at the time, times the job: 1 is the usual."""
    cold: float
    """20 F below 50: 0 from 50 F up."""


def gone(goods: Goods, cuts: Cuts, luck: Luck, fell: float, draw: np.random.Generator) -> float:
    """Sticks that are gone when the work is done; `fell` is a share lost to an accident."""
    brittle = 1 + goods.brittle * luck.cold
    broken = min(0.6, goods.cracked * luck.clumsy * brittle)
    wrong = min(0.6, goods.miscut * luck.clumsy * (1 + (brittle - 1) / 2)) * (
        1 - goods.fits_elsewhere
    )
    miscuts = draw.negative_binomial(cuts.pieces, 1 - wrong)
    sticks = (cuts.pieces + miscuts) / cuts.of_a_stick
    cracks = draw.negative_binomial(max(1, round(sticks)), 1 - broken)
    trims = draw.gamma(2 * cuts.pieces, 1 / (2 * cuts.pieces))
    trimmed = float(cuts.net) * goods.trimmed * math.sqrt(luck.clumsy) * trims
    return sticks + cracks + trimmed + fell * float(cuts.net)


def counted(sticks: float) -> Fraction:
    """As told: what is left was counted to half a piece."""
    return Fraction(round(2 * sticks), 2)


@dataclass(frozen=True)
class Labor:
    """A task, and how one person goes about it."""

    name: str
    hours: float
    """For one unit, on a usual day on a usual house."""
    set_up: float
    """Crew hours before the first unit, on every job."""
    planned: Fraction
    """What the plan says for one unit."""


def took(
    labor: Labor,
    quantity: int,
    crew: int,
    slow: float,
    days_differ: float,
    draw: np.random.Generator,
) -> float:
    """Crew hours, day by day till it is done; three days in a hundred lose hours to the weather."""
    left, hours = float(quantity), labor.set_up * crew
    while left > 1e-9:
        luck = draw.lognormal(-(days_differ**2) / 2, days_differ)
        pace = labor.hours * slow * luck
        done = min(left, 7 * crew / pace)
        hours += done * pace
        if draw.random() < 0.03:
            hours += draw.uniform(0.5, 4) * crew
        left -= done
    return hours


def told(hours: float) -> Fraction:
    """As told: to the quarter of an hour."""
    return max(Fraction(1, 4), Fraction(round(4 * hours), 4))


@dataclass(frozen=True)
class Asked:
    """An item of the job ahead, and what of it would be gone each time the job is done over."""

    goods: Goods
    net: Fraction
    geometric: Fraction | None
    fahrenheit: Fraction | None
    depth: Fraction | None
    crew: int | None
    needed: tuple[float, ...]
    """In the item's own unit, as it is."""
    counted: tuple[float, ...]
    """The same, as it would be told."""
    seen: int
    """Jobs before that used it."""

    @property
    def pack(self) -> Fraction:
        """In the item's own unit."""
        return self.goods.pack * self.goods.unit


@dataclass(frozen=True)
class AskedWork:
    """A task of the job ahead, and what it would take each time."""

    labor: Labor
    quantity: Fraction
    fahrenheit: Fraction | None
    depth: Fraction | None
    crew: int | None
    told: tuple[float, ...]
    seen: int


@dataclass(frozen=True)
class Ahead:
    uses: tuple[Asked, ...]
    work: tuple[AskedWork, ...]


@dataclass(frozen=True)
class Contractor:
    """One person's closed jobs in order, and the job ahead after some of them."""

    goods: tuple[Goods, ...]
    labor: tuple[Labor, ...]
    uses: tuple[tuple[PastUse, ...], ...]
    """By job."""
    work: tuple[tuple[PastWork, ...], ...]
    days: tuple[date, ...]
    ahead: dict[int, Ahead]
    moved: tuple[float, ...]
    """What waste was at each job, against the first: all 1 where nothing drifts."""
    moved_hours: tuple[float, ...]

    def history(self, jobs: int) -> History:
        return History(
            uses=tuple(use for of_a_job in self.uses[:jobs] for use in of_a_job),
            work=tuple(work for of_a_job in self.work[:jobs] for work in of_a_job),
        )

    @property
    def estimate(self) -> dict[str, Fraction]:
        return {labor.name: labor.planned for labor in self.labor}
