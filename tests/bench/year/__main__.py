"""A simulated year entered day by day, and every figure of it recomputed by a ledger of its own.

    python -m tests.bench.year [--seed 1] [--jobs 40] [--years 1] [--as-measured]

A tradesman's year (`life.py`): jobs of one to four days with deliveries at prices that move, uses,
pieces, spoiled material with its reason, counts, returns, transfers to the next job and to the
shop, hours with and without amounts, a helper's pay, expenses, extras. All of it is typed into a
book, sentence by sentence, as `joblog write` takes it, and each job is closed on its day. Then
every figure of each closed job, what it teaches, what lies in the shop layer by layer, and what
became of the bids is held against a ledger that knows only the facts (`ledger.py`); what differs is
told in words. Before each job from the sixth on a bid is made, and its interval held against the
real cost. About half a minute a year.
"""

from __future__ import annotations

import argparse
import tempfile
from pathlib import Path

from joblog.book import Book
from tests.bench.year.bids import Outcome, told_of_bids
from tests.bench.year.year import Year, lived


def main() -> None:
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--jobs", type=int, default=40)
    asked.add_argument("--years", type=int, default=1, help="so many seeds, one after the other")
    asked.add_argument("--as-measured", action="store_true", help="the work is as it was measured")
    told = asked.parse_args()
    bids: list[Outcome] = []
    for seed in range(told.seed, told.seed + told.years):
        with tempfile.TemporaryDirectory() as folder, Book.create(Path(folder) / "book") as book:
            year = lived(book, seed, told.jobs, Path(folder), as_measured=told.as_measured)
        tell(seed, year)
        bids += year.bids
    if told.years > 1:
        print(f"all {told.years} years:")
        for line in told_of_bids(bids):
            print(f"  {line}")


def tell(seed: int, year: Year) -> None:
    entered = year.entered
    print(
        f"seed {seed}: {entered.sentences} sentences typed; {len(entered.asked)} asked about,"
        f" {len(entered.unread)} not read whole, {len(entered.in_the_way)} things in the way of"
        f" closing, {entered.settled} amounts told in the evening"
    )
    for words, why in entered.asked:
        print(f"  asked: {words}: {why}")
    for words in entered.unread:
        print(f"  not read whole: {words}")
    for job, why in entered.in_the_way:
        print(f"  in the way of closing {job}: {why}")
    for line in year.differences:
        print(f"  {line}")
    print(f"  {year.figures} figures, {len(year.differences)} differ")
    for line in told_of_bids(year.bids):
        print(f"  {line}", flush=True)


if __name__ == "__main__":
    main()
