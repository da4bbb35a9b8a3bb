"""Earlier jobs from paper."""

from __future__ import annotations

from joblog.book import nouns, rows
from joblog.book.steps import deciding
from joblog.book.store import Book
from joblog.model import History


def past(book: Book) -> History:
    """The earlier jobs from paper, in the order of their days."""
    order = "ORDER BY day, job_key"
    uses = book._kept("past_use", f"SELECT * FROM past_use {order}, item_key")
    work = book._kept("past_work", f"SELECT * FROM past_work {order}, task_key")
    return History(tuple(map(rows.past_use_from, uses)), tuple(map(rows.past_work_from, work)))


def keep_past(book: Book, earlier: History) -> int:
    """Keeps earlier jobs from paper; how many of their lines are new, or say otherwise now.

    A line takes the place of the one of the same job, day and item or task. It is a step in the
    history of every job.
    """
    with deciding(book) as step:
        before = past(book)
        jobs = dict.fromkeys(_jobs(earlier))
        step.about(map(nouns.past_noun, jobs))
        for use in earlier.uses:
            book._db.insert("past_use", rows.past_use_row(use), replace=True)
        for work in earlier.work:
            book._db.insert("past_work", rows.past_work_row(work), replace=True)
        after = past(book)
        new = len({*after.uses, *after.work} - {*before.uses, *before.work})
        step.what = f"earlier jobs: {new} {'line' if new == 1 else 'lines'} of {_named([*jobs])}"
    return new


def drop_past(book: Book, job: str) -> int:
    """Drops an earlier job that came from paper, which goes to the bin; how many lines it had."""
    key = rows.key(job)
    with deciding(book) as step:
        found = past(book)
        lines = [name for name in _jobs(found) if rows.key(name) == key]
        step.put(nouns.past_noun(job), None)
        step.what = f"dropped the earlier job {lines[0] if lines else job}"
    return len(lines)


def _jobs(told: History) -> list[str]:
    """The job of each line."""
    return [use.job for use in told.uses] + [work.job for work in told.work]


def _named(jobs: list[str]) -> str:
    more = f" and {len(jobs) - _FEW} more" if len(jobs) > _FEW else ""
    return ", ".join(jobs[:_FEW]) + more


_FEW = 3
