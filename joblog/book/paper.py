"""Earlier jobs from paper."""

from __future__ import annotations

from joblog.book import rows
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

    A line takes the place of the one of the same job, day and item or task.
    """
    before = past(book)
    known = {*before.uses, *before.work}
    with book._writing():
        for use in earlier.uses:
            book._db.insert("past_use", rows.past_use_row(use), replace=True)
        for work in earlier.work:
            book._db.insert("past_work", rows.past_work_row(work), replace=True)
    after = past(book)
    return len({*after.uses, *after.work} - known)


def drop_past(book: Book, job: str) -> int:
    """Drops an earlier job that came from paper; how many lines it had."""
    key = rows.key(job)
    with book._writing():
        return sum(
            int(book._db.execute(f"DELETE FROM {table} WHERE job_key = ?", [key]).rowcount)
            for table in ("past_use", "past_work")
        )
