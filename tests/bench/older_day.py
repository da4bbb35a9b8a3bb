"""An evening as it was told to a joblog of its day, which then says what it holds.

Run by itself, with the release in question first on the path: `python older_day.py make FOLDER
FILES OUT` begins a book in FOLDER and tells it all of `SAID`; what a release does not know it
refuses, and goes without. `python older_day.py tell FOLDER OUT ...` has it say what books hold.
Nothing of today's joblog is loaded.
"""

from __future__ import annotations

import io
import json
import os
import sys
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from typing import Any

JOB, OTHER = "Gull Point cottage", "Heron House"

LINES = (
    ("2026-10-05 08:10", "delivered thirty sheets of soffit"),
    ("2026-10-05 08:20", "used three sheets of soffit, south eave"),
    ("2026-10-05 08:30", "used two sheets of soffit, north eave"),
    ("2026-10-05 08:40", "used five sheets of soffit"),
    ("2026-10-05 08:50", "north eave eleven and seven eighths"),
    ("2026-10-05 09:00", "spoiled one stick of F channel, cracked"),
    ("2026-10-05 09:10", "problem rotten backing at the west gable"),
    ("2026-10-05 09:20", "take a photo of the rotten backing"),
    ("2026-10-05 09:30", "need two pounds of trim nails"),
    ("2026-10-05 09:40", "todo caulk the corner"),
    ("2026-10-05 09:50", "note the vent is blocked"),
    ("2026-10-05 10:00", "wire behind the north eave is covered"),
    ("2026-10-05 10:10", "four hours hanging soffit"),
    ("2026-10-05 10:20", "extra replaced the rotten board two hours"),
    ("2026-10-05 10:30", "spent 12.50 on screws"),
    ("2026-10-05 10:40", "twenty sheets of soffit left"),
    ("2026-10-06 08:00", "cut waste fourteen inches of fascia"),
    ("2026-10-06 08:10", "used one roll of house wrap"),
    ("2026-10-06 08:20", "started at seven thirty"),
    ("2026-10-06 08:30", "used six sticks of fascia"),
    ("2026-10-06 08:40", "delivered nine sticks of fascia"),
    ("2026-10-06 08:50", "two sticks of fascia to the shop"),
)
"""When, and what; a few of every kind that any release knew."""

SAID: tuple[tuple[str, ...], ...] = (
    ("new", JOB, "--zone", "America/New_York", "--plan", "plan.csv"),
    ("new", OTHER, "--zone", "America/New_York"),
    ("use", JOB),
    ("catalog", "catalog.csv"),
    ("add", "originals", "--job", JOB),
    *(("write", line, "--at", at, "--job", JOB) for at, line in LINES),
    ("write", "used one sheet of soffit panel", "--at", "2026-10-07 09:00", "--job", OTHER),
    ("put right by hand",),
    ("split", "{three}", "2"),
    ("merge", "{two}", "{five}"),
    ("done", "hang soffit", "40"),
    ("tie", "yard.jpg", "{three}"),
    ("clock", "Invented", "--set", "+7 min"),
    ("fence", "--at", "41.52 -70.66", "--radius", "80", "--job", JOB),
    ("withdraw", "yard.jpg", "--job", JOB),
    ("undo", "--job", JOB),
    ("redo", "--job", JOB),
    ("undo", "--job", JOB),
    ("catalog", "set", "fascia", "cost=15.20"),
    ("bid", "--from-plan", "--set", "margin=20%", "--job", JOB),
    ("house", "house.csv", "--job", OTHER),
    ("rates", "--add", "earlier.csv"),
    ("rates", "--add", "earlier, as once.csv"),
    ("voice", "--promise", "1/100"),
    ("sign", "2026-10-06", "--job", JOB),
    ("stock", "take", "fascia", "--job", OTHER),
    ("close", "--anyway", "--job", JOB),
)
"""{three} is the number of the entry of three sheets, and so on."""

ASKED = (
    ("jobs",),
    ("catalog",),
    ("rates",),
    ("stock",),
    *(
        (what, "--job", JOB)
        for what in (
            "entries", "plan", "photos", "recordings", "history", "squareup", "todo", "covered",
            "clock", "fence", "bid",
        )
    ),
    *((what, "--job", OTHER) for what in ("entries", "photos", "history", "squareup", "house")),
)  # fmt: skip


def make(folder: Path, files: Path, out: Path) -> None:
    os.chdir(files)
    os.environ["JOBLOG_BOOK"] = str(folder)
    said = []
    for words in SAID:
        if words == ("put right by hand",):
            put_right_by_hand(folder)
            said.append([words, 0])
            continue
        status, _, why = run(*(word.format(**numbers(folder)) for word in words))
        said.append([words, status] if status in (0, 1) and not why else [words, status, why])
    told = {"said": said, "told": tell()}
    out.write_text(json.dumps(told, ensure_ascii=False), "utf-8")


def tell() -> dict[str, Any]:
    """What each question gets, as JSON; of those that this release knows."""
    told = {" ".join(words): answer(words) for words in ASKED}
    return {asked: said for asked, said in told.items() if said is not None}


def answer(words: tuple[str, ...]) -> Any:
    """What one question gets; None for one that this release does not know."""
    status, shown, _ = run(*words, "--json")
    return json.loads(shown) if status == 0 and shown.strip() else None


def put_right_by_hand(folder: Path) -> None:
    """What screens did before commands could: an entry put right, one dropped, one taken back."""
    from joblog.book import Book

    known = numbers(folder)
    with Book.open(folder) as book:
        try:
            from joblog.book import decisions
        except ImportError:
            from joblog.dictation import read
            from joblog.plan import vocabulary

            said = "problem rotten backing at the south eave"
            book.correct(
                known["problem"], read(said, vocabulary(book.plan(JOB), book.job(JOB))), said
            )
            book.drop(known["note"])
            book.accept(known["wrap"])
            book.drop(known["wrap"])
            book.undo(known["wrap"])
        else:
            decisions.edit(book, known["problem"], "place", "south eave")
            decisions.drop(book, known["note"])
            decisions.drop(book, known["wrap"])
            decisions.restore(book, known["wrap"])


def numbers(folder: Path) -> dict[str, Any]:
    """The numbers of some entries, by a name."""
    from joblog.book import Book

    if not (folder / "book.sqlite").is_file():
        return {}
    with Book.open(folder) as book:
        found = {one.said: one.id for one in book.entries(JOB)} if JOB in _names(book) else {}
    return {name: found.get(LINES[at][1], 0) for name, at in _NAMED.items()}


_NAMED = {"three": 1, "two": 2, "five": 3, "problem": 6, "note": 10, "wrap": 17}


def _names(book: Any) -> list[str]:
    return [job.name for job in book.jobs()]


def run(*words: str) -> tuple[int, str, str]:
    from joblog.cli import main

    sys.argv = ["joblog", *words]
    shown, complained = (io.TextIOWrapper(io.BytesIO(), "utf-8") for _ in range(2))
    status = 0
    with redirect_stdout(shown), redirect_stderr(complained):
        try:
            main()
        except SystemExit as left:
            status = left.code if isinstance(left.code, int) else 1 if left.code else 0
    return status, _text(shown), _text(complained)


def _text(written: io.TextIOWrapper) -> str:
    written.seek(0)
    return written.read()


if __name__ == "__main__":
    if sys.argv[1] == "make":
        make(*(Path(word).absolute() for word in sys.argv[2:]))
    else:
        for book, out in zip(sys.argv[2::2], sys.argv[3::2], strict=True):
            os.environ["JOBLOG_BOOK"] = str(Path(book).absolute())
            Path(out).write_text(json.dumps(tell(), ensure_ascii=False), "utf-8")
