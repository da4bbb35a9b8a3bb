"""How long a job of 30,000 entries takes: squaring it up, and opening its review.

    python -m tests.bench.large_job [--small] [--only measures]

One invented job for each shape that a large job may have, made once and kept in
`tests/bench/.cache`: the same number of entries in 150 days, nearly all of one sort. With --small a
tenth of each.

Prints, for each shape, wall and processor milliseconds of a process of its own: of squaring up (as
`joblog squareup` works it out, the book read anew), and of the review from the start of the process
until its first screen stands, and until its first question stands there with its answers.
"""

from __future__ import annotations

import argparse
import asyncio
import gc
import json
import os
import subprocess
import sys
import time
from collections.abc import Callable
from datetime import time as clock
from datetime import timedelta
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

from joblog.book import Book, ties
from joblog.model import Entry, Item
from tests.bench.evening_times import CACHE, FIRST, PLACES, TASKS, begun, job_name, pictured, told
from tests.bench.evening_times import _entry as mixed
from tests.bench.evening_times import made as made_once

DAYS = 150
ENTRIES = 30_000


def main() -> None:
    """Makes the books that are missing and measures, each in a fresh process."""
    asked = argparse.ArgumentParser()
    asked.add_argument("--small", action="store_true")
    asked.add_argument("--only", choices=tuple(SHAPES))
    asked.add_argument("--ask", choices=tuple(ASKS), help="what a process of its own measures")
    asked.add_argument("--folder", type=Path)
    given = asked.parse_args()
    if given.ask:
        print(json.dumps(ASKS[given.ask](given.folder)))
        return
    many = ENTRIES // (10 if given.small else 1)
    print(f"{'':<20}{'square up':>20}{'review, screen':>20}{'review, question':>20}")
    print(f"{'ms (processor)':<20}{'':>20}")
    for shape in (given.only,) if given.only else SHAPES:
        folder = CACHE / f"large-{shape.replace(' ', '-')}-{many}"
        made_once(folder, lambda book, shape=shape: _make(book, shape, many))
        squared, opened = _fresh("square", folder), _fresh("review", folder)
        cells = (squared["squared"], opened["screen"], opened["question"])
        shown = [f"{wall * 1000:.0f} ({cpu * 1000:.0f})" for wall, cpu in cells]
        print(f"{shape:<20}" + "".join(f"{cell:>20}" for cell in shown), flush=True)


def _fresh(ask: str, folder: Path) -> dict[str, Any]:
    began = time.perf_counter()
    command = [sys.executable, "-m", __spec__.name, "--ask", ask, "--folder", str(folder)]
    # As a person's program does, which is compiled once.
    compiled = {
        name: told for name, told in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"
    }
    done = subprocess.run(command, capture_output=True, text=True, timeout=300, env=compiled)
    if done.returncode:
        raise SystemExit(f"{folder.name}: {done.stderr.strip()}")
    found: dict[str, Any] = json.loads(done.stdout.splitlines()[-1])
    # What is told of a moment counts from when the process was started.
    return {what: (at - began if at > began else at, cpu) for what, (at, cpu) in found.items()}


def _square(folder: Path) -> dict[str, tuple[float, float]]:
    from joblog.service import open_desk
    from joblog.service.record import read_balance

    with Book.open(folder) as book:
        desk = open_desk(book, job_name(0))
        wall, cpu = time.perf_counter(), time.process_time()
        read_balance(desk)
        return {"squared": (time.perf_counter() - wall, time.process_time() - cpu)}


def _review(folder: Path) -> dict[str, tuple[float, float]]:
    gc.disable()  # As the command does, until the first screen stands.
    from joblog.service import Place, desk_at

    async def shown() -> dict[str, tuple[float, float]]:
        from joblog_tui.app import ReviewApp
        from tests.tui.first_question import asked

        with desk_at(Place(folder), job_name(0)) as desk:
            async with ReviewApp(desk).run_test(size=(80, 24)) as pilot:
                stands = time.perf_counter(), time.process_time()
                await asked(pilot)
                return {
                    "screen": stands,
                    "question": (time.perf_counter(), time.process_time()),
                }

    return asyncio.run(shown())


ASKS: dict[str, Callable[[Path], dict[str, tuple[float, float]]]] = {
    "square": _square,
    "review": _review,
}

# --- the shapes -------------------------------------------------------------------------------

FEW = [Item(f"thing {number}", "each") for number in range(3)]
MANY = [Item(f"thing {number}", "each") for number in range(1000)]
STICK = Item("fascia 1x6", "stick", stock_length=Fraction(192), kerf=Fraction(1, 8))


def _measured(at: int) -> Entry:
    return Entry("measure", place=PLACES[at % 6], inches=Fraction(90 + at % 97) + Fraction(7, 8))


def _in_one_place(at: int) -> Entry:
    return Entry("measure", place="porch", inches=Fraction(90 + at * at % 9973, 8))


def _cut(at: int) -> Entry:
    length = Fraction(12 + at * 7 % 97) + Fraction(at % 16, 16)
    return Entry("measure", place=PLACES[at % 6], item=STICK.name, inches=length, pieces=at % 4 + 1)


def _moved(items: list[Item]) -> Callable[[int], Entry]:
    def moved(at: int) -> Entry:
        item, kind = items[at * 37 % len(items)], ("delivered", "used", "used", "spoiled")[at % 4]
        return Entry(
            kind,  # type: ignore[arg-type]
            place=None if kind == "delivered" else PLACES[at % 6],
            item=item.name,
            quantity=Fraction(40 if kind == "delivered" else at % 9 + 1),
            unit="each",
            unit_cost=Decimal("2.50") if kind == "delivered" else None,
            reason=f"cut wrong {at % 50}" if kind == "spoiled" else None,
        )

    return moved


def _counted(at: int) -> Entry:
    if at % 3:
        return _moved(FEW)(at)
    return Entry("on_hand", item=FEW[at % 3].name, quantity=Fraction(at % 40), unit="each")


def _worked(at: int) -> Entry:
    match at % 10:
        case 0:
            return Entry("start", time=clock(7 + at % 3, 0), workers=2)
        case 1:
            return Entry("stop", time=clock(15 + at % 3, 0))
        case 2:
            return Entry("break", minutes=Fraction(15))
    return Entry(
        "labor",
        hours=Fraction(1, 4),
        workers=at % 2 + 1,
        task=TASKS[at % 2].name,
        quantity=Fraction(at % 9),
        unit="ft",
    )


def _noted(at: int) -> Entry:
    if at % 3 == 0:
        return Entry("photo", place=PLACES[at % 6], note="photo of this")
    return Entry("covered" if at % 3 == 1 else "note", place=PLACES[at % 6], note=f"flashing {at}")


SHAPES: dict[str, tuple[list[Item], Callable[[int], Entry], int, int]] = {
    "mixed": ([], mixed, 1, 20),
    "measures": (FEW, _measured, 1, 0),
    "measures, one place": (FEW, _in_one_place, 1, 0),
    "pieces cut": ([STICK], _cut, 1, 0),
    "stock of few": (FEW, _moved(FEW), 1, 0),
    "stock of many": (MANY, _moved(MANY), 1, 0),
    "counts": (FEW, _counted, 1, 0),
    "hours": (FEW, _worked, 1, 0),
    "photos": (FEW, _noted, 1, 60),
    "doubts": (FEW, _moved(FEW), 40, 0),
}
"""Its items, what each entry is, and how many doubts and photos a day has."""


def _make(book: Book, shape: str, many: int) -> None:
    items, entry, doubts, photos = SHAPES[shape]
    name = begun(book, 0, items) if items else begun(book, 0)
    for day in range(DAYS):
        at = FIRST + timedelta(days=day)
        told(book, name, at, many // DAYS, 1000 + day, doubts, entry)
        if photos:
            pictured(book, name, at, photos)
    if photos:
        ties.tie_photos(book, name)


if __name__ == "__main__":
    main()
