"""What earlier jobs teach: rates and the jobs behind them, from the book and from paper."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from fractions import Fraction
from pathlib import Path

from joblog import rates as rating
from joblog.book import Book, closed, paper
from joblog.catalog.naming import families_of
from joblog.model import (
    BackTest,
    Catalog,
    History,
    Interval,
    OddJob,
    Plan,
    Prediction,
    Problem,
    Rate,
    RateKind,
    Rates,
    Task,
)
from joblog.plan.taught import under_one_name
from joblog.rates import JobRate as JobRate
from joblog.rates import Learned
from joblog.rates.learned import key_of, past_of
from joblog.service.catalog import catalog_at
from joblog.service.errors import ServiceError, use_case
from joblog.service.places import Place, opened_if_there
from joblog.sheet import AS_IT_IS, Reading, refused


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


@use_case
def learn_lessons(folder: Path, plan: Plan) -> Lessons:
    """What the closed jobs of a book teach, and what that foretells of a plan's other lines.

    For any thread: the book is opened anew.
    """
    with Book.open(folder) as book:
        history, left_out = _history(book)
        catalog = book.catalog()
    tasks, pace = catalog.tasks, pace_of(catalog.tasks)
    families = families_known(catalog, history, (line.item.name for line in plan.items))
    learned = rating.learn(history, estimate=pace, families=families)
    units = {key_of(task.name): task.unit for task in tasks}
    known = [_known(rate, units.get(key_of(rate.name), "")) for rate in learned.rates.rates]
    names = {key_of(rate.name) for rate in learned.rates.rates}
    new = [line for line in _foreseen(learned, plan, pace) if key_of(line.name) not in names]
    return Lessons(
        jobs=_jobs_in(history),
        lines=tuple(sorted([*known, *new], key=lambda line: line.kind == "hours")),
        odd=learned.rates.odd,
        notes=(*left_out, *learned.rates.notes),
        learned=learned,
    )


@use_case
def jobs_that_teach(folder: Path) -> int:
    """How many jobs the rates are learned from now, those from paper too; for any thread."""
    with Book.open(folder) as book:
        history, _ = _history(book)
    return _jobs_in(history)


@use_case
def course_of(learned: Learned, name: str) -> tuple[JobRate, ...]:
    """What each job that taught something of an item or task had, in their order."""
    return tuple(rating.by_job(learned, name))


@dataclass(frozen=True, slots=True)
class Past:
    """Earlier jobs as far as they are known, and what came of reading or changing them."""

    history: History
    notes: tuple[str, ...] = ()
    """On jobs that are left out."""
    problems: tuple[Problem, ...] = ()
    """Rows that could not be read."""
    pace: Mapping[str, Fraction] = field(default_factory=dict)
    """Crew hours for one unit of a task, as the catalog estimates them."""
    families: Mapping[str, str] = field(default_factory=dict)
    """What each item is a variant of, where the catalog has variants of it."""

    @property
    def empty(self) -> bool:
        return not (self.history.uses or self.history.work)


@use_case
def past_in_file(file: Path, reading: Reading = AS_IT_IS) -> Past:
    """The earlier jobs of a spreadsheet, without any book."""
    history, problems = rating.read_history_csv(file, today=date.today(), reading=reading)
    return Past(history, problems=tuple(problems))


@use_case
def past_in_book(book: Book) -> Past:
    """The closed jobs of the book and those that were added from paper."""
    history, notes = _history(book)
    catalog = book.catalog()
    families = families_known(catalog, history)
    return Past(history, notes, pace=pace_of(catalog.tasks), families=families)


@use_case
def keep_past(
    book: Book, file: Path, reading: Reading = AS_IT_IS
) -> tuple[int, int, tuple[Problem, ...]]:
    """Keeps earlier jobs from a spreadsheet: its lines, how many are new, what is not readable.

    Where something of it is refused, nothing is kept.
    """
    earlier, problems = rating.read_history_csv(file, today=date.today(), reading=reading)
    if refused(problems):
        return 0, 0, problems
    new = paper.keep_past(book, earlier)
    return len(earlier.uses) + len(earlier.work), new, tuple(problems)


@use_case
def drop_past(book: Book, job: str) -> int:
    """Drops an earlier job that came from paper; how many lines it had."""
    lines = paper.drop_past(book, job)
    if not lines:
        past = paper.past(book)
        known = [use.job for use in past.uses] + [done.job for done in past.work]
        names = ", ".join(dict.fromkeys(known)) or "none"
        raise ServiceError(f"no earlier job called {job!r} was added; those that were: {names}")
    return lines


@use_case
def rates_of(past: Past, half_life: float | None = None) -> Rates:
    """Waste and hours as these jobs teach them today."""
    _check(half_life)
    rates = rating.learn(
        past.history,
        half_life=half_life,
        as_of=date.today(),
        estimate=dict(past.pace),
        families=past.families,
    ).rates
    return replace(rates, notes=(*past.notes, *rates.notes))


@use_case
def back_tested(past: Past, half_life: float | None = None) -> BackTest:
    """How well each of these jobs would have been predicted from those before it."""
    _check(half_life)
    tested = rating.back_test(past.history, half_life=half_life)
    return replace(tested, notes=(*past.notes, *tested.notes))


@use_case
def history_at(
    place: Place,
    paper: Path | None = None,
    half_life: float | None = None,
    reading: Reading = AS_IT_IS,
) -> tuple[History, tuple[str, ...], tuple[Problem, ...]]:
    """The closed jobs of the book, if there is one, and those of a file, if one was named."""
    _check(half_life)
    in_book, notes = History(), tuple[str, ...]()
    with opened_if_there(place) as book:
        if book is not None:
            in_book, notes = _history(book)
    read, problems = (
        rating.read_history_csv(paper, today=date.today(), reading=reading)
        if paper
        else (History(), ())
    )
    on_paper, renamed = under_one_name(read, catalog_at(place))
    both, twice = rating.joined(in_book, on_paper)
    return both, (*notes, *renamed, *twice), tuple(problems)


def _history(book: Book) -> tuple[History, tuple[str, ...]]:
    """What the jobs of a book teach, under the names that the catalog has for their items now."""
    catalog, told = book.catalog(), dict[str, None]()

    def under_names(history: History) -> History:
        now, notes = under_one_name(history, catalog, lambda jobs: closed.units_of(book, jobs))
        told.update(dict.fromkeys(notes))
        return now

    history, notes = closed.history(book, under_names)
    return history, (*notes, *told)


def families_known(
    catalog: Catalog, history: History, others: Iterable[str] = ()
) -> Mapping[str, str]:
    """What each item is a variant of, of those that were used and of `others` too."""
    return families_of(catalog, (*(use.item for use in history.uses), *others))


def pace_of(tasks: Iterable[Task]) -> dict[str, Fraction]:
    """Crew hours for one unit of each task whose speed is known."""
    return {task.name: 1 / task.per_hour for task in tasks if task.per_hour}


def _check(half_life: float | None) -> None:
    if half_life is not None and not half_life > 0:
        raise ServiceError("--half-life must be more than zero days.")


def _jobs_in(history: History) -> int:
    return len({key_of(past.job) for past in past_of(history)})


def _known(rate: Rate, unit: str) -> RateLine:
    return RateLine(
        rate.kind, rate.name, rate.n, rate.mean, rate.interval, rate.next_job, rate.source, unit
    )


def _foreseen(learned: Learned, plan: Plan, pace: Mapping[str, Fraction]) -> Iterator[RateLine]:
    """The planned lines of which no job was closed yet."""
    for line in plan.items:
        net = line.quantity - line.offcut if line.net is None else line.net
        if net > 0:
            foreseen = rating.predict(learned, line.item.name, net, line.offcut)
            yield _of_one(foreseen, foreseen.sure, -1.0)
    for task in plan.tasks:
        hours = task.hours / task.quantity if task.quantity else pace.get(task.task.name)
        if hours:
            quantity = task.quantity or task.hours / hours
            foreseen = rating.predict_hours(learned, task.task.name, quantity, estimate=hours)
            yield _of_one(foreseen, float(quantity), 0.0, task.task.unit)


def _of_one(of: Prediction, size: float, less: float, unit: str = "") -> RateLine:
    """A prediction for a whole job as a rate: what goes with one unit, less that unit itself."""
    next_job = next(each for each in of.intervals if each.level == 0.8)
    return RateLine(
        of.kind,
        of.name,
        of.n,
        of.mean / size + less,
        None,
        Interval(0.8, next_job.low / size + less, next_job.high / size + less),
        of.source,
        unit,
    )
