"""The closed jobs behind the rates: out of their reconciliations, and one by one for a plot."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from joblog.model import History, PastUse, PastWork, Reconciliation
from joblog.rates.learned import Learned, Past, key_of, name_of, past_of
from joblog.reconcile.allowed import took


@dataclass(frozen=True, slots=True)
class JobRate:
    """One job's own rate of an item or task, beside what the model expected of it."""

    job: str
    day: date
    value: float
    usual: float
    weight: float
    """0 to 1: what it counts for beside a job in the middle."""
    odd: bool


def history_of(closed: Iterable[tuple[date, Reconciliation]]) -> History:
    """What closed jobs say of waste and hours.

    Of an item every line that was counted, and that says how much its work should have taken: net
    is what the plan allows for the output that was made, geometric waste what was planned or cut
    of that, and all the rest that is gone was waste: used beside it, spoiled, or unexplained
    (`why_it_teaches_nothing` says why a line does not). Of a task how much was told to be done, and
    the hours that it was done in; hours of which nobody said it teach nothing, and neither does a
    task with entries in doubt. What the job was like goes with every line.
    """
    uses, work = [], []
    for day, done in closed:
        like = done.conditions
        for line in done.stock:
            allowed = took(line)
            if allowed is None or line.consumed is None:
                continue
            uses.append(
                PastUse(
                    done.job,
                    day,
                    line.item,
                    allowed.net,
                    line.consumed,
                    allowed.offcut,
                    fahrenheit=like.fahrenheit,
                    depth=like.depth,
                    crew=like.crew,
                    allowed_by=allowed.by,
                )
            )
        for task in done.tasks:
            if task.done and task.done_hours > 0 and not task.left_out:
                work.append(
                    PastWork(
                        done.job,
                        day,
                        task.task,
                        task.done,
                        task.done_hours,
                        like.fahrenheit,
                        like.depth,
                        like.crew,
                    )
                )
    return History(tuple(uses), tuple(work))


def joined(book: History, paper: History) -> tuple[History, tuple[str, ...]]:
    """Both histories as one, and a line for each job that both hold.

    What both say of one item or task of a job counts once, as the book has it.
    """
    known = {_line(one) for one in past_of(book)}
    twice = dict.fromkeys(one.job for one in past_of(paper) if _line(one) in known)
    return History(
        (*book.uses, *(use for use in paper.uses if _line(use) not in known)),
        (*book.work, *(work for work in paper.work if _line(work) not in known)),
    ), tuple(f"{job}: is in the book and on paper; counted as in the book" for job in twice)


def _line(past: Past) -> tuple[bool, str, str]:
    return isinstance(past, PastUse), key_of(past.job), key_of(name_of(past))


def by_job(learned: Learned, name: str) -> tuple[JobRate, ...]:
    """Every job of an item or task in order of time; none where there is no such job."""
    found = []
    for group in (*learned.waste.values(), learned.hours):
        for at, line in enumerate(group.jobs):
            if key_of(name_of(line)) == key_of(name):
                found.append(
                    JobRate(
                        line.job,
                        line.day,
                        float(group.value[at]),
                        float(group.usual[at]),
                        float(group.counts[at]),
                        bool(group.odd[at]),
                    )
                )
    return tuple(sorted(found, key=lambda one: one.day))
