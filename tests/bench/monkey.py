"""The review under random keys, for as many as are asked for: nothing breaks, no decision changes.

    python -m tests.bench.monkey [--presses N] [--seed N] [--processes N]

Every thousand keys start on a new book of the same evening, each with a seed of its own that is
printed; meanwhile another program adds entries and decides some. Prints the last keys before what
went wrong and where that was, and exits with 1 if anything did; at the end, how many keys each
screen got. A key takes about 25 ms of processor: a hundred thousand take 25 minutes in two
processes.
"""

from __future__ import annotations

import argparse
import asyncio
import sys
import tempfile
from collections import Counter
from concurrent.futures import ProcessPoolExecutor, as_completed
from multiprocessing import get_context
from pathlib import Path

from joblog.book import Book
from tests.tui.evening import fill, tell_too_much
from tests.tui.monkey import Evening, press_at_random

AT_ONCE = 1000


def main() -> int:
    arguments = argparse.ArgumentParser("tests.bench.monkey", description=__doc__)
    arguments.formatter_class = argparse.RawDescriptionHelpFormatter
    arguments.add_argument("--presses", type=int, default=100_000)
    arguments.add_argument("--seed", type=int, default=1)
    arguments.add_argument("--processes", type=int, default=1)
    asked = arguments.parse_args()
    wrong, screens = 0, Counter[str]()
    seeds = range(asked.seed, asked.seed + max(1, asked.presses // AT_ONCE))
    presses = min(AT_ONCE, asked.presses)
    with ProcessPoolExecutor(asked.processes, get_context("spawn")) as processes:
        begun = {processes.submit(_one_evening, seed, presses): seed for seed in seeds}
        for done in as_completed(begun):
            evening = done.result()
            wrong += evening.wrong is not None
            screens += evening.screens
            line = f"seed {begun[done]}: {evening.wrong or 'nothing wrong'}"
            print(f"{line}, {screens.total()} keys so far", flush=True)
            print(evening.trace, end="", flush=True)
    for screen, keys in screens.most_common():
        print(f"{keys:7} {screen}")
    return 1 if wrong else 0


def _one_evening(seed: int, presses: int) -> Evening:
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        with Book.create(folder / "book") as book:
            fill(book, folder)
            tell_too_much(book, folder)
            return asyncio.run(press_at_random(book, seed, presses))


if __name__ == "__main__":
    sys.exit(main())
