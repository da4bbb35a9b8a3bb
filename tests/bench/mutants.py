"""Damaged files through intake: none may end the run, hang, or fill the memory.

    python -m tests.bench.mutants sounds|pictures [--count N] [--seed N] [--kept FILE]

Mutants (`tests.audio.mutated_sounds`, `tests.photos.mutants`: `mutant(seed)` is that file again)
are taken into books, a slice of them into each, by a process of its own: copied, decoded, printed,
cut and read with ears that cost nothing; photos are drawn as the screens draw them. A fault is an
intake that ends otherwise than with an answer for each file, one that goes on for too long, a line
that is not plain, and more memory than that sort of file may take. A file that ends the worker that
reads it costs itself alone, and is counted by why.

A slice's figures are one line of JSON in FILE, and slices that are there are not done again.
"""

from __future__ import annotations

import argparse
import json
import os
import resource
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path
from typing import Any

SLICE = 1000
MOST = 600 << 20
"""Bytes, of any process."""
LONGEST = 1800.0
"""Seconds of processor time for a slice: a hundred times what it takes."""


def main() -> int:
    arguments = argparse.ArgumentParser("tests.bench.mutants", description=__doc__)
    arguments.formatter_class = argparse.RawDescriptionHelpFormatter
    arguments.add_argument("sort", choices=("sounds", "pictures"))
    arguments.add_argument("--count", type=int, default=100_000)
    arguments.add_argument("--seed", type=int, default=1)
    arguments.add_argument("--kept", type=Path)
    arguments.add_argument("--slice", action="store_true", help="one slice, in this process")
    asked = arguments.parse_args()
    if asked.slice:
        print(json.dumps(taken_in(asked.sort, asked.seed, asked.count)))
        return 0
    slices = _slices(asked.sort, asked.seed, asked.count, asked.kept)
    return _told(asked.sort, slices)


def taken_in(sort: str, first: int, count: int) -> dict[str, Any]:
    """What came of so many mutants, taken into one book by this process."""
    from joblog.book import Book
    from joblog.book.intake import take_in
    from joblog.model import Job

    began = time.monotonic()
    with tempfile.TemporaryDirectory() as folder:
        files = _files(sort, Path(folder) / "phone", first, count)
        with Book.create(Path(folder) / "book") as book:
            book.add_job(Job("Gull Point cottage", "America/New_York"))
            result = take_in(
                book, "Gull Point cottage", [Path(folder) / "phone"], workers=1,
                recognizers=(Deaf(),),
            )  # fmt: skip
            came, faults = _what_came(files, result)
            drawn = _drawn(book.store) if sort == "pictures" else Counter[str]()
    return {
        "sort": sort,
        "first": first,
        "count": count,
        "seconds": round(time.monotonic() - began, 1),
        "processor": round(sum(os.times()[:4]), 1),
        "parent_mb": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss >> 10,
        "worker_mb": resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss >> 10,
        "came": came,
        "drawn": drawn,
        "faults": faults,
    }


class Deaf:
    """A recognizer that hears one word in whatever it is given."""

    name = "trade"

    def begin(self) -> None:
        pass

    def hear(self, samples: object, vocabulary: object, start: float) -> tuple[Any, ...]:
        from joblog.model import Alternative, Hearing, Word

        word = (Word("used", start, start + 0.1, 1.0),)
        said = (Alternative("used", 0.0),)
        return tuple(Hearing(name, "used", word, said) for name in ("trade", "general free"))


def _files(sort: str, folder: Path, first: int, count: int) -> dict[Path, int]:
    if sort == "sounds":
        from tests.audio.mutated_sounds import mutant
    else:
        from tests.photos.mutants import mutant
    folder.mkdir()
    files = {}
    for seed in range(first, first + count):
        name, content = mutant(seed)
        path = folder / f"mutant {seed} {name}"
        path.write_bytes(content)
        files[path] = seed
    return files


def _what_came(files: dict[Path, int], result: Any) -> tuple[Counter[str], list[Any]]:
    came: Counter[str] = Counter()
    came["taken in"] = result.recordings + result.photos + result.tracks
    came["passed over"] = result.already_there + len(
        [note for note in result.notes if note.why.startswith("passed over")]
    )
    faults = []
    for problem in result.problems:
        how = next((how for how, words in LOST.items() if words in problem.why), "refused")
        came[how] += 1
        seed = files.get(Path(problem.what))
        plain = problem.why.isprintable() and len(problem.why) < 400
        if how != "refused" or not plain or "could not be read (" in problem.why or seed is None:
            faults.append((seed, problem.what.rpartition("/")[2], problem.why))
    if (answered := came.total()) != len(files):
        faults.append((None, "slice", f"{len(files)} files, {answered} answers"))
    return came, faults


LOST = {
    "died": "the program that was reading it died",
    "stuck": "could not be read to an end",
    "memory": "takes too much memory to be read. It was left out",
}


def _drawn(store: Path) -> Counter[str]:
    from joblog.book.looking import NotDrawnError, all_drawn

    paths = sorted(path for path in store.glob("??/*") if path.suffix != ".gpx")
    found = (answer for _, answer in all_drawn(paths, (280, 220)))
    return Counter(
        _why_not(answer.why) if isinstance(answer, NotDrawnError) else "drawn" for answer in found
    )


def _why_not(why: str) -> str:
    return why if why.startswith(("makes", "takes")) else "not drawn"


def _slices(sort: str, first: int, count: int, kept: Path | None) -> list[dict[str, Any]]:
    done = _kept(kept)
    found = []
    for seed in range(first, first + count, SLICE):
        many = min(SLICE, first + count - seed)
        if (sort, seed, many) not in done:
            one = _in_a_process(sort, seed, many)
            done[sort, seed, many] = one
            if kept:
                with kept.open("a") as file:
                    file.write(json.dumps(one) + "\n")
        found.append(done[sort, seed, many])
    return found


def _kept(path: Path | None) -> dict[tuple[str, int, int], dict[str, Any]]:
    lines = path.read_text().splitlines() if path and path.exists() else []
    slices = map(json.loads, lines)
    return {(one["sort"], one["first"], one["count"]): one for one in slices}


def _in_a_process(sort: str, first: int, count: int) -> dict[str, Any]:
    """The slice's figures; a process that dies of it, or does not end, is a fault by itself."""
    command = [sys.executable, "-m", "tests.bench.mutants", sort, "--slice"]
    process = subprocess.Popen(
        [*command, "--seed", str(first), "--count", str(count)],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_CPU, (int(LONGEST), int(LONGEST))),
    )  # fmt: skip
    said, complained = process.communicate()
    try:
        return dict(json.loads(said.splitlines()[-1]))
    except (ValueError, IndexError):
        fault = (None, "slice", f"ended with {process.returncode}: {complained[-2000:]}")
        return {"sort": sort, "first": first, "count": count, "came": {}, "faults": [fault]}


def _told(sort: str, slices: list[dict[str, Any]]) -> int:
    came: Counter[str] = Counter()
    drawn: Counter[str] = Counter()
    for one in slices:
        came.update(one["came"])
        drawn.update(one.get("drawn", {}))
    faults = [fault for one in slices for fault in one["faults"]]
    peaks = {who: max(one.get(f"{who}_mb", 0) for one in slices) for who in ("parent", "worker")}
    print(f"{came.total():,} {sort}: " + ", ".join(f"{n:,} {how}" for how, n in came.most_common()))
    if drawn:
        print("drawn small: " + ", ".join(f"{n:,} {how}" for how, n in drawn.most_common()))
    print(f"at most {peaks['parent']} MB here and {peaks['worker']} MB in a worker", end="; ")
    print(f"{sum(one.get('processor', 0) for one in slices) / 60:.0f} minutes of processor")
    ended = [fault for fault in faults if fault[1] == "slice"]
    print(f"{len(ended)} runs ended badly; {len(faults) - len(ended)} files to look at")
    for seed, name, what in faults[:50]:
        print(f"  seed {seed}, {name}: {what}")
    return 1 if ended or max(peaks.values()) << 20 > MOST else 0


if __name__ == "__main__":
    sys.exit(main())
