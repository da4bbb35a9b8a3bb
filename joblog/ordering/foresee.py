"""What earlier jobs say that this one will take: of each item, and of each task in hours."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from math import ceil
from typing import TYPE_CHECKING

from joblog.form import WORDS
from joblog.model import Interval, Item, Prediction, StockLength, Task

if TYPE_CHECKING:
    from joblog.rates import Learned


LEVEL = 0.8
"""Of the intervals that are shown."""


@dataclass(frozen=True, slots=True)
class StockCut:
    """What the pieces of an item are cut from, in the item's own unit: sticks of its usual length,
    and others as so much of one."""

    gross: Fraction
    """All of it new."""
    saved: Fraction = Fraction(0)
    """What cutoffs on hand, and `whole`, save of that."""
    cutoffs: tuple[StockLength, ...] = ()
    """Cutoffs on hand that the cut list takes."""
    whole: int = 0
    """Whole sticks on hand that it takes; what they save is in `saved`. 0 without such prices, for
    then they save themselves."""
    sticks: tuple[tuple[Fraction, int], ...] = ()
    """(inches, new sticks) beside what is on hand, where the item is bought in several
    lengths."""
    longest: Fraction = Fraction(0)
    """Inches of the longest piece."""
    joints: int = 0
    """Of all its runs."""


@dataclass(frozen=True, slots=True)
class Need:
    """How much of an item a job needs, in the item's own unit; `net` where it is known."""

    item: Item
    net: Fraction | None
    gross: Fraction
    allowance: Fraction | None = None
    """What a plan already has for handling waste; None where none was planned."""
    source: str = ""
    """Where that allowance came from, in words."""
    cut: StockCut | None = None
    """What the cut list of its pieces says; None where there is none."""
    counted: bool = False
    """Counted whole, such as an end cap: no allowance buys one more."""

    @property
    def offcut(self) -> Fraction:
        """The geometric waste in gross; 0 where it is not known."""
        return Fraction(0) if self.net is None else self.gross - self.net


@dataclass(frozen=True, slots=True)
class Foreseen:
    """Predictions by the name of the item or task; what cannot be foreseen is left out."""

    items: Mapping[str, Prediction] = field(default_factory=dict)
    tasks: Mapping[str, Prediction] = field(default_factory=dict)
    learned: Learned | None = None
    """What they were foreseen from."""


def foresee(
    needs: Sequence[Need],
    work: Mapping[Task, Fraction],
    learned: Learned,
    *,
    fahrenheit: Fraction | None = None,
    crew: int | None = None,
) -> Foreseen:
    """Predicts every need, and the crew hours of all work (how much of each task's unit).

    Offcuts are those of the need, so they are never learned twice; where a need does not part
    them, the rate that stands for both is taken. A task that no closed job had is foreseen from
    its own rate in the catalog, and left out without one. `fahrenheit` and `crew` are those of the
    job to come; what is not told is taken to be as usual.
    """
    from joblog.rates import knows_task, predict, predict_hours

    items = {}
    for need in needs:
        if need.gross:
            # What is all laps and offcuts has no net; then the base alone counts.
            net, offcut = (need.net, need.offcut) if need.net else (need.gross, Fraction(0))
            geometric = None if need.net is None else offcut
            items[need.item.name] = predict(
                learned, need.item.name, net, geometric, fahrenheit=fahrenheit, crew=crew
            )
    tasks = {}
    for task, quantity in work.items():
        estimate = 1 / task.per_hour if task.per_hour else None
        if quantity and (estimate or knows_task(learned, task.name)):
            tasks[task.name] = predict_hours(
                learned,
                task.name,
                quantity,
                estimate=estimate,
                fahrenheit=fahrenheit,
                crew=crew,
            )
    return Foreseen(items, tasks, learned)


def allowed(amount: float, gross: Fraction) -> Fraction:
    """The allowance that brings `gross` up to a foreseen amount, as an exact number.

    A float is no exact quantity, so it is made one openly: rounded up to a thousandth of gross,
    and never below zero, because gross is needed whatever happens.
    """
    return max(ceil((amount / float(gross) - 1) * 1000 - 1e-6), 0) * gross / 1000


def expected_hours(prediction: Prediction) -> Fraction:
    """The mean of the foreseen crew hours, to the nearest hundredth of an hour.

    What lies beyond the interval of 95 % counts as its end, so that no far tail makes the plan.
    """
    return Fraction(round(prediction.mean * 100), 100)


def share_source(prediction: Prediction) -> str:
    """Where a foreseen allowance came from: "4 jobs; 4 times in 5 between 3.1% and 7.9%".

    Consumed less than net and offcuts is a count that erred; as waste it is told as none.
    """
    most = most_jobs(prediction)
    low, high = (_percent(max(end / prediction.sure - 1, 0.0)) for end in (most.low, most.high))
    span = f"between {low} and {high}" if low != _percent(0) else f"up to {high}"
    return f"{prediction.source}; {_OFTEN} {span}"


def _percent(share: float) -> str:
    return f"{share:.1%}" if share < 0.0995 else f"{share:.0%}"


def hours_source(prediction: Prediction) -> str:
    """Where foreseen hours came from: "6 jobs; 4 times in 5 between 8.1 and 12.4 man-hours"."""
    most = most_jobs(prediction)
    span = f"between {most.low:.3g} and {most.high:.3g} {WORDS['crew_hours']}"
    return f"{prediction.source}; {_OFTEN} {span}"


_OFTEN = "4 times in 5"


def most_jobs(prediction: Prediction) -> Interval:
    """What most such jobs take: the interval that is shown."""
    return next(one for one in prediction.intervals if one.level == LEVEL)
