"""How long the evening waits for joblog: opening, a day, a search, the next question.

    python -m tests.bench.evening_times [--small] [--only big]

Two invented books, made once and kept in `tests/bench/.cache`: `jobs`, 200 jobs of 500 entries, of
which the first has a day of 500 entries and 500 photos and the second one of 2,000 photos; and
`big`, one job of 30,000 entries in 150 days. With --small a tenth of each.

Prints, for each thing asked for, the best of several in wall and processor milliseconds, measured
in a process of its own that was started for it; for the start of the review, from the start of the
process to the first screen that is drawn, in a terminal of no size but its own (an app pilot). The
last column is the most memory that the process held.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import shutil
import subprocess
import sys
import time
from collections.abc import Callable, Iterable, Sequence
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from pathlib import Path
from typing import Any

from joblog.book import Book, decisions, rows, ties
from joblog.model import (
    Entry,
    Hearing,
    Item,
    Job,
    Moment,
    Photo,
    Plan,
    PlannedItem,
    PlannedTask,
    Position,
    Recording,
    Task,
    Utterance,
)

CACHE = Path(__file__).parent / ".cache"
ZONE = "America/New_York"
FIRST = datetime(2024, 3, 4, 12, tzinfo=UTC)
ITEMS = [
    Item("soffit panel", "sheet"), Item("fascia 1x6", "stick"), Item("drip edge", "stick"),
    Item("roofing nails", "box"), Item("house wrap", "roll"), Item("caulk", "tube"),
]  # fmt: skip
PLACES = ("north eave", "south eave", "east gable", "west gable", "porch", "dormer")
TASKS = (Task("hang soffit", unit="ft"), Task("wrap fascia", unit="ft"))
TIMES = 5


def main() -> None:
    """Makes the books that are missing and measures, each in a fresh process."""
    asked = argparse.ArgumentParser()
    asked.add_argument("--small", action="store_true")
    asked.add_argument("--only", choices=("jobs", "big"))
    asked.add_argument("--ask", help="what a process of its own measures")
    asked.add_argument("--folder", type=Path)
    given = asked.parse_args()
    if given.ask:
        print(json.dumps(_measured(given.ask, given.folder)))
        return
    part = 10 if given.small else 1
    for name, make in (("jobs", _jobs), ("big", _big)):
        if given.only in (None, name):
            folder = CACHE / f"evening-{name}{'-small' if given.small else ''}"
            made(folder, lambda book, make=make: make(book, part))
            _table(name, folder)


def _table(name: str, folder: Path) -> None:
    print(f"{name:<34}{'ms':>9}{'cpu ms':>9}{'MB':>7}")
    for ask in ASKS:
        found = [_fresh(ask, folder) for _ in range(TIMES if ask == "start" else 1)]
        best = min(found, key=lambda one: one["wall"])
        note = f"  {best['note']}" if best["note"] else ""
        print(
            f"  {ask:<32}{best['wall'] * 1000:>9.1f}{best['cpu'] * 1000:>9.1f}"
            f"{best['most'] / 1024:>7.0f}{note}"
        )


def _fresh(ask: str, folder: Path) -> dict[str, Any]:
    began = time.perf_counter()
    command = [sys.executable, "-m", __spec__.name, "--ask", ask, "--folder", str(folder)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=600)
    if done.returncode:
        return {"wall": 0, "cpu": 0, "most": 0, "note": (done.stderr.splitlines() or ["?"])[-1]}
    found: dict[str, Any] = json.loads(done.stdout.splitlines()[-1])
    if ask == "start":
        found["wall"] = found["wall"] - began
    return found


def _measured(ask: str, folder: Path) -> dict[str, Any]:
    import resource

    wall, cpu, note = ASKS[ask](folder)
    for book in _OPENED:
        book.close()  # As a person's program does, which notes that it was sound.
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return {"wall": wall, "cpu": cpu, "most": most, "note": note}


# --- what is asked for ------------------------------------------------------------------------

Measure = tuple[float, float, str]
"""Wall and processor seconds, and what else to know."""


def _best(work: Callable[[], object], times: int = TIMES) -> tuple[float, float]:
    found = []
    for _ in range(times):
        wall, cpu = time.perf_counter(), time.process_time()
        work()
        found.append((time.perf_counter() - wall, time.process_time() - cpu))
    return min(found)


def _desk(folder: Path, number: int = 0) -> Any:
    from joblog.service import open_desk

    book = Book.open(folder)
    _OPENED.append(book)
    return open_desk(book, book.jobs()[number].name)


_OPENED: list[Book] = []


def start(folder: Path) -> Measure:
    """The moment, by the clock of the one who started it, at which the first question stands there
    with its answers; the note says after how much processor it stood there without."""
    import asyncio

    from joblog.service import Place, desk_at

    async def shown() -> tuple[float, str]:
        from joblog_tui.app import ReviewApp
        from tests.tui.first_question import asked

        with desk_at(Place(folder), job_name(0)) as desk:
            app = ReviewApp(desk)
            async with app.run_test(size=(80, 24)) as pilot:
                first = time.process_time()
                await asked(pilot)
                name = type(app.screen).__name__
                return time.perf_counter(), f"{name}, without answers {first * 1000:.0f} cpu ms"

    at, screen = asyncio.run(shown())
    return at, time.process_time(), screen


def _days(folder: Path) -> Measure:
    from joblog.service.record import read_days

    desk = _desk(folder)
    return (*_best(lambda: read_days(desk)), "")


def _days_first(folder: Path) -> Measure:
    from joblog.service.record import read_days

    desk = _desk(folder)
    return (*_best(lambda: read_days(desk), 1), "")


def _day(number: int, first: bool) -> Callable[[Path], Measure]:
    def asked(folder: Path) -> Measure:
        from joblog.service.record import read_day

        desk = _desk(folder, number)
        day = max(
            desk.book.days(desk.job.name), key=lambda one: len(desk.book.photos(desk.job.name, one))
        )
        if first:
            desk.book.close()
            desk = _desk(folder, number)
        found = read_day(desk, day)
        note = f"{len(found.entries)} entries, {len(found.photos)} photos"
        if first:
            desk.book.close()
            desk = _desk(folder, number)
        return (*_best(lambda: read_day(desk, day), 1 if first else TIMES), note)

    return asked


def _decide(folder: Path) -> Measure:
    """A decision and its undoing, and the day read again after each."""
    from joblog.service import decide
    from joblog.service.record import read_day

    desk = _desk(folder)
    day = desk.book.days(desk.job.name)[-1]
    told = [one for one in read_day(desk, day).entries if one.open]

    def work() -> None:
        decide.accept(desk, told[0].id)
        read_day(desk, day)
        decide.undo(desk)
        read_day(desk, day)

    work()
    wall, cpu = _best(work)
    return wall / 2, cpu / 2, "one of the two"


def _next_question(folder: Path) -> Measure:
    """A question answered by keeping it, and the next one."""
    from joblog.service import decide
    from joblog.service.questions import keep, questions, with_answers

    desk = _desk(folder)
    asked = questions(desk)

    def work() -> None:
        keep(desk, next(one for one in questions(desk) if one.keep))
        with_answers(desk, questions(desk)[0])

    work()
    walls = [_best(work, 1) for _ in range(TIMES)]
    for _ in range(TIMES + 1):
        decide.undo(desk)
    return (*min(walls), f"of {len(asked)}")


def _squared(folder: Path) -> Measure:
    from joblog.service.record import read_balance

    desk = _desk(folder)

    def work() -> None:
        desk.worked_out.clear()
        read_balance(desk)

    return (*_best(work, 2), "")


def _search(words: str) -> Callable[[Path], Measure]:
    def asked(folder: Path) -> Measure:
        from joblog.service.search import search

        desk = _desk(folder)
        found = search(desk, words)
        return (*_best(lambda: search(desk, words)), f"{len(found)} found")

    return asked


ASKS: dict[str, Callable[[Path], Measure]] = {
    "start": start,
    "days, first": _days_first,
    "days, again": _days,
    "day 500 + 500 photos, first": _day(0, True),
    "day 500 + 500 photos, again": _day(0, False),
    "day of 2000 photos, first": _day(1, True),
    "day of 2000 photos, again": _day(1, False),
    "decision and day": _decide,
    "next question": _next_question,
    "square up": _squared,
    "search s": _search("s"),
    "search soffit": _search("soffit"),
    "search 11 7/8": _search("11 7/8"),
    "search north eave used three sof": _search("north eave used three sof"),
    "search zebra": _search("zebra"),
}


# --- the books --------------------------------------------------------------------------------


def made(folder: Path, make: Callable[[Book], None]) -> None:
    if folder.exists():
        return
    began = time.perf_counter()
    passing = folder.with_suffix(".new")
    shutil.rmtree(passing, ignore_errors=True)
    with Book.create(passing) as book:
        # A commit to disk each would be most of the time, and a killed making is made anew.
        book._db.execute("PRAGMA synchronous = OFF")
        make(book)
    passing.rename(folder)
    print(f"{folder.name}: made in {time.perf_counter() - began:.0f} s")


def _jobs(book: Book, part: int) -> None:
    for number in range(200 // part):
        name = begun(book, number)
        days = 5
        for day in range(days):
            at = FIRST + timedelta(days=number * 3 + day)
            many = 500 // part if number == 0 and day == days - 1 else 500 // days // (part or 1)
            told(book, name, at, many, number * 10 + day, doubts=10 if day == days - 1 else 0)
            if number == 0 and day == days - 1:
                pictured(book, name, at, 500 // part)
            if number == 1 and day == days - 1:
                pictured(book, name, at, 2000 // part)
    for number in (0, 1):
        ties.tie_photos(book, job_name(number))


def _big(book: Book, part: int) -> None:
    for number in range(2):
        name = begun(book, number)
        for day in range(150 if number == 0 else 2):
            at = FIRST + timedelta(days=day)
            told(book, name, at, 200 // part, number * 1000 + day, doubts=1)
            pictured(book, name, at, 20 // part)
    ties.tie_photos(book, job_name(0))


def job_name(number: int) -> str:
    return f"Job {number}"


def begun(book: Book, number: int, items: Sequence[Item] = ITEMS) -> str:
    name = job_name(number)
    book.add_job(Job(name, ZONE, PLACES))
    plan = Plan(
        tuple(PlannedItem(item, Fraction(500)) for item in items),
        tuple(PlannedTask(task, Fraction(100)) for task in TASKS),
        PLACES,
    )
    decisions.load_plan(book, name, plan)
    return name


def _entry(at: int) -> Entry:
    item, place = ITEMS[at % len(ITEMS)], PLACES[at // 7 % len(PLACES)]
    match at % 10:
        case 0:
            return Entry("delivered", item=item.name, quantity=Fraction(40), unit=item.unit)
        case 1 | 2 | 3:
            return Entry(
                "used", place=place, item=item.name, quantity=Fraction(at % 3 + 1), unit=item.unit
            )
        case 4:
            return Entry(
                "spoiled", item=item.name, quantity=Fraction(1), unit=item.unit, reason="cut wrong"
            )
        case 5 | 6 | 7:
            return Entry("measure", place=place, inches=Fraction(90 + at % 13) + Fraction(7, 8))
        case 8:
            return Entry("labor", hours=Fraction(1, 4), task=TASKS[at % 2].name)
        case _:
            return Entry("note", place=place, note=f"gap of {at % 9} behind the board")


def told(
    book: Book,
    job: str,
    at: datetime,
    many: int,
    seed: int,
    doubts: int,
    made: Callable[[int], Entry] = _entry,
) -> None:
    """One recording with so many utterances, an entry each, `doubts` of them in doubt."""
    sha256 = hashlib.sha256(f"{job} {at} {seed}".encode()).hexdigest()
    number = book._job(job)["id"]
    seconds = max(36_000 // max(many, 1), 1)
    with book._writing():
        recording = Recording(sha256, f"{at:%Y%m%d}.m4a", Moment(at, "container"), 36_000.0)
        kept = {"job": number, "media": f"{sha256[:2]}/{sha256}.m4a", "bytes": 1}
        rows_of(book, "recording", [{**rows.recording_row(recording), **kept}])
        [last] = book._rows(
            "SELECT max(id) AS entry, (SELECT max(id) FROM utterance) AS said FROM entry"
        )
        first, said = (last["entry"] or 0) + 1, (last["said"] or 0) + 1
        entries = [made(seed * 31 + count * 7) for count in range(many)]
        moments = [rows.moment_text(at + timedelta(seconds=seconds * n)) for n in range(many)]
        texts = [_words(one, count) for count, one in enumerate(entries)]
        rows_of(
            book,
            "utterance",
            (
                {
                    **rows.utterance_row(Utterance(float(seconds * n), seconds * n + 3.0, ())),
                    "id": said + n, "recording": sha256, "ordinal": n, "at": moments[n],
                    "unread": "",
                }
                for n in range(many)
            ),
        )  # fmt: skip
        rows_of(
            book,
            "hearing",
            (
                {"utterance": said + n, "ordinal": k, **rows.hearing_row(Hearing(name, text))}
                for n in range(many)
                for k, (name, text) in enumerate(
                    (("general", texts[n]), ("trade", texts[n].replace("used", "us")))
                )
            ),
        )
        rows_of(
            book,
            "entry",
            (
                {
                    "id": first + n,
                    "job": number,
                    "utterance": said + n,
                    "ordinal": 0,
                    "at": moments[n],
                }
                for n in range(many)
            ),
        )
        rows_of(
            book,
            "entry_version",
            (
                {
                    "entry": first + n, "version": 1, "content": rows.content(entries[n]),
                    "standing": "heard", "change": "heard", "changed_at": moments[n],
                    "said": texts[n], "job": number, "at": moments[n],
                }
                for n in range(many)
            ),
        )  # fmt: skip
        rows_of(
            book,
            "doubt",
            (
                {"entry": first + n, "version": 1, "ordinal": 0, "why": "3 or 13?"}
                for n in range(1, min(doubts, many - 1) + 1)
            ),
        )


def _words(entry: Entry, count: int) -> str:
    many = ("one", "two", "three", "four", "five")[count % 5]
    what = entry.item or entry.task or entry.note or "eleven and seven eighths"
    return f"{entry.place or ''} {entry.kind} {many} {what}".strip()


def pictured(book: Book, job: str, at: datetime, many: int) -> None:
    number = book._job(job)["id"]

    def one(count: int) -> dict[str, Any]:
        sha256 = hashlib.sha256(f"photo {job} {at} {count}".encode()).hexdigest()
        photo = Photo(
            sha256,
            f"IMG_{at:%Y%m%d}_{count:04}.jpg",
            Moment(at + timedelta(seconds=36_000 // many * count + 4), "EXIF with offset"),
            4032,
            3024,
            Position(40.0 + count % 5 / 1e5, -75.0, None, 5.0),
            camera="invented camera",
        )
        kept = {"job": number, "media": f"{sha256[:2]}/{sha256}.jpg", "bytes": 1}
        return {**rows.photo_row(photo), **kept}

    with book._writing():
        rows_of(book, "photo", map(one, range(many)))


def _next(book: Book, table: str) -> int:
    [last] = book._rows(f"SELECT coalesce(max(id), 0) + 1 AS next FROM {table}")
    return int(last["next"])


def rows_of(book: Book, table: str, lines: Iterable[dict[str, Any]]) -> None:
    """Many rows of one table in one go, sealed and found like any other."""
    every = list(lines)
    if every:
        names = ", ".join(f'"{name}"' for name in every[0])
        values = ", ".join(f":{name}" for name in every[0])
        book._db.conn.executemany(f"INSERT INTO {table} ({names}) VALUES ({values})", every)


if __name__ == "__main__":
    main()
