"""The review under random keys, for as many as are asked for: nothing breaks, no decision changes.

    python -m tests.bench.monkey [--presses N] [--seed N]

Every thousand keys start on a new book of the same evening, each with a seed of its own that is
printed; meanwhile another program adds entries and decides some. Prints the last keys before what
went wrong, and exits with 1 if anything did; at the end, how many keys each screen got. A hundred
thousand keys take an hour or two.
"""

from __future__ import annotations

import argparse
import asyncio
import sys
import tempfile
from collections import Counter
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
    asked = arguments.parse_args()
    wrong, screens = 0, Counter[str]()
    for seed in range(asked.seed, asked.seed + max(1, asked.presses // AT_ONCE)):
        evening = _one_evening(seed, min(AT_ONCE, asked.presses))
        wrong += evening.wrong is not None
        screens += evening.screens
        print(f"seed {seed}: {evening.wrong or 'nothing wrong'}", flush=True)
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
