"""Random decisions, and whether all that ever stood can be made to stand as it was.

`python -m tests.bench.bringing_back --books 100 --seed 1`: that many books with 60 decisions each.
Prints what was lost, with its seed, and how much there was. Takes about 4 s of processor a book.
"""

from __future__ import annotations

import tempfile
from pathlib import Path
from random import Random

import click

from tests.book.test_bin import lost_after
from tests.book.two_jobs import a_book


@click.command()
@click.option("--books", default=100)
@click.option("--seed", default=1)
@click.option("--decisions", default=60)
def main(books: int, seed: int, decisions: int) -> None:
    lost = 0
    for number in range(seed, seed + books):
        with tempfile.TemporaryDirectory() as folder, a_book(Path(folder)) as book:
            gone, not_in_the_bin = lost_after(book, Random(number), decisions)
            if gone or not_in_the_bin:
                lost += 1
                print(
                    f"seed {number}: lost {sorted(gone)}, not in the bin {sorted(not_in_the_bin)}"
                )
    print(f"{books} books of {decisions} decisions, {lost} of them with anything lost")


if __name__ == "__main__":
    main()
