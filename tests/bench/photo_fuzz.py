"""Damaged pictures and track logs: none may crash what reads it, hang, or fill the memory.

    python -m tests.bench.photo_fuzz [--count N] [--seed N]

Every file is read in a process that may be ended, as intake does it, and drawn small. A fault is
whatever that process dies of, more than 2 s of processor time, more than 500 MB, or an error that
is not a plain line for a person. Prints what came of how many, the slowest and the largest, and
every fault with its seed: `tests.photos.mutants.mutant(seed)` is that file again. 100,000 take a
quarter of an hour on two cores. Exits with 1 if anything was at fault.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from joblog.book.workers import Lost, Pool
from tests.photos.enduring import LIMITS, Endured, ready
from tests.photos.mutants import mutant

SHOWN = 30


def main() -> int:
    arguments = argparse.ArgumentParser("tests.bench.photo_fuzz", description=__doc__)
    arguments.formatter_class = argparse.RawDescriptionHelpFormatter
    arguments.add_argument("--count", type=int, default=100_000)
    arguments.add_argument("--seed", type=int, default=1)
    arguments.add_argument("--workers", type=int, default=2)
    asked = arguments.parse_args()
    began = time.monotonic()
    came: Counter[str] = Counter()
    faults: list[tuple[int, str, str]] = []
    slowest, largest = (0.0, 0), (0, 0)
    with tempfile.TemporaryDirectory() as folder:
        pool: Pool[Path, Endured] = Pool(ready, asked.workers, LIMITS)
        with pool:
            for path, answer in pool.answers(_files(Path(folder), asked.seed, asked.count)):
                seed, kind = int(path.parent.name), path.name
                if isinstance(answer, Lost):
                    came[answer.how] += 1
                    faults.append((seed, kind, answer.how))
                else:
                    came[answer.how.partition(":")[0]] += 1
                    slowest = max(slowest, (answer.seconds, seed))
                    largest = max(largest, (answer.memory, seed))
                    if answer.fault:
                        faults.append((seed, kind, answer.fault))
                path.unlink()
                path.parent.rmdir()
    took = time.monotonic() - began
    print(f"{asked.count:,} files, {asked.count / took:,.0f} a second: {len(faults)} faults")
    print(", ".join(f"{many:,} {how}" for how, many in came.most_common()))
    print(f"slowest {slowest[0]:.2f} s (seed {slowest[1]})", end="; ")
    print(f"largest {largest[0] >> 20} MB (seed {largest[1]})")
    for seed, kind, what in faults[:SHOWN]:
        print(f"  seed {seed}, {kind}: {what}")
    return 1 if faults else 0


def _files(folder: Path, first: int, count: int) -> Iterator[Path]:
    for seed in range(first, first + count):
        name, content = mutant(seed)
        (folder / str(seed)).mkdir()
        path = folder / str(seed) / name
        path.write_bytes(content)
        yield path


if __name__ == "__main__":
    sys.exit(main())
