"""A year's book checked, backed up, backed up again a day later, and restored on a bare machine.

    python -m tests.bench.year_kept FOLDER [--jobs 200] [--photos 20000] [--stick FOLDER]

Everything is invented, photos and recordings are stubs of a few KB. The commands are run as a
person runs them, each in a process of its own, the restore with an empty home; the book that comes
back is held against the one that went, table by table and file by file. Prints seconds, seconds of
processor, and bytes. Exit status 1 where anything differs.
"""

from __future__ import annotations

import argparse
import hashlib
import os
import random
import resource
import subprocess
import sys
import time
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from pathlib import Path

HERE = Path(__file__).resolve()
sys.path += [str(HERE.parents[2]), str(HERE.parents[1] / "backup")]

from made import content  # noqa: E402

from joblog.book import Book, decisions, keep  # noqa: E402
from joblog.model import (  # noqa: E402
    Alternative,
    Entry,
    HeardUtterance,
    Hearing,
    Item,
    Job,
    Moment,
    Photo,
    Plan,
    PlannedItem,
    Reading,
    Recording,
    Utterance,
    Word,
)

FIRST = datetime(2026, 1, 5, 13, tzinfo=UTC)
PLACES = ("north wall", "south eave", "dormer", "gable", "porch")
ITEMS = ("soffit panel", "fascia", "trim coil", "vented panel", "nails")
SAID = 5
"""Utterances in a recording."""


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--jobs", type=int, default=200)
    parser.add_argument("--photos", type=int, default=20_000)
    parser.add_argument("--stick", type=Path)
    given = parser.parse_args()
    folder: Path = given.folder.absolute()
    stick = (given.stick or folder / "stick").absolute()
    for one in (folder, stick, folder / "home"):
        one.mkdir(parents=True, exist_ok=True)
    book = folder / "book"
    if not book.is_dir():
        began = time.perf_counter()
        made(book, given.jobs, given.photos // given.jobs)
        print(f"made in {time.perf_counter() - began:.0f} s")
    print(told(book, "the book"))
    run(folder, "check", "--book", str(book))
    run(folder, "backup", str(stick), "--book", str(book))
    print(told(stick, "the backup"))
    run(folder, "backup", "--book", str(book))
    with Book.open(book) as opened:
        quickly(opened)
        photos = opened._rows("SELECT count(*) AS count FROM photo")[0]["count"]
        a_day(opened, "job 1", FIRST + timedelta(days=365 + photos), 100)
    run(folder, "backup", "--book", str(book))
    print(told(stick, "the backup with one more day"))
    run(folder, "backup", "--whole", "--book", str(book))
    run(folder, "restore", str(stick), home=folder / "home")
    return compared(book, folder / "home" / "joblog")


def run(at: Path, *words: str, home: Path | None = None) -> None:
    """Runs a command as a person does."""
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))}
    environment |= {"HOME": str(home), "USERPROFILE": str(home)} if home else {}
    before, began = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    done = subprocess.run(
        [sys.executable, "-m", "joblog", *words],
        cwd=at, env=environment, capture_output=True, text=True, check=False,
    )  # fmt: skip
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    spent = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    line = f"{' '.join(words[:1])}: {time.perf_counter() - began:.1f} s, {spent:.1f} of processor"
    print(f"{line}, most memory so far {after.ru_maxrss // 1024} MB, status {done.returncode}")
    print("   ", *(done.stdout + done.stderr).splitlines()[:6], sep="\n    ", flush=True)


def told(folder: Path, name: str) -> str:
    sizes = [path.stat().st_size for path in folder.rglob("*") if path.is_file()]
    return f"{name}: {len(sizes):,} files, {sum(sizes) / 1e6:,.1f} MB"


def compared(one: Path, other: Path) -> int:
    went, came = content(one), content(other)
    different = sorted(
        name for name in went.keys() | came.keys() if went.get(name) != came.get(name)
    )
    tables = sum("/" not in name and "." not in name for name in went)
    print(f"{tables} tables and {len(went) - tables:,} files compared; different: {different or 0}")
    return 1 if different else 0


# --- an invented year -------------------------------------------------------------------------


def made(folder: Path, jobs: int, photos: int) -> None:
    with Book.create(folder) as book:
        quickly(book)
        for number in range(jobs):
            job = Job(f"job {number}", "America/New_York", PLACES)
            book.add_job(job)
            planned = (PlannedItem(Item(one, "sheet", (one,)), Fraction(20)) for one in ITEMS)
            book.set_plan(job.name, Plan(tuple(planned)))
            for day in range(2):
                at = FIRST + timedelta(days=number * 1.75 + day)
                a_day(book, job.name, at, photos // 2)


def quickly(book: Book) -> None:
    """What is made here need not outlive a pulled plug."""
    book._db.execute("PRAGMA synchronous = OFF")
    os.fsync = lambda descriptor: None


def a_day(book: Book, job: str, at: datetime, photos: int) -> None:
    chance = random.Random(f"{job} {at}")
    for number in range(6):
        a_recording(book, job, at + timedelta(minutes=50 * number), chance)
    for number in range(5):
        used = Entry(
            "used", chance.choice(PLACES), None, chance.choice(ITEMS), Fraction(number + 1)
        )
        moment = at + timedelta(hours=8, minutes=number)
        [id] = decisions.add_typed(book, job, Reading((used,)), "typed", moment)
        if number == 4:
            decisions.drop(book, id)
    for number in range(photos):
        a_photo(book, job, at + timedelta(minutes=5 * number), chance)


def a_recording(book: Book, job: str, at: datetime, chance: random.Random) -> None:
    path, sha256 = a_stub(book, f"{at:%Y%m%d_%H%M%S}.m4a", chance.randrange(4_000, 9_000), chance)
    heard = []
    for number in range(SAID):
        item, place, count = chance.choice(ITEMS), chance.choice(PLACES), chance.randrange(1, 30)
        text = f"used {count} of {item} on the {place}"
        words = tuple(
            Word(word, number * 5 + place / 3, number * 5 + place / 3 + 0.2, 0.9)
            for place, word in enumerate(text.split())
        )
        hearings = (
            Hearing("trade", text, words, (Alternative(text, -1.5),), 0.8),
            Hearing("general", text, words),
        )
        entry = Entry("used", place, None, item, Fraction(count))
        reading = Reading((entry,))
        heard.append(HeardUtterance(Utterance(number * 5.0, number * 5.0 + 4, hearings), reading))
    recording = Recording(sha256, path.name, Moment(at, "container"), SAID * 5.0 + 2)
    keep.keep_recording(book, job, path, recording, heard)
    path.unlink()


def a_photo(book: Book, job: str, at: datetime, chance: random.Random) -> None:
    path, sha256 = a_stub(
        book, f"IMG_{at:%Y%m%d_%H%M%S}.jpg", chance.randrange(2_000, 6_000), chance
    )
    keep.keep_photo(book, job, path, Photo(sha256, path.name, Moment(at, "EXIF"), 4000, 3000))
    path.unlink()


def a_stub(book: Book, name: str, length: int, chance: random.Random) -> tuple[Path, str]:
    path = book.folder.parent / name
    content = chance.randbytes(length)
    path.write_bytes(content)
    return path, hashlib.sha256(content).hexdigest()


if __name__ == "__main__":
    raise SystemExit(main())
