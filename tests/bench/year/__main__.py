"""A simulated year entered day by day, and every figure of it recomputed by a ledger of its own.

python -m tests.bench.year [--seed 1] [--jobs 40]
"""

from __future__ import annotations

import argparse
import tempfile
from pathlib import Path

from joblog.book import Book
from tests.bench.year.year import lived


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--jobs", type=int, default=40)
    told = asked.parse_args()
    with tempfile.TemporaryDirectory() as folder, Book.create(Path(folder) / "book") as book:
        result = lived(book, told.seed, told.jobs, Path(folder))
    entered = result.entered
    print(
        f"{told.jobs} jobs, {entered.sentences} sentences typed; {len(entered.asked)} asked about,"
        f" {len(entered.unread)} not read whole, {len(entered.in_the_way)} things in the way of"
        " closing"
    )
    for words, why in entered.asked:
        print(f"  asked: {words}: {why}")
    for words in entered.unread:
        print(f"  not read whole: {words}")
    for job, why in entered.in_the_way:
        print(f"  in the way of closing {job}: {why}")
    for line in result.differences:
        print(f"  {line}")
    print(f"{result.figures} figures, {len(result.differences)} differ")


if __name__ == "__main__":
    main()
