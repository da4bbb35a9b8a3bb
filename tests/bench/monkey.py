"""The review under random keys, for as many as are asked for: nothing breaks, no decision changes.

    python -m tests.bench.monkey [--presses N] [--seed N]

Every thousand keys start on a new book of the same evening, each with a seed of its own that is
printed. Prints the last keys before what went wrong, and exits with 1 if anything did. A hundred
thousand keys take about a quarter of an hour.
"""

from __future__ import annotations

import argparse
import asyncio
import sys
import tempfile
from pathlib import Path

from joblog.book import Book
from tests.tui.evening import fill, tell_too_much
from tests.tui.monkey import press_at_random

AT_ONCE = 1000


def main() -> int:
    arguments = argparse.ArgumentParser("tests.bench.monkey", description=__doc__)
    arguments.formatter_class = argparse.RawDescriptionHelpFormatter
    arguments.add_argument("--presses", type=int, default=100_000)
    arguments.add_argument("--seed", type=int, default=1)
    asked = arguments.parse_args()
    wrong = 0
    for seed in range(asked.seed, asked.seed + max(1, asked.presses // AT_ONCE)):
        trouble = _one_evening(seed, min(AT_ONCE, asked.presses))
        wrong += trouble is not None
        print(f"seed {seed}: {trouble or 'nothing wrong'}", flush=True)
    return 1 if wrong else 0


def _one_evening(seed: int, presses: int) -> str | None:
    with tempfile.TemporaryDirectory() as made:
        folder = Path(made)
        with Book.create(folder / "book") as book:
            fill(book, folder)
            tell_too_much(book, folder)
            return asyncio.run(press_at_random(book, seed, presses))


if __name__ == "__main__":
    sys.exit(main())
