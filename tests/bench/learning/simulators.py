"""Four kinds of trade to learn from, each with open settings, held ones and fresh ones.

Written before anything was measured with them, and without a look at the rates that are tried here.
Who changes the rates looks at the open settings only; the held ones (other seeds, other ranges) are
run once, at the end. The fresh ones came later, for the next change, when the held ones had been
seen; a set that has been looked at is spent, and the change after it needs another.

- pieces: pieces break one by one; jobs of ten sticks and of two hundred; packs of one piece to 24.
- small: the same, but nothing but jobs of ten sticks, sold by the piece.
- seasons: the cold makes vinyl brittle and fingers slow, a helper comes and goes, depths differ;
  one job has an accident; one item is new at the eleventh job, another at the forty-first.
- drifting: over 40 jobs waste goes up to threefold, or down to a third, slowly or in one step; half
  of the people stay as they are. Hours drift by themselves.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction

import numpy as np

from joblog.model import PastUse, PastWork
from tests.bench.learning.trade import (
    DRAWS,
    JOBS,
    Ahead,
    Asked,
    AskedWork,
    Contractor,
    Cuts,
    Goods,
    Labor,
    Luck,
    counted,
    gone,
    told,
    took,
)

Between = tuple[float, float]


@dataclass(frozen=True)
class Setting:
    """What the people and their trade may be like: each takes its values between these."""

    seed: int
    level: Between = (0.02, 0.12)
    """Share lost in handling by the usual person of the usual item; even in its logarithm."""
    families: Between = (0.3, 0.6)
    """How far families differ (standard deviation of the logarithm), and below it items of one."""
    items: Between = (0.15, 0.4)
    days_of_job: Between = (0.2, 0.5)
    """How far one job differs from the next in all that is handled on it."""
    of_an_item: Between = (0.1, 0.4)
    """The same, of one item on one job by itself."""
    trimmed: Between = (0.0, 0.5)
    """Of what is lost, the part that is trimmed in place."""
    small: Between = (6, 20)
    """Sticks of a small job; of a large one the next."""
    large: Between = (40, 200)
    small_jobs: Between = (0.3, 0.7)
    """The share of small jobs."""
    forced: Between = (0.0, 0.45)
    """How much of a stick one piece takes at least: from near 1/2 upward the ends get long."""
    packs: tuple[int, ...] = (1, 1, 1, 10, 12, 24)
    accident: Between = (0.0, 0.01)
    """The chance, for one item on one job, that a part of it is lost at once."""
    lost_then: Between = (0.2, 0.6)
    paces: Between = (0.15, 0.35)
    """How far paces of people, and of tasks, differ from the plan (of the logarithm)."""
    slow_jobs: Between = (0.1, 0.3)
    slow_days: Between = (0.15, 0.4)
    set_up: Between = (0.0, 1.5)
    """Crew hours before the first unit of a task."""
    cold: bool = False
    brittle: Between = (0.0, 0.0)
    slow_fingers: Between = (0.0, 0.0)
    """Hours more for each 20 F below 50."""
    helper: Between = (1.0, 1.0)
    """Crew hours for a unit with a helper, against alone."""
    helper_wastes: Between = (1.0, 1.0)
    deep: Between = (0.0, 0.0)
    """Waste more for each foot of depth over one."""
    untold: float = 0.0
    """The share of jobs whose weather and crew nobody said."""
    new_items: bool = False
    surely_one_accident: bool = False
    drifting: float = 0.0
    """The share of people whose waste drifts."""
    farthest: Between = (1.0, 1.0)
    """Over 40 jobs, upward; as much downward."""
    hours_drift: Between = (1.0, 1.0)


OPEN = {
    "pieces": Setting(seed=11),
    "small": Setting(seed=14, small=(5, 20), small_jobs=(1.0, 1.0), packs=(1,)),
    "seasons": Setting(
        seed=12,
        cold=True,
        brittle=(0.2, 0.8),
        slow_fingers=(0.05, 0.2),
        helper=(0.85, 1.3),
        helper_wastes=(0.8, 1.6),
        deep=(-0.1, 0.3),
        untold=0.15,
        new_items=True,
        surely_one_accident=True,
    ),
    "drifting": Setting(
        seed=13, drifting=0.5, farthest=(1.8, 3.0), hours_drift=(0.7, 1.4), of_an_item=(0.1, 0.3)
    ),
}

HELD = {
    "pieces": Setting(
        seed=7011,
        level=(0.012, 0.18),
        families=(0.1, 0.8),
        items=(0.05, 0.6),
        days_of_job=(0.05, 0.7),
        of_an_item=(0.0, 0.6),
        trimmed=(0.0, 0.8),
        small=(4, 15),
        large=(60, 300),
        packs=(1, 1, 2, 8, 20),
        accident=(0.0, 0.02),
        paces=(0.1, 0.5),
        slow_jobs=(0.05, 0.4),
        slow_days=(0.05, 0.6),
        set_up=(0.0, 3.0),
    ),
    "small": Setting(
        seed=7014,
        level=(0.01, 0.2),
        families=(0.1, 0.8),
        items=(0.05, 0.6),
        small=(3, 25),
        small_jobs=(1.0, 1.0),
        trimmed=(0.0, 0.8),
        packs=(1, 2),
        days_of_job=(0.05, 0.7),
    ),
    "seasons": Setting(
        seed=7012,
        level=(0.02, 0.15),
        families=(0.1, 0.8),
        items=(0.05, 0.5),
        days_of_job=(0.1, 0.6),
        cold=True,
        brittle=(0.0, 1.2),
        slow_fingers=(0.0, 0.35),
        helper=(0.7, 1.5),
        helper_wastes=(0.6, 2.0),
        deep=(-0.2, 0.5),
        untold=0.3,
        new_items=True,
        surely_one_accident=True,
        lost_then=(0.3, 1.0),
        paces=(0.1, 0.5),
        packs=(1, 2, 6, 16),
    ),
    "drifting": Setting(
        seed=7013,
        level=(0.015, 0.1),
        days_of_job=(0.1, 0.6),
        drifting=0.5,
        farthest=(1.5, 3.5),
        hours_drift=(0.5, 1.6),
        packs=(1, 1, 5, 12),
        slow_jobs=(0.05, 0.4),
    ),
}

FRESH = {
    "pieces": Setting(
        seed=20431,
        level=(0.015, 0.15),
        families=(0.2, 0.7),
        items=(0.1, 0.5),
        days_of_job=(0.1, 0.6),
        of_an_item=(0.05, 0.5),
        trimmed=(0.1, 0.7),
        small=(5, 18),
        large=(30, 250),
        small_jobs=(0.2, 0.8),
        forced=(0.0, 0.6),
        packs=(1, 1, 3, 6, 16),
        accident=(0.0, 0.015),
        paces=(0.05, 0.45),
        slow_jobs=(0.1, 0.35),
        slow_days=(0.1, 0.5),
        set_up=(0.0, 2.0),
    ),
    "small": Setting(
        seed=20434,
        level=(0.015, 0.18),
        families=(0.2, 0.7),
        items=(0.1, 0.5),
        small=(4, 22),
        small_jobs=(1.0, 1.0),
        trimmed=(0.1, 0.6),
        packs=(1, 1, 2),
        days_of_job=(0.1, 0.6),
        paces=(0.05, 0.5),
        slow_jobs=(0.05, 0.35),
        set_up=(0.0, 2.5),
    ),
    "seasons": Setting(
        seed=20432,
        level=(0.018, 0.13),
        families=(0.2, 0.7),
        items=(0.1, 0.45),
        days_of_job=(0.15, 0.55),
        cold=True,
        brittle=(0.0, 1.0),
        slow_fingers=(0.0, 0.3),
        helper=(0.75, 1.45),
        helper_wastes=(0.7, 1.8),
        deep=(-0.2, 0.4),
        untold=0.25,
        new_items=True,
        surely_one_accident=True,
        lost_then=(0.2, 0.8),
        paces=(0.05, 0.5),
        slow_jobs=(0.05, 0.35),
        packs=(1, 1, 4, 12),
    ),
    "drifting": Setting(
        seed=20433,
        level=(0.02, 0.11),
        days_of_job=(0.15, 0.55),
        drifting=0.5,
        farthest=(1.6, 3.2),
        hours_drift=(0.6, 1.5),
        packs=(1, 2, 8),
        paces=(0.1, 0.45),
    ),
}

FAMILIES = ("panel", "fascia", "trim")
ITEMS_OF_A_FAMILY = 3
TASKS = ("soffit", "fascia", "siding", "channel")
USED = 5
"""Items of a job."""

USED_TASKS = 3
"""Its tasks."""


def contractor(setting: Setting, number: int) -> Contractor:
    """One person of that setting: 40 closed jobs, and the jobs ahead."""
    draw = np.random.default_rng((setting.seed, number))
    return _Life(setting, draw).lived()


class _Life:
    """One person's years: who he is, then job after job."""

    def __init__(self, setting: Setting, draw: np.random.Generator) -> None:
        self.setting, self.draw = setting, draw
        even = self._even
        self.days_of_job = even(setting.days_of_job)
        self.of_an_item = even(setting.of_an_item)
        self.small_jobs = even(setting.small_jobs)
        self.accident = even(setting.accident)
        self.slow_jobs, self.slow_days = even(setting.slow_jobs), even(setting.slow_days)
        self.slow_fingers, self.helper = even(setting.slow_fingers), even(setting.helper)
        self.helper_wastes, self.deep = even(setting.helper_wastes), even(setting.deep)
        self.goods = self._goods()
        self.labor = self._labor()
        # What the cut list forces is known of every job, of some, or of none.
        self.worked_out = float(draw.choice((0.0, 0.6, 1.0)))
        self.piece_sizes = [draw.uniform(*setting.forced) for _ in self.goods]
        last = max(JOBS)
        self.moved = self._moved(last + 1)
        self.moved_hours = np.exp(np.log(even(setting.hours_drift)) * np.arange(last + 1) / last)
        self.struck = self._struck()

    def lived(self) -> Contractor:
        last = max(JOBS)
        day = date(2024, 1, 1) + timedelta(days=int(self.draw.integers(365)))
        uses, work, days, ahead = [], [], [], {}
        seen: dict[str, int] = {}
        for job in range(last + 1):
            day += timedelta(days=int(self.draw.integers(4, 16)))
            days.append(day)
            plan = _Plan(self, job, day, seen)
            if job in JOBS:
                ahead[job] = plan.ahead()
            uses.append(plan.uses())
            work.append(plan.work())
            for name in [u.item for u in uses[-1]] + [w.task for w in work[-1]]:
                seen[name] = seen.get(name, 0) + 1
        return Contractor(
            goods=tuple(self.goods),
            labor=tuple(self.labor),
            uses=tuple(uses[:last]),
            work=tuple(work[:last]),
            days=tuple(days),
            ahead=ahead,
            moved=tuple(self.moved),
            moved_hours=tuple(self.moved_hours),
        )

    def _even(self, between: Between) -> float:
        return float(self.draw.uniform(*between))

    def _even_log(self, between: Between) -> float:
        return float(np.exp(self.draw.uniform(*np.log(between))))

    def _goods(self) -> list[Goods]:
        draw, setting = self.draw, self.setting
        level = self._even_log(setting.level)
        between_families, between_items = self._even(setting.families), self._even(setting.items)
        found = []
        for family in FAMILIES:
            of_family = level * np.exp(draw.normal(0, between_families))
            brittle = self._even(setting.brittle) if family != "fascia" else 0.0
            breaks = draw.uniform(0.2, 0.8)
            for number in range(ITEMS_OF_A_FAMILY):
                share = min(0.35, of_family * np.exp(draw.normal(0, between_items)))
                trimmed = self._even(setting.trimmed) * share
                elsewhere = draw.uniform(0, 0.4)
                found.append(
                    Goods(
                        name=f"{family} {number + 1}",
                        family=family,
                        unit=Fraction(int(draw.choice((1, 1, 10, 12)))),
                        pack=int(draw.choice(setting.packs)),
                        cracked=(share - trimmed) * breaks,
                        miscut=(share - trimmed) * (1 - breaks) / (1 - elsewhere),
                        fits_elsewhere=elsewhere,
                        trimmed=trimmed,
                        brittle=brittle,
                    )
                )
        return found

    def _labor(self) -> list[Labor]:
        draw, differ = self.draw, self._even(self.setting.paces)
        person = np.exp(draw.normal(0, differ))
        found = []
        for task in TASKS:
            planned = Fraction(round(100 * draw.uniform(0.04, 0.2)), 100)
            own = person * np.exp(draw.normal(0, differ))
            set_up = self._even(self.setting.set_up)
            found.append(Labor(task, float(planned) * own, set_up, planned))
        return found

    def _moved(self, jobs: int) -> np.ndarray:
        if self.draw.random() >= self.setting.drifting:
            return np.ones(jobs)
        farthest = np.log(self._even(self.setting.farthest)) * self.draw.choice((1, -1))
        way = np.arange(jobs) / (jobs - 1)
        if self.draw.random() < 1 / 3:
            way = (way > self.draw.uniform(0.4, 0.75)).astype(float)
        return np.exp(farthest * way)

    def _struck(self) -> int | None:
        if not self.setting.surely_one_accident:
            return None
        return int(self.draw.integers(1, 10))


class _Plan:
    """One job: what is built, and how often it may be done over."""

    def __init__(self, life: _Life, job: int, day: date, seen: dict[str, int]) -> None:
        self.life, self.job, self.day, self.seen = life, job, day, dict(seen)
        draw, setting = life.draw, life.setting
        small = draw.random() < life.small_jobs
        self.sticks = life._even_log(setting.small if small else setting.large)
        season = np.cos(2 * np.pi * (day.timetuple().tm_yday - 15) / 365)
        self.fahrenheit = 55 - 27 * season + draw.normal(0, 7) if setting.cold else None
        self.crew = int(draw.choice((1, 2), p=(0.6, 0.4))) if setting.cold else 1
        self.depth = float(draw.choice((8, 12, 12, 16, 24))) if setting.cold else None
        self.said = draw.random() >= setting.untold
        self.cuts = {number: self._cuts(number) for number in self._used()}
        self.known = {number: draw.random() < life.worked_out for number in self.cuts}
        self.tasks = {
            number: max(4, round(self.sticks * draw.uniform(3, 12)))
            for number in sorted(draw.choice(len(life.labor), size=USED_TASKS, replace=False))
        }

    def ahead(self) -> Ahead:
        life = self.life
        over = [self._gone() for _ in range(DRAWS)]
        hours = [self._took() for _ in range(DRAWS)]
        return Ahead(
            uses=tuple(
                Asked(
                    goods=goods,
                    net=cuts.net * goods.unit,
                    geometric=cuts.forced * goods.unit if self.known[number] else None,
                    **self._conditions(),
                    needed=tuple(once[number] * float(goods.unit) for once in over),
                    counted=tuple(float(counted(once[number]) * goods.unit) for once in over),
                    seen=self.seen.get(goods.name, 0),
                )
                for number, cuts in self.cuts.items()
                for goods in [life.goods[number]]
            ),
            work=tuple(
                AskedWork(
                    labor=life.labor[number],
                    quantity=Fraction(quantity),
                    **self._conditions(),
                    told=tuple(float(told(once[number])) for once in hours),
                    seen=self.seen.get(life.labor[number].name, 0),
                )
                for number, quantity in self.tasks.items()
            ),
        )

    def uses(self) -> tuple[PastUse, ...]:
        real = self._gone()
        struck = None
        if self.job == self.life.struck:
            struck = int(self.life.draw.choice(list(self.cuts)))
        found = []
        for number, cuts in self.cuts.items():
            goods, sticks = self.life.goods[number], real[number]
            if number == struck:
                sticks += float(cuts.net) * self.life._even(self.life.setting.lost_then)
            found.append(
                PastUse(
                    job=f"job {self.job + 1}",
                    day=self.day,
                    item=goods.name,
                    net=cuts.net * goods.unit,
                    consumed=counted(sticks) * goods.unit,
                    geometric=cuts.forced * goods.unit if self.known[number] else None,
                    family=goods.family,
                    **self._conditions(),
                )
            )
        return tuple(found)

    def work(self) -> tuple[PastWork, ...]:
        real = self._took()
        return tuple(
            PastWork(
                job=f"job {self.job + 1}",
                day=self.day,
                task=self.life.labor[number].name,
                quantity=Fraction(quantity),
                crew_hours=told(real[number]),
                **self._conditions(),
            )
            for number, quantity in self.tasks.items()
        )

    def _conditions(self) -> dict:
        if not (self.life.setting.cold and self.said):
            return {"fahrenheit": None, "depth": None, "crew": None}
        return {
            "fahrenheit": Fraction(round(self.fahrenheit)),
            "depth": Fraction(self.depth),
            "crew": self.crew,
        }

    @property
    def _cold(self) -> float:
        return 0.0 if self.fahrenheit is None else max(0.0, 50 - self.fahrenheit) / 20

    def _used(self) -> list[int]:
        life, draw = self.life, self.life.draw
        there = list(range(len(life.goods)))
        fresh = []
        if life.setting.new_items:
            # The last panel comes at the eleventh job, the last trim at the forty-first.
            for number, first in ((ITEMS_OF_A_FAMILY - 1, 10), (len(there) - 1, 40)):
                if self.job < first:
                    there.remove(number)
                elif self.job == first:
                    fresh.append(number)
        others = [number for number in there if number not in fresh]
        chosen = draw.choice(others, size=USED - len(fresh), replace=False)
        return sorted({*map(int, chosen), *fresh})

    def _cuts(self, number: int) -> Cuts:
        draw = self.life.draw
        per_stick = int(draw.integers(1, 5))
        longest, shortest = 1 / per_stick, 1 / (per_stick + 1)
        # Some items leave long ends by their kind, others hardly any.
        long_ends = min(0.95, self.life.piece_sizes[number] * draw.uniform(0.3, 1.7))
        size = longest - (longest - shortest) * long_ends
        size = min(Fraction(round(144 * size), 144), Fraction(1, per_stick))
        size = max(size, Fraction(1, per_stick + 1) + Fraction(1, 288))
        sticks = self.sticks * draw.uniform(0.5, 1.3)
        return Cuts(max(1, round(sticks * per_stick)), size)

    def _gone(self) -> dict[int, float]:
        life, draw = self.life, self.life.draw
        of_job = life.moved[self.job] * _luck(life.days_of_job, draw)
        if self.crew > 1:
            of_job *= life.helper_wastes
        if self.depth is not None:
            of_job *= max(0.3, 1 + life.deep * (self.depth - 12) / 12)
        found = {}
        for number, cuts in self.cuts.items():
            luck = Luck(of_job * _luck(life.of_an_item, draw), self._cold)
            fell = 0.0
            if draw.random() < life.accident:
                fell = life._even(life.setting.lost_then)
            found[number] = gone(life.goods[number], cuts, luck, fell, draw)
        return found

    def _took(self) -> dict[int, float]:
        life, draw = self.life, self.life.draw
        of_job = life.moved_hours[self.job] * _luck(life.slow_jobs, draw)
        of_job *= 1 + life.slow_fingers * self._cold
        if self.crew > 1:
            of_job *= life.helper
        return {
            number: took(life.labor[number], quantity, self.crew, of_job, life.slow_days, draw)
            for number, quantity in self.tasks.items()
        }


def _luck(spread: float, draw: np.random.Generator) -> float:
    """A factor around 1 with that standard deviation, a gamma: a very lucky job is possible."""
    if spread < 1e-3:
        return 1.0
    return float(draw.gamma(1 / spread**2, spread**2))
