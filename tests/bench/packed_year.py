"""Each job of a simulated year, packed and unpacked, is what it was: figures, rates, history, days.

    python -m tests.bench.packed_year [--seed 1] [--jobs 40] [--book FOLDER]

Each job goes into an empty book of its own, and all of them, in three orders, into one; each time
all that is told of each job is held against the first book, and each book is looked over as by
joblog check. With `--book` the jobs of that book (a copy of it) are taken. Of jobs that tell of
each other and came one after the other, the order of their steps may differ, and nothing else.
About half a second a job, besides the year itself (half a minute).
"""

from __future__ import annotations

import argparse
import random
import shutil
import tempfile
import time
from collections.abc import Iterator, Sequence
from pathlib import Path

from joblog.book import Book
from joblog.book.verify import verify
from joblog.model import Job
from joblog.packing import pack, unpack
from tests.bench.year.year import lived
from tests.packing.books import new_book
from tests.packing.telling import apart, told

WORDS = ("panel", "used", "north eave", "3")


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--jobs", type=int, default=40)
    asked.add_argument("--book", type=Path)
    wanted = asked.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        if wanted.book is None:
            book = new_book(folder / "year")
            lived(book, wanted.seed, wanted.jobs, folder)
        else:
            shutil.copytree(wanted.book, folder / "year")
            book = Book.open(folder / "year")
        with book:
            began = time.process_time()
            wrong = [*each_alone(book, folder), *all_in_one(book, folder)]
            seconds = time.process_time() - began
            print(f"{len(book.jobs())} jobs in {seconds:.1f} s; {len(wrong)} differ")
    for line in wrong:
        print(f"  {line}")
    raise SystemExit(bool(wrong))


def each_alone(book: Book, folder: Path, jobs: Sequence[Job] | None = None) -> Iterator[str]:
    """What differs where each job, or each of these, is in a book by itself."""
    for number, job in enumerate(job.name for job in jobs or book.jobs()):
        packed = pack(book, job, folder / f"{number}.jobpack")
        with new_book(folder / f"alone {number}") as other:
            unpack(other, packed.file)
            if (again := unpack(other, packed.file)).outcome != "same":
                yield f"{job}: unpacked again it {again.outcome}"
            yield from _differs(book, other, job)
            yield from (f"{job}: {found.what}: {found.why}" for found in verify(other))


def all_in_one(book: Book, folder: Path) -> Iterator[str]:
    """What differs where all of them come into one book, in three orders."""
    jobs = [job.name for job in book.jobs()]
    for number, order in enumerate(_orders(jobs)):
        with new_book(folder / f"together {number}") as other:
            for job in order:
                unpack(other, folder / f"{jobs.index(job)}.jobpack")
            for job in jobs:
                if unpack(other, folder / f"{jobs.index(job)}.jobpack").outcome != "same":
                    yield f"{job}: unpacked again among the others it changes something"
                yield from _differs(book, other, job, "history")
            yield from (f"together: {found.what}: {found.why}" for found in verify(other))


def _orders(jobs: Sequence[str]) -> Iterator[Sequence[str]]:
    yield jobs
    yield jobs[::-1]
    yield random.Random(1).sample(jobs, len(jobs))


def _differs(one: Book, other: Book, job: str, *but: str) -> Iterator[str]:
    mine, theirs = told(one, job, *WORDS), told(other, job, *WORDS)
    for name in apart(mine, theirs):
        if name not in but or sorted(map(repr, mine[name])) != sorted(map(repr, theirs[name])):
            yield f"{job}: {name}"


if __name__ == "__main__":
    main()
