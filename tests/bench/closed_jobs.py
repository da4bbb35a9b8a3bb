"""How long a book of many closed jobs takes to say what they teach, and to learn from it.

    python -m tests.bench.closed_jobs

Invented jobs of 40 items in 6 tasks, each delivered, used, partly spoiled and counted; all are
squared up and closed as a person would. Prints processor seconds: to square up and close a job,
then to read what all teach (`Book.history`, which looks whether anything changed since), and to
learn from that; and to read it with one in ten of the latest jobs reopened.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from pathlib import Path

import numpy as np

from joblog.book import Book, closed, decisions
from joblog.model import Entry, Item, Job, Plan, PlannedItem, PlannedTask, Reading, Task
from joblog.rates import learn
from joblog.reconcile import reconcile

FIRST = datetime(2015, 1, 5, 18, tzinfo=UTC)
ITEMS = [Item(f"item {number}", "each") for number in range(40)]
TASKS = [Task(f"task {number}", unit="ft") for number in range(6)]


def main(sizes: Sequence[int]) -> None:
    luck = np.random.default_rng(1)
    print(
        f"{'jobs':>6}{'closing':>9}{'reading':>9}{'learning':>10}{'together':>10}{'reopened':>10}"
    )
    with tempfile.TemporaryDirectory() as folder, Book.create(Path(folder)) as book:
        # Only the time counts here, and a thousand commits to disk would be most of it.
        book._db.execute("PRAGMA synchronous = OFF")
        begun = 0
        for size in sizes:
            closing = sum(closed_now(book, number, luck) for number in range(begun, size))
            reading, learning = read_and_learnt(book)
            for number in range(begun, size, 10):
                decisions.add_typed(
                    book, f"job {number}", Reading((said("used", 1, Fraction(1)),)), "", FIRST
                )
            reopened, _ = read_and_learnt(book)
            print(
                f"{size:6}{closing / (size - begun):9.3f}{reading:9.2f}{learning:10.2f}"
                f"{reading + learning:10.2f}{reopened:10.2f}",
                flush=True,
            )
            close_again(book, range(begun, size, 10))
            begun = size


def closed_now(book: Book, number: int, luck: np.random.Generator) -> float:
    """Notes a job and closes it; the seconds that squaring up and closing took."""
    job, at = Job(f"job {number}", "America/New_York"), FIRST + timedelta(days=number)
    net = [Fraction(int(luck.integers(40, 400)), 8) for _ in ITEMS]
    book.add_job(job)
    book.set_plan(
        job.name,
        Plan(
            tuple(PlannedItem(item, size) for item, size in zip(ITEMS, net, strict=True)),
            tuple(PlannedTask(task, Fraction(20), None, Fraction(200)) for task in TASKS),
        ),
    )
    entries = []
    for item, size in enumerate(net):
        lost = Fraction(round(8 * float(size) * 0.05 * np.exp(0.5 * luck.normal())), 8)
        entries += [
            said("delivered", item, size + 20), said("used", item, size),
            said("spoiled", item, lost), said("on_hand", item, 20 - min(lost, Fraction(20))),
        ]  # fmt: skip
    for task in TASKS:
        hours = Fraction(int(luck.integers(12, 30)))
        entries.append(
            Entry("labor", hours=hours, task=task.name, quantity=Fraction(200), unit="ft")
        )
    decisions.add_typed(book, job.name, Reading(tuple(entries)), "", at)
    started = time.process_time()
    shut(book, job, at)
    return time.process_time() - started


def shut(book: Book, job: Job, at: datetime) -> None:
    entries = book.entries(job.name)
    figures = reconcile(job, book.plan(job.name), entries, book.catalog())
    closed.close_job(book, job.name, at.date(), figures, entries)


def close_again(book: Book, numbers: range) -> None:
    for number in numbers:
        shut(book, book.job(f"job {number}"), FIRST + timedelta(days=number))


def read_and_learnt(book: Book) -> tuple[float, float]:
    """Processor seconds to read what all closed jobs teach, and to learn from it."""
    started = time.process_time()
    history, _ = closed.history(book)
    read = time.process_time()
    learn(history)
    return read - started, time.process_time() - read


def said(kind: str, item: int, quantity: Fraction) -> Entry:
    return Entry(kind, item=ITEMS[item].name, quantity=quantity, unit="each")  # type: ignore[arg-type]


if __name__ == "__main__":
    main([int(size) for size in sys.argv[1:]] or (125, 250, 500, 1000))
