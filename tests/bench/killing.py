"""Kills an intake at random instants, runs it again, and holds the book against an undisturbed one.

    python tests/bench/killing.py FOLDER...      with the recognizers that come with joblog
    python tests/bench/killing.py --quick        with invented files and ears that cost nothing

The same seed kills at the same instants. Exit status 1 if any book differs.
"""

from __future__ import annotations

import argparse
import hashlib
import os
import random
import re
import shutil
import signal
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

HERE = Path(__file__).resolve()
sys.path += [str(HERE.parents[2]), str(HERE.parents[1] / "book")]

JOB = "Gull Point cottage"


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folders", nargs="*", type=Path)
    parser.add_argument("--quick", action="store_true")
    parser.add_argument("--kills", type=int, default=50)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--book", type=Path, help="only take in, into this book; no killing")
    given = parser.parse_args()
    if given.book:
        take_in(given.book, given.folders, quick=given.quick)
        return 0
    with tempfile.TemporaryDirectory() as scratch:
        folders = given.folders or [invented(Path(scratch) / "invented", recordings=8, photos=8)]
        return kill(Path(scratch), folders, given.quick, given.kills, given.seed)


def kill(scratch: Path, folders: Sequence[Path], quick: bool, kills: int, seed: int) -> int:
    whole, _ = run(scratch / "undisturbed", folders, quick)
    expected = state(scratch / "undisturbed")
    print(f"undisturbed: {whole:.1f} s; {summary(scratch / 'undisturbed')}")
    instants = random.Random(seed)
    reached: Counter[int] = Counter()
    different = 0
    for number in range(kills):
        book = scratch / f"killed {number}"
        # Every fifth is killed again while it is being repaired, and again.
        for _ in range(3 if number % 5 == 4 else 1):
            while not run(book, folders, quick, instants.uniform(0, whole))[1]:
                shutil.rmtree(book)  # It was done before it could be killed.
        reached[kept(book)] += 1
        run(book, folders, quick)
        different += report_difference(number, expected, state(book))
    print("recordings and photos in the book at the last kill:", dict(sorted(reached.items())))
    print(f"{kills - different} of {kills} books identical to the undisturbed one")
    return 1 if different else 0


def run(
    book: Path, folders: Sequence[Path], quick: bool, kill_after: float = 3600
) -> tuple[float, bool]:
    """Takes in, in a process of its own that is killed so many seconds after it made the book.

    Seconds that it lived from then on, and whether it was killed.
    """
    command = [sys.executable, str(HERE), "--book", str(book), *map(str, folders)]
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))}
    process = subprocess.Popen(command + ["--quick"] * quick, env=environment)
    while not (book / "book.sqlite").exists() and process.poll() is None:
        time.sleep(0.002)
    began = time.monotonic()
    try:
        status = process.wait(kill_after)
    except subprocess.TimeoutExpired:
        process.kill()
        status = process.wait()
    if status not in (0, -signal.SIGKILL):
        raise SystemExit(f"taking in ended with status {status}")
    return time.monotonic() - began, status != 0


def take_in(folder: Path, folders: Sequence[Path], *, quick: bool) -> None:
    from joblog.book import Book, BookError
    from joblog.book.intake import take_in
    from joblog.model import Job

    try:
        book = Book.open(folder)
    except BookError:
        book = Book.create(folder)
    with book:
        if not book.jobs():
            book.add_job(Job(JOB, "America/New_York"))
        if quick:
            from fake_ears import listen

            result = take_in(book, JOB, folders, recognizers=(), listen=listen, workers=1)
        else:
            result = take_in(book, JOB, folders)
    for problem in result.problems:
        print(f"{problem.what}: {problem.why}", file=sys.stderr)


def state(folder: Path) -> tuple[list[str], dict[str, str]]:
    """Every row of every table, and every original with the hash of its bytes.

    How sure a recognizer was is left out of the hearings: Vosk's likelihoods differ from run to
    run in the seventh digit. So is the identity that each book draws for itself. Words, order,
    entries, doubts and ids are all compared.
    """
    with sqlite3.connect(folder / "book.sqlite") as book:
        rows = [
            SURENESS.sub("~", row) if row.startswith('INSERT INTO "hearing"') else row
            for row in book.iterdump()
            if not row.startswith(IDENTITY)
        ]
    book.close()
    originals = {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted((folder / "media").rglob("*"))
        if path.is_file() and path.suffix != ".lock"
    }
    return rows, originals


IDENTITY = (
    "INSERT INTO \"setting\" VALUES('book',",
    "INSERT INTO \"seal\" VALUES('setting','book',",
)
SURENESS = re.compile(r"-?\d+\.\d+")


def kept(folder: Path) -> int:
    """How many recordings and photos a killed book holds."""
    try:
        with sqlite3.connect(f"file:{folder / 'book.sqlite'}?mode=ro", uri=True) as book:
            counts = book.execute(
                "SELECT (SELECT count(*) FROM recording) + (SELECT count(*) FROM photo)"
            )
            return int(counts.fetchone()[0])
    except sqlite3.Error:
        return 0


def summary(folder: Path) -> str:
    tables = ("recording", "utterance", "entry", "entry_version", "doubt", "photo", "tie")
    with sqlite3.connect(folder / "book.sqlite") as book:
        counts = [book.execute(f"SELECT count(*) FROM {t}").fetchone()[0] for t in tables]
    return ", ".join(f"{count} {table}" for count, table in zip(counts, tables, strict=True))


def report_difference(
    number: int, expected: tuple[list[str], dict[str, str]], found: tuple[list[str], dict[str, str]]
) -> bool:
    if found == expected:
        return False
    rows = set(found[0]) ^ set(expected[0])
    originals = set(found[1].items()) ^ set(expected[1].items())
    print(f"kill {number}: {len(rows)} rows and {len(originals)} originals differ, such as")
    print("   ", *sorted([*rows, *map(str, originals)])[:4], sep="\n    ")
    return True


def invented(folder: Path, recordings: int, photos: int) -> Path:
    """A folder of files for the quick ears, with photos around what is said."""
    from fake_ears import photo, recording

    for number in range(recordings):
        recording(
            folder,
            f"2026-10-05 {7 + number:02}-00-00.wav",
            "SLOW 0.1",
            f"north wall {10 + number} and seven eighths",
            "take a photo of the north wall",
            "used three sheets of soffit",
            "scratch that",
        )
    for number in range(photos):
        photo(folder, f"{number}.jpg", f"2026:10:05 {7 + number:02}:00:30", shade=number)
    return folder


if __name__ == "__main__":
    raise SystemExit(main())
