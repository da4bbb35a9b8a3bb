"""How a bid may turn out: all its items and tasks drawn together, many times over."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
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

    The lines are drawn each for itself. A number that a person set moves its line, and what it
    scatters by moves with it in proportion. The same bid always gives the same figures.
    """
    import numpy as np

    random = np.random.default_rng(SEED)
    total = np.full(DRAWS, float(bid.besides + bid.overhead))
    drawn, certain = [], []
    for line in _lines(bid):
        if line.amounts is None:
            total += line.cost
            if line.cost:
                certain.append(line.name)
            continue
        # Each amount is drawn equally often, so that the mean and the spread of a line are exact.
        costs = random.permutation(np.resize(line.amounts, DRAWS))
        total += costs
        drawn.append((line, costs))
    if not drawn:
        return None
    variance = sum(float(costs.var()) for _, costs in drawn)
    drivers = [_driver(line, costs, variance) for line, costs in drawn if variance]
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


def _driver(line: _Line, costs: Any, variance: float) -> BidDriver:
    low, high = (float(end) for end in _ends(costs, 0.8))
    share = float(costs.var()) / variance
    what = f"the hours of {line.name}" if line.labor else f"how much {line.name} it takes"
    return BidDriver(line.name, share, low, high, what)


def _interval(total: Any, level: float) -> Interval:
    low, high = _ends(total, level)
    return Interval(level, float(low), float(high))


def _ends(amounts: Any, level: float) -> Any:
    import numpy as np

    return np.quantile(amounts, [(1 - level) / 2, (1 + level) / 2])
