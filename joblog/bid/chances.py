"""How a bid may turn out: all its items and tasks drawn together, many times over."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from joblog.model import Bid, BidChances, BidDriver, BidGround, BidItem, BidTask, Interval

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

DRAWS = 20_000
LEVELS = (0.5, 0.8, 0.95)
POINTS = 200
"""Amounts that a bid keeps of each distribution: enough for its tails at 95 %."""


def chances_of(bid: Bid) -> BidChances | None:
    """What the job will cost, overhead as it was bid, if each line turns out as it did on earlier
    jobs; None where nobody knows of any line how it varies.

    Items are drawn as much alike as those of one job were before, tasks likewise (`together`), and
    neither with the other: one normal each for the job and for the line, mixed so that they have
    that correlation. What no line foresees, as far as earlier bids were off by it (`track`), is a
    log-normal factor of the cost. A number that a person set moves its line, and what it scatters
    by moves with it in proportion. The same bid always gives the same figures.
    """
    import numpy as np

    total = np.full(DRAWS, float(bid.besides + bid.overhead))
    drawn, certain = [], []
    for at, line in enumerate(_lines(bid)):
        if line.amounts is None:
            total += line.cost
            if line.cost:
                certain.append(line.name)
            continue
        alike = bid.basis.tasks_together if line.labor else bid.basis.items_together
        # Each amount is drawn equally often, so that the mean and the spread of a line are exact.
        places = _order(at, line.labor, round(alike, 2)) * len(line.amounts) // DRAWS
        costs = line.amounts[places]
        total += costs
        drawn.append((line, costs))
    if not drawn:
        return None
    if bid.basis.off_before:
        rest = (total - float(bid.overhead)) * _factor_less_one(round(bid.basis.off_before, 3))
        total = total + rest
        drawn.append((_Line(REST, 0.0, None, False), rest))
    drivers = [_driver(line, costs, total) for line, costs in drawn if total.var()]
    return BidChances(
        intervals=tuple(_interval(total, level) for level in LEVELS),
        mean=float(total.mean()),
        over=float((total > float(bid.price - bid.taken)).mean()),
        drivers=tuple(sorted(drivers, key=lambda one: -one.share)),
        certain=tuple(certain),
    )


def thinned(equally_likely: tuple[float, ...]) -> tuple[float, ...]:
    """Fewer amounts, ascending, with the same mean: each the mean of those that it stands for."""
    import numpy as np

    if len(equally_likely) <= POINTS:
        return equally_likely
    groups = np.array_split(np.array(equally_likely), POINTS)
    return tuple(float(f"{group.mean():.6g}") for group in groups)


SEED = 20_000
REST = "the rest"
REST_WORDS = "what no line foresees, as on earlier jobs"


@lru_cache(maxsize=64)
def _factor_less_one(deviation: float) -> Floats:
    """Of a log-normal factor with the mean one."""
    import numpy as np

    drawn = np.random.default_rng([SEED, 3]).standard_normal(DRAWS)
    factor = np.exp(deviation * drawn)
    return np.asarray(factor / factor.mean() - 1)


@dataclass(frozen=True, slots=True)
class _Line:
    name: str
    cost: float
    amounts: Floats | None
    """What it costs, each as likely as the next."""
    labor: bool


def _lines(bid: Bid) -> Iterator[_Line]:
    basis = bid.basis
    for item, ground, planned in zip(bid.items, basis.items, basis.plan.items, strict=True):
        yield _Line(
            item.name, float(item.cost or 0), _of_item(item, ground, planned.quantity), False
        )
    for task, ground, plan in zip(bid.tasks, basis.tasks, basis.plan.tasks, strict=True):
        yield _Line(task.name, float(task.cost or 0), _of_task(task, ground, plan.hours), True)


def _of_item(item: BidItem, ground: BidGround, planned: Fraction) -> Floats | None:
    import numpy as np

    if not ground.chances or not planned or item.price is None:
        return None
    amounts = np.array(ground.chances) * float(item.quantity / planned)
    if item.whole:
        # A hair below a whole pack is that pack; a float cannot tell.
        amounts = np.ceil(amounts / float(item.pack) - 1e-9) * float(item.pack)
    return amounts * float(item.price)


def _of_task(task: BidTask, ground: BidGround, planned: Fraction) -> Floats | None:
    import numpy as np

    if not ground.chances or not planned or task.hourly_cost is None:
        return None
    return np.array(ground.chances) * float(task.hours / planned) * float(task.hourly_cost)


@lru_cache(maxsize=256)
def _order(at: int, labor: bool, alike: float) -> NDArray[np.int64]:
    """The places of a line in its own distribution, draw by draw, each place once."""
    import numpy as np

    of_job = np.random.default_rng([SEED, labor]).standard_normal(DRAWS)
    of_line = np.random.default_rng([SEED, 2, at]).standard_normal(DRAWS)
    mixed = np.sqrt(alike) * of_job + np.sqrt(1 - alike) * of_line
    places = np.empty(DRAWS, dtype=np.int64)
    places[np.argsort(mixed)] = np.arange(DRAWS)
    return places


def _driver(line: _Line, costs: Any, total: Any) -> BidDriver:
    """Its share is its covariance with the whole cost, so that the shares add up."""
    low, high = (float(end) for end in _ends(costs, 0.8))
    away, from_whole = costs - costs.mean(), total - total.mean()
    share = float((away * from_whole).mean() / (from_whole * from_whole).mean())
    what = f"the hours of {line.name}" if line.labor else f"how much {line.name} it takes"
    if line.name is REST:
        what = REST_WORDS
    return BidDriver(line.name, share, low, high, what)


def _interval(total: Any, level: float) -> Interval:
    low, high = _ends(total, level)
    return Interval(level, float(low), float(high))


def _ends(amounts: Any, level: float) -> Any:
    import numpy as np

    return np.quantile(amounts, [(1 - level) / 2, (1 + level) / 2])
