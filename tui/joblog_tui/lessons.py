"""What closed jobs teach, as the rates screen shows it: a line a rate, and the jobs behind it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING

from joblog.book import Book
from joblog.model import Interval, OddJob, Plan, Prediction, Rate, RateKind

if TYPE_CHECKING:
    from joblog.rates import Learned


@dataclass(frozen=True, slots=True)
class RateLine:
    """What is known of one item or task: a share that is wasted, or crew hours for one unit."""

    kind: RateKind
    name: str
    jobs: int
    mean: float
    interval: Interval | None
    """Of the rate itself; None where no job of it was closed."""
    next_job: Interval
    source: str
    unit: str = ""
    """What a task is measured in."""


@dataclass(frozen=True, slots=True)
class Lessons:
    """Everything that was learned."""

    jobs: int = 0
    lines: tuple[RateLine, ...] = ()
    odd: tuple[OddJob, ...] = ()
    notes: tuple[str, ...] = ()
    """What the rates rest on, and the jobs that are left out."""
    learned: Learned | None = field(default=None, compare=False)


def learn_lessons(folder: Path, plan: Plan) -> Lessons:
    """What the closed jobs of a book teach, and what that foretells of a plan's other lines.

    For any thread: the book is opened anew. Raises BookError.
    """
    # Kept out of the start of the review: they bring the whole of numpy with them.
    from joblog.rates import learn
    from joblog.rates.learned import key_of, past_of

    with Book.open(folder) as book:
        history, left_out = book.history()
        tasks = book.catalog().tasks
    pace = {task.name: 1 / task.per_hour for task in tasks if task.per_hour}
    learned = learn(history, estimate=pace)
    units = {key_of(task.name): task.unit for task in tasks}
    known = [_known(rate, units.get(key_of(rate.name), "")) for rate in learned.rates.rates]
    names = {key_of(rate.name) for rate in learned.rates.rates}
    new = [line for line in _foreseen(learned, plan, pace) if key_of(line.name) not in names]
    return Lessons(
        jobs=len({key_of(past.job) for past in past_of(history)}),
        lines=tuple(sorted([*known, *new], key=lambda line: line.kind == "hours")),
        odd=learned.rates.odd,
        notes=(*left_out, *learned.rates.notes),
        learned=learned,
    )


def _known(rate: Rate, unit: str) -> RateLine:
    return RateLine(
        rate.kind, rate.name, rate.n, rate.mean, rate.interval, rate.next_job, rate.source, unit
    )


def _foreseen(learned: Learned, plan: Plan, pace: Mapping[str, Fraction]) -> Iterator[RateLine]:
    """The planned lines of which no job was closed yet."""
    from joblog.rates import predict, predict_hours

    for line in plan.items:
        net = line.quantity - line.offcut if line.net is None else line.net
        if net > 0:
            foreseen = predict(learned, line.item.name, net, line.offcut)
            yield _of_one(foreseen, foreseen.sure, -1.0)
    for task in plan.tasks:
        hours = task.hours / task.quantity if task.quantity else pace.get(task.task.name)
        if hours:
            quantity = task.quantity or task.hours / hours
            foreseen = predict_hours(learned, task.task.name, quantity, estimate=hours)
            yield _of_one(foreseen, float(quantity), 0.0, task.task.unit)


def _of_one(foreseen: Prediction, size: float, less: float, unit: str = "") -> RateLine:
    """A prediction for a whole job as a rate: what goes with one unit, less that unit itself."""
    next_job = next(each for each in foreseen.intervals if each.level == 0.8)
    return RateLine(
        foreseen.kind,
        foreseen.name,
        foreseen.n,
        foreseen.mean / size + less,
        None,
        Interval(0.8, next_job.low / size + less, next_job.high / size + less),
        foreseen.source,
        unit,
    )
