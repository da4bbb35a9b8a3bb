"""How long the stock ledger takes through many jobs.

    python -m tests.bench.stock [JOBS ...]

Invented jobs of 20 items, each begun with what the one before left of them, delivered, used,
counted and closed; each hands three sheets of one item on to the next job by word. Prints processor
seconds: to list all that lies anywhere; to cost what one job was brought (all it began with), the
first time since so many jobs were added, in a book that was opened anew (its rows looked over too),
and after one more thing was told on that job; to look at one job of which nothing was carried; and
to see which jobs are still closed.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from pathlib import Path

from joblog.book import Book, closed, decisions
from joblog.book.moves import came_to, ledger_of_all
from joblog.book.transfers import came_told
from joblog.model import Entry, Item, Job, Plan, PlannedItem, Reading
from joblog.reconcile import reconcile
from joblog.stock import cost_of

FIRST = datetime(2015, 1, 5, 18, tzinfo=UTC)
ITEMS = tuple(Item(f"item {number}", "each") for number in range(20))
LEFT, HANDED_ON = Fraction(3), Fraction(3)


def main(sizes: Sequence[int]) -> None:
    heads = ("everything", "one job", "anew", "told more", "untouched", "closed")
    print(f"{'jobs':>6}" + "".join(f"{head:>12}" for head in heads))
    with tempfile.TemporaryDirectory() as folder, Book.create(Path(folder)) as book:
        # Only the time counts here, and a thousand commits to disk would be most of it.
        book._db.execute("PRAGMA synchronous = OFF")
        book.add_job(Job("apart", "America/New_York"))
        begun = 0
        for size in sizes:
            for number in range(begun, size):
                live(book, number)
            last = f"job {size - 1}"
            figures = (
                seconds(lambda: ledger_of_all(book)),
                seconds(lambda last=last: came_to(book, last)),  # type: ignore[misc]
                opened_anew(book, last),
                told_more(book, last),
                seconds(lambda: came_to(book, "apart")),
                seconds(lambda: closed.closed_jobs(book)),
            )
            print(f"{size:6}" + "".join(f"{figure:12.3f}" for figure in figures), flush=True)
            begun = size
        check(book)


def live(book: Book, number: int) -> None:
    """One job, from what it began with to its closing."""
    job, at = Job(f"job {number}", "America/New_York"), FIRST + timedelta(days=3 * number)
    opening = LEFT if number else Fraction(0)
    plan = Plan(tuple(PlannedItem(item, Fraction(20), opening=opening) for item in ITEMS))
    book.add_job(job)
    book.set_plan(job.name, plan)
    entries = [told("moved", 0, HANDED_ON, to_job=f"job {number + 1}")]
    for item in range(len(ITEMS)):
        price = Decimal(500 + (7 * number + item) % 90) / 100
        entries.append(told("delivered", item, Fraction(20), unit_cost=price))
        entries.append(told("used", item, Fraction(16)))
        entries.append(told("on_hand", item, LEFT))
    decisions.add_typed(book, job.name, Reading(tuple(entries)), "", at)
    kept = book.entries(job.name)
    figures = reconcile(job, plan, kept, book.catalog(), came_told(book, job.name))
    closed.close_job(book, job.name, at.date(), figures, kept)


def opened_anew(book: Book, job: str) -> float:
    with Book.open(book.folder) as anew:
        return seconds(lambda: came_to(anew, job))


def told_more(book: Book, job: str) -> float:
    """Something that is taken back again."""
    said = told("delivered", 0, Fraction(1), unit_cost=Decimal(5))
    at = book.entries(job)[-1].at
    [id] = decisions.add_typed(book, job, Reading((said,)), "", at)
    took = seconds(lambda: came_to(book, job))
    decisions.drop(book, id)
    return took


def told(kind: str, item: int, quantity: Fraction, **more: object) -> Entry:
    return Entry(kind, item=ITEMS[item].name, quantity=quantity, unit="each", **more)  # type: ignore[arg-type]


def seconds(work: Callable[[], object]) -> float:
    started = time.process_time()
    work()
    return time.process_time() - started


def check(book: Book) -> None:
    """What was bought is somewhere once, to the cent."""
    ledger = ledger_of_all(book, gone=True)
    gone = [layers for _, _, layers in (*ledger.consumed, *ledger.returned)]
    somewhere = sum((cost_of(layers) for layers in gone), Fraction(0))
    somewhere += sum((cost_of(one.layers) for one in ledger.lying), Fraction(0))
    bought = sum(
        Fraction(kept.entry.unit_cost or 0) * (kept.entry.quantity or 0)
        for job in book.jobs()
        for kept in book.entries(job.name)
        if kept.standing != "dropped"
    )
    print(f"bought {float(bought):,.2f}, somewhere {float(somewhere):,.2f}: {bought == somewhere}")


if __name__ == "__main__":
    main([int(size) for size in sys.argv[1:]] or (125, 250, 500, 1000))
