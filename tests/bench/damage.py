"""What becomes of a book that is killed in the making, copied while it is written, or damaged.

    python tests/bench/damage.py new          kills `joblog new` at random instants
    python tests/bench/damage.py copies       plain copies of a folder that is being written in
    python tests/bench/damage.py flips        flips one bit of the database at a time
    python tests/bench/damage.py originals    flips one bit in each of the originals
    python tests/bench/damage.py everywhere   flips one bit of the book's file, its log, its
                                              originals and its backup: named, and mended?
    python tests/bench/damage.py cost         reading many entries

Each takes --times and --seed. Exit status 1 where a book was unusable, or a damage passed unseen.
"""

from __future__ import annotations

import argparse
import multiprocessing
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from pathlib import Path

HERE = Path(__file__).resolve()
sys.path += [str(HERE.parents[2]), str(HERE.parents[1] / "book")]

from joblog.book import Book, BookError  # noqa: E402
from joblog.model import Entry, Item, Job, Plan, PlannedItem, Reading  # noqa: E402

JOB = Job("Gull Point cottage", "America/New_York")
START = datetime(2026, 10, 5, 12, tzinfo=UTC)


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("what", choices=sorted(MEASUREMENTS))
    parser.add_argument("--times", type=int)
    parser.add_argument("--seed", type=int, default=1)
    given = parser.parse_args()
    measure, times = MEASUREMENTS[given.what]
    with tempfile.TemporaryDirectory() as scratch:
        return measure(Path(scratch), given.times or times, random.Random(given.seed))


# --- killed in the making ---------------------------------------------------------------------


def new(scratch: Path, times: int, chance: random.Random) -> int:
    reached: Counter[str] = Counter()
    unusable = 0
    for number in range(times):
        book = scratch / str(number)
        process = _new(book)
        while not book.exists() and process.poll() is None:
            time.sleep(0.0005)
        time.sleep(chance.uniform(0, 0.12))
        process.send_signal(signal.SIGKILL)
        process.wait()
        held = sorted(path.name.split(".")[-1] for path in book.glob("book*"))
        reached[", ".join(held) or ("a folder" if book.exists() else "nothing")] += 1
        again = _new(book)
        said = again.communicate()[1]
        if again.returncode and "is a job called" not in said:
            unusable += 1
            print("  ", said.strip())
    print("endings of what the kills left:", dict(reached))
    print(f"{unusable} of {times} folders unusable")
    return 1 if unusable else 0


def _new(book: Path) -> subprocess.Popen[str]:
    command = [sys.executable, "-m", "joblog", "new", JOB.name, "--zone", JOB.zone]
    return subprocess.Popen(
        [*command, "--book", str(book)],
        env={**os.environ, "PYTHONPATH": os.pathsep.join(filter(None, sys.path))},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
        cwd=book.parent,
    )


# --- copied while it is written ---------------------------------------------------------------


def copies(scratch: Path, times: int, chance: random.Random) -> int:
    filled(scratch / "book", 200).close()
    writer = multiprocessing.get_context("spawn").Process(target=_write, args=[scratch / "book"])
    writer.start()
    reached: Counter[str] = Counter()
    try:
        for number in range(times):
            time.sleep(chance.uniform(0, 0.4))
            copy = scratch / f"copy {number}"
            with suppress(shutil.Error):  # A file that went meanwhile, as `cp -r` complains too.
                shutil.copytree(scratch / "book", copy)
            reached[_state_of(copy)] += 1
            shutil.rmtree(copy)
    finally:
        writer.kill()
    print(dict(reached))
    return 0 if set(reached) <= {"whole", "noticed"} else 1


def _write(folder: Path) -> None:
    """Writes without end, closing the book and opening it again now and then as a person does."""
    from joblog.book.decisions import add_typed

    for round in range(1_000_000):
        with Book.open(folder) as book:
            for number in range(40):
                time.sleep(0.03)
                one = entry(round * 150 + number, long=True)
                add_typed(book, JOB.name, Reading((one,)), "used panel " * 200, START)


def _state_of(folder: Path) -> str:
    import sqlite3

    try:
        with Book.open(folder) as book:
            book.entries(JOB.name)
            named = list(book.damage()) if hasattr(book, "damage") else []
    except BookError:
        return "noticed"
    except Exception as error:
        return type(error).__name__
    with sqlite3.connect(folder / "book.sqlite") as plain:
        try:
            sound = plain.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        except sqlite3.Error:
            sound = False
    plain.close()
    return "noticed" if named else "whole" if sound else "corrupt, unseen"


# --- damaged ----------------------------------------------------------------------------------


def flips(scratch: Path, times: int, chance: random.Random) -> int:
    """One bit of the file at a time: is it noticed, and does a figure change unseen?"""
    filled(scratch / "book", 60).close()
    whole = (scratch / "book" / "book.sqlite").read_bytes()
    expected = _figures(scratch / "book")[0]
    told: Counter[str] = Counter()
    worst = []
    for _ in range(times):
        at, bit = chance.randrange(len(whole)), chance.randrange(8)
        damaged = bytearray(whole)
        damaged[at] ^= 1 << bit
        folder = scratch / "damaged"
        shutil.rmtree(folder, ignore_errors=True)
        folder.mkdir()
        (folder / "book.sqlite").write_bytes(damaged)
        found, how = _figures(folder)
        same = "same figures" if found == expected else "no figures" if not found else "other"
        told[f"{how}; {same}"] += 1
        if (how.startswith(("unseen", "raw")) and same != "same figures") or how.startswith("raw"):
            worst.append(f"byte {at}, bit {bit}: {how}; {same}")
    print(*sorted(f"{count:4} {kind}" for kind, count in told.items()), sep="\n")
    print(*worst, sep="\n")
    return 1 if worst else 0


def _figures(folder: Path) -> tuple[object, str]:
    """What a book says, or None where it cannot be read, and what it says of its damage."""
    from joblog.book.verify import verify

    try:
        with Book.open(folder) as book:
            at_reading = bool(book.damage())
            sums: Counter[object] = Counter()
            for one in book.entries(JOB.name):
                if not one.open:
                    sums[one.entry.item, one.entry.unit, one.entry.kind] += one.entry.quantity or 0
            said = (sums, book.plan(JOB.name), book.catalog(), book.job(JOB.name))
            checked = bool(list(verify(book)))
            return (
                said,
                "named at reading" if at_reading else "named by check" if checked else "unseen",
            )
    except BookError as error:
        return None, f"refused ({str(error).split(': ')[-1][:60]})"
    except Exception as error:
        return None, f"raw {type(error).__name__}: {error}"


def originals(scratch: Path, times: int, chance: random.Random) -> int:
    """One bit of each original: is it found, named, and healed by adding the good file again?"""
    from fake_ears import listen, photo

    from joblog.book.intake import take_in
    from joblog.book.verify import verify

    for number in range(times):
        photo(scratch / "phone", f"{number}.jpg", f"2026:10:05 07:{number % 60:02}:30", number)
    with Book.create(scratch / "book") as book:
        book.add_job(JOB)
        take_in(book, JOB.name, [scratch / "phone"], recognizers=(), listen=listen, workers=1)
        for one in book.photos(JOB.name):
            place = book.media(one.sha256)
            content = bytearray(place.read_bytes())
            content[chance.randrange(len(content))] ^= 1 << chance.randrange(8)
            place.write_bytes(content)
        named = {damage.what for damage in verify(book)}
        found = sum(f"photo {one.name}" in named for one in book.photos(JOB.name))
        again = take_in(book, JOB.name, [scratch / "phone"], recognizers=(), listen=listen)
        left = len(list(verify(book)))
        kept = len(list((book.store / "damaged").iterdir()))
    print(
        f"{found} of {times} found and named; {len(again.healed)} healed, {left} left damaged;"
        f" {kept} damaged ones kept aside"
    )
    return 0 if found == times and not left else 1


def everywhere(scratch: Path, times: int, chance: random.Random) -> int:
    """One bit at a time of all that a book is kept in: found and named, and mended again?

    A flip that nobody names is counted as missed (strict), and looked at: it may be where nothing
    is held, and all rows of all tables read as before (lenient).
    """
    killed = _lived_in(scratch)
    expected = _content(killed / "book")
    closed = Path(shutil.copytree(killed, scratch / "closed"))
    Book.open(closed / "book").close()
    strict, lenient, mended = Counter[str](), Counter[str](), Counter[str]()
    sorts = list(_PLACES)
    for number in range(times):
        sort = sorts[number % len(sorts)]
        folder = scratch / "struck"
        shutil.rmtree(folder, ignore_errors=True)
        shutil.copytree(killed if sort == "log" else closed, folder)
        files = [path for path in sorted(folder.glob(_PLACES[sort])) if path.stat().st_size]
        path = chance.choices(files, [one.stat().st_size for one in files])[0]
        if sort != "log":
            with Book.open(folder / "book") as book:  # As it lies in its place when it is closed.
                book.damage()
        at, bit = chance.randrange(path.stat().st_size), chance.randrange(8)
        _rot(path, at, bit)
        named = _named(folder, sort, path)
        same = sort == "backup" or _content(folder / "book") == expected
        strict[f"{sort}: {'named' if named else 'not named'}"] += 1
        lenient[f"{sort}: {'named' if named else 'held nothing' if same else 'MISSED'}"] += 1
        mended[f"{sort}: {_mended(folder, sort, expected) if named else 'nothing to mend'}"] += 1
        if not named:
            what = "held nothing" if same else "MISSED"
            print(f"{path.relative_to(folder)}, byte {at}, bit {bit}: {what}")
    for title, told in (("strict", strict), ("lenient", lenient), ("mended", mended)):
        print(title, *(f"{count:5} {kind}" for kind, count in sorted(told.items())), sep="\n")
    return 1 if any("MISSED" in kind for kind in lenient) else 0


def _rot(path: Path, at: int, bit: int) -> None:
    """Turns a bit as a disk does: nothing tells that anything was written."""
    before = path.stat()
    with path.open("r+b") as file:
        file.seek(at)
        [byte] = file.read(1)
        file.seek(at)
        file.write(bytes([byte ^ 1 << bit]))
    os.utime(path, ns=(before.st_atime_ns, before.st_mtime_ns))


_PLACES = {
    "file": "book/book.sqlite",
    "log": "book/book.sqlite-wal",
    "originals": "book/media/??/*",
    "backup": "stick/**/*.*",
}


def _lived_in(scratch: Path) -> Path:
    """A book with its backup, left by a joblog that was killed: some of it in the log."""
    from fake_ears import listen, photo, recording

    from joblog.book import decisions, intake
    from joblog.service.keeping_safe import back_up
    from tests.in_process import Here

    intake.Pool = Here  # type: ignore[misc]
    work, whole = scratch / "work", scratch / "whole"
    for number in range(12):
        photo(work / "phone", f"{number}.jpg", f"2026:10:05 07:{number:02}:30", number)
    for number in range(6):
        lines = [f"used {word} sheets of soffit" for word in ("two", "three", "four")]
        recording(work / "phone", f"2026-10-05 0{number + 1}-00-00.wav", *lines)
    with filled(work / "book", 150) as book:
        intake.take_in(book, JOB.name, [work / "phone"], recognizers=(), listen=listen, workers=1)
        for id in range(1, 30, 3):
            decisions.correct(book, id, Reading((entry(id + 1),)), "that was another")
    (work / "stick").mkdir()
    with Book.open(work / "book") as book:
        back_up(book, work / "stick")
    with Book.open(work / "book") as book:
        for id in range(31, 40):
            decisions.drop(book, id)
        back_up(book)
        for id in range(40, 60):
            decisions.drop(book, id)
        shutil.copytree(work, whole)
    shutil.rmtree(work)
    whole.rename(work)
    return work


def _content(folder: Path) -> object:
    """Every row of every table that holds anything of a person's; None where it cannot be read."""
    import sqlite3

    from joblog.book import seals
    from joblog.book.database import Database

    apart, db = folder.parent / "content", None
    shutil.rmtree(apart, ignore_errors=True)
    apart.mkdir()
    for file in folder.glob("book.sqlite*"):
        shutil.copyfile(file, apart / file.name)
    try:
        db = Database(apart / "book.sqlite")
        tables = [name for name in seals.tables(db) if name != "setting"]
        return {name: sorted(db.execute(f"SELECT * FROM {name}"), key=repr) for name in tables}
    except (sqlite3.Error, UnicodeDecodeError):
        return None
    finally:
        if db is not None:
            db.close()


def _named(folder: Path, sort: str, path: Path) -> str:
    """What a check says of it; of a backup, what the next one does."""
    from joblog.service.checking import look_at_all
    from joblog.service.errors import ServiceError
    from joblog.service.keeping_safe import back_up

    try:
        with Book.open(folder / "book") as book:
            if sort == "backup":
                came = back_up(book, folder / "stick", whole=True)
                return "; ".join(came.damaged) or "mended" * bool(came.mended)
            found = look_at_all(book)
            told = [f"{one.what}: {one.why}" for one in found.damage]
            if sort == "originals":
                names = [one.what for one in found.damage if one.key == path.stem]
                return "; ".join(names)
            return "; ".join(
                [*told, *(line for line in found.notes if "the disk looked at" in line)]
            )
    except (BookError, ServiceError) as error:
        return str(error)


def _mended(folder: Path, sort: str, expected: object) -> str:
    from joblog.service.checking import check, mend
    from joblog.service.errors import ServiceError

    if sort == "backup":
        return "see there"
    try:
        with Book.open(folder / "book") as book:
            mend(book, [folder / "stick"])
            left = check(book)
    except (BookError, ServiceError) as error:
        return f"no: {str(error).rpartition(': ')[2][:60]}"
    same = _content(folder / "book") == expected
    return "all as before" if same and not left else f"{len(left)} left" if left else "OTHERWISE"


def cost(scratch: Path, times: int, chance: random.Random) -> int:
    began = time.process_time()
    filled(scratch / "book", times).close()
    print(f"writing {times} entries: {time.process_time() - began:.2f} s of the processor")
    print(f"file: {(scratch / 'book' / 'book.sqlite').stat().st_size:,} bytes")
    for _ in range(3):
        began = time.process_time()
        with Book.open(scratch / "book") as book:
            opened = time.process_time() - began
            count = len(book.entries(JOB.name))
            first = time.process_time() - began
            book.entries(JOB.name)
            second = time.process_time() - began - first
        print(f"open {opened:.3f} s, read {count} {first:.2f} s, again {second:.2f} s")
    return 0


# --- an invented book -------------------------------------------------------------------------


def filled(folder: Path, count: int) -> Book:
    """A book of one job with a plan, and so many entries, a tenth of them doubtful."""
    from joblog.book.entries import add_entry
    from joblog.book.history import Version

    book = Book.create(folder)
    book.add_job(JOB)
    panel = Item("soffit panel", "sheet", ("panel",), stock_length=Fraction(144))
    book.set_plan(JOB.name, Plan((PlannedItem(panel, Fraction(15), None, Fraction(2)),)))
    with book._writing():
        for number in range(count):
            doubts = ("heard two ways",) if number % 10 == 0 else ()
            said = "used three sheets of soffit panel on the north wall"
            told = [Version(entry(number), doubts, "heard", "heard", said)]
            at = START + timedelta(minutes=number)
            add_entry(book, 1, None, 0, at, told, [at])
    return book


def entry(number: int, *, long: bool = False) -> Entry:
    note = "and so on " * 50 if long else None
    return Entry(
        "used", "north wall", note, "soffit panel", Fraction(number % 9 + 1, 2), unit="sheet"
    )


MEASUREMENTS: dict[str, tuple[Callable[[Path, int, random.Random], int], int]] = {
    "new": (new, 60),
    "copies": (copies, 200),
    "flips": (flips, 600),
    "originals": (originals, 50),
    "everywhere": (everywhere, 200),
    "cost": (cost, 100_000),
}

if __name__ == "__main__":
    raise SystemExit(main())
