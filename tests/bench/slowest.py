"""How long reading takes at its worst.

    python -m tests.bench.slowest [--count N] [--seed N]

Generates sentences from the tables, evenly, so that every pattern is tried, says several of them in
one breath, and prints how many are read a second and which of them took longest; then how long
100 kB of such talk takes, and of the densest tangles that are known.
"""

from __future__ import annotations

import argparse
import heapq
import itertools
import random
import time

from joblog.dictation import read
from joblog.dictation.generate import derivations
from tests.bench.corpus.site import words
from tests.dictation.test_long_and_dense import TANGLES

LONG = 100_000
"""Characters of a long text."""
SHOWN = 5
FORMS = 4_000
"""Sentences that are generated; breaths are drawn from them, which is quicker."""
MOST_IN_A_BREATH = 3


def main() -> None:
    parser = argparse.ArgumentParser("tests.bench.slowest", description=__doc__)
    parser.formatter_class = argparse.RawDescriptionHelpFormatter
    parser.add_argument("--count", type=int, default=200_000)
    parser.add_argument("--seed", type=int, default=1)
    asked_for = parser.parse_args()
    draw = random.Random(asked_for.seed)
    vocabulary = words()
    drawn = itertools.islice(derivations(vocabulary, draw, evenly=True), FORMS)
    forms = [one.text for one in drawn]
    for form in forms:
        read(form, vocabulary)  # Patterns are compiled when they are first needed.
    took: list[tuple[float, str]] = []
    for _ in range(asked_for.count):
        said = ", ".join(draw.sample(forms, draw.randint(1, MOST_IN_A_BREATH)))
        began = time.process_time()
        read(said, vocabulary)
        took.append((time.process_time() - began, said))
    total = sum(seconds for seconds, _ in took)
    print(f"{len(took):,} sentences, {len(took) / total:,.0f} a second; the slowest:")
    for seconds, said in heapq.nlargest(SHOWN, took):
        print(f"  {1000 * seconds:6.1f} ms  {said}")
    long = ", ".join(itertools.islice(itertools.cycle(forms), LONG // 10))[:LONG]
    for name, text in (("talk", long), *((tangle, f"{tangle} " * LONG) for tangle in TANGLES)):
        began = time.process_time()
        read(text[:LONG], vocabulary)
        print(f"{LONG:,} characters of {name!r}: {time.process_time() - began:.2f} s")


if __name__ == "__main__":
    main()
