"""Every command that decides, killed at any instant and said again, ends as if it had run once."""

from __future__ import annotations

import gc
import json
import os
import re
import shutil
import sqlite3
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from fractions import Fraction
from importlib import import_module
from pathlib import Path
from typing import Any

import click
import pytest

import joblog
from joblog.book import repeating
from joblog.book.database import Database
from joblog.cli import main
from joblog.cli.command import COMMANDS as FILES_OF_COMMANDS
from joblog.cli.command import commands
from joblog.cli.once import _Telling
from joblog.local import moment_written
from joblog.model import STOCK, Entry

sys.path.append(str(Path(__file__).parents[1] / "book"))
import two_jobs

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="lives are forks of this process")

READS = "reads, and decides nothing"
AS_IT_COMES = "takes in what it has not yet; whatever it was killed in, it goes on"
ELSEWHERE = "writes no book, but a file"
ON_A_SCREEN = "decides by keys, each one decision"

RUN: dict[str, str | tuple[tuple[str, ...], ...]] = {
    "add": AS_IT_COMES,
    "backup": AS_IT_COMES,
    "bid": (("--from-plan", "--html", "{book}/bid.html"),),
    "bin": (("--back", "1"), ("--entry", "2", "--back", "1")),
    "catalog": (
        ("catalog.csv",),
        ("drop", "fascia"),
        ("same", "perforated panel", "soffit panel"),
        ("own", "perforated panel", "each"),
    ),
    "check": READS,
    "clock": (("camera", "--set", "+47 min"),),
    "close": (("--anyway", "--json"),),
    "completion": READS,
    "copy": ELSEWHERE,
    "covered": READS,
    "cuts": READS,
    "day": READS,
    "demo": AS_IT_COMES,
    "done": (("hang soffit", "82 ft"),),
    "drop": (("1", "2"),),
    "edit": (("2", "quantity", "10"),),
    "entries": READS,
    "fence": (("--at", "41.52 -70.66"),),
    "fetch-model": ELSEWHERE,
    "hear": READS,
    "history": READS,
    "house": (("house.csv",),),
    "jobs": READS,
    "listen": AS_IT_COMES,
    "merge": (("6", "7"),),
    "move": (("yard.jpg", "--to", "Heron House"),),
    "new": (("Mill house", "--plan", "plan.csv"),),
    "order": READS,
    "pack": ELSEWHERE,
    "paper": ELSEWHERE,
    "parse": READS,
    "photos": READS,
    "plan": (("plan.csv",),),
    "rates": (("--add", "earlier.csv"), ("--drop", "Oak")),
    "recordings": READS,
    "redo": ((),),
    "restore": AS_IT_COMES,
    "review": ON_A_SCREEN,
    "search": READS,
    "sign": (("2026-10-09",),),
    "site": READS,
    "split": (("6", "2"),),
    "squareup": READS,
    "stock": (("take", "soffit panel"),),
    "takeoff": (("runs.csv", "--to-plan"),),
    "tie": (("yard.jpg", "1"),),
    "todo": READS,
    "undo": ((),),
    "unpack": AS_IT_COMES,
    "use": (("Gull Point cottage",),),
    "voice": (("--promise", "1/100"),),
    "voice card": READS,
    "voice forget": ((),),
    "voice hear": READS,
    "watch": AS_IT_COMES,
    "withdraw": (("morning.wav",),),
    "write": (("used 3 sheets of soffit, came home at five",),),
}
"""What each command is, or words that have it decide."""
LINES = [
    (name, *words) for name, lines in RUN.items() if not isinstance(lines, str) for words in lines
]
OF_NO_JOB = {"bin", "catalog", "new", "rates", "use", "voice", "voice forget"}


def test_it_is_known_of_every_command_whether_it_decides():
    assert sorted(RUN) == sorted(every_command(commands, ()))


def every_command(group: click.Group, above: tuple[str, ...]) -> Iterator[str]:
    context = click.Context(group)
    for name in group.list_commands(context):
        command = group.get_command(context, name)
        yield " ".join((*above, name))
        if isinstance(command, click.Group):
            yield from every_command(command, (*above, name))


@pytest.mark.parametrize("line", LINES, ids=" ".join)
def test_killed_and_said_again_it_ran_once(line: tuple[str, ...], books: Books):
    once = books.live(line, kill=LEFT)
    assert once.status == 0, once
    assert once.rows != books.rows, "it decided nothing"
    before, after, _ = map(once.left, INSTANTS)
    assert rows(before) == books.rows
    assert rows(after) == once.rows
    shutil.rmtree(once.book)
    again = books.live(line, on=after.rename(once.book))
    assert (again.status, again.printed, again.rows) == (0, once.printed, once.rows)
    assert "written already" in again.complained


def test_what_was_told_is_written_a_second_time_when_it_is_said_again(books: Books):
    line = ("write", "used 3 sheets of soffit")
    first = books.live(line)
    second = books.live(line, on=first.book)
    assert entries_of(second) == entries_of(first) + 1
    killed = books.live(line, on=second.book, kill="on disk, and not told")
    assert entries_of(killed) == entries_of(second) + 1
    told = books.live(line, on=killed.book)
    assert entries_of(told) == entries_of(killed)
    assert "Say the same once more to write it a second time" in told.complained
    assert entries_of(books.live(line, on=told.book)) == entries_of(told) + 1


def test_said_a_week_later_it_is_another_one(books: Books):
    line = ("write", "used 3 sheets of soffit")
    killed = books.live(line, kill="on disk, and not told")
    killed.ago(timedelta(days=7))
    later = books.live(line, on=killed.book)
    assert entries_of(later) == entries_of(killed) + 1
    assert "the same was written on" in later.complained
    assert "joblog undo" in later.complained
    assert not list(killed.book.glob("running*"))
    assert "the same" not in books.live(line, on=later.book).complained


def test_what_a_file_says_by_now_counts(books: Books):
    killed = books.live(("plan", "plan.csv"), kill="on disk, and not told")
    plan = Path("plan.csv")
    plan.write_text(plan.read_text() + "item,drip edge,4,stick\n")
    again = books.live(("plan", "plan.csv"), on=killed.book)
    assert "3 items" in again.complained
    assert "already" not in again.complained


def test_the_same_words_of_two_that_live_are_two(books: Books):
    line = ("write", "used 3 sheets of soffit")
    first = books.live(line)
    other = books.live(line, on=first.book, meanwhile=lambda: books.live(line, on=first.book))
    assert entries_of(other) == entries_of(first) + 2


def test_one_that_refuses_in_the_middle_decides_nothing(books: Books):
    refused = books.live(("drop", "1", "2", "999"))
    assert refused.status == 1
    assert refused.printed == ""
    assert "there is no entry 999" in refused.complained
    assert refused.rows == books.rows


def test_the_first_job_of_all_is_begun_once(books: Books):
    line = ("new", "Mill house", "--plan", "plan.csv")
    once = books.live(line, on=books.folder / "new")
    killed = books.live(line, on=books.folder / "killed", kill="on disk, and not told")
    again = books.live(line, on=killed.book)
    assert (again.status, again.rows) == (0, once.rows)


def test_killed_before_every_single_step(books: Books):
    """Also in what is no decision: the lock, the notes beside the book."""
    line = ("drop", "1", "2")
    once = books.live(line)
    for step in range(0, 100, 3):
        killed = books.live(line, kill=step)
        if killed.status != KILLED:
            break
        assert books.live(line, on=killed.book).rows == once.rows, step
    assert 4 < step < 100


# --- lives ----------------------------------------------------------------------------------------

INSTANTS = ("before it is on disk", "on disk, and not told", "told, and not at its end")
LEFT = "never, but keep what a kill would leave"
"""At each of the instants: that costs one life, and not one for each."""
KILLED = 9
KEPT = "kept.json"
OF_JOB = ("--job", two_jobs.JOB.name)


@dataclass
class Lived:
    """What came of a run, and what then was in the book."""

    book: Path
    status: int
    printed: str
    complained: str

    def __post_init__(self) -> None:
        """What was in the book then, and what, when its decision was on disk."""
        self.rows = rows(self.book)
        kept = self.book / KEPT
        self.kept = json.loads(kept.read_text()) if kept.exists() else {}
        self.printed = MOMENT.sub("now", self.printed).replace(str(self.book), "BOOK")

    def left(self, instant: str) -> Path:
        """What a kill would have left there."""
        return self.book.with_name(f"{self.book.name} {instant}")

    def ago(self, span: timedelta) -> None:
        """As if it had lived so long ago."""
        with sqlite3.connect(self.book / "book.sqlite") as book:
            book.execute("UPDATE repeat SET at = ?", [(datetime.now(UTC) - span).isoformat()])
        book.close()


def rows(folder: Path) -> dict[str, list[str]]:
    """What the tables hold, but moments; without what is derived of them, and marks."""
    if not (folder / "book.sqlite").is_file():
        return {}
    book = sqlite3.connect(folder / "book.sqlite")
    names = [
        name for (name,) in book.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
    ]
    found = {
        name: [MOMENT.sub("now", repr(row)) for row in book.execute(f"SELECT * FROM {name}")]
        for name in names
        if not name.startswith(LEFT_OUT)
    }
    book.close()
    return found


LEFT_OUT = ("repeat", "seal", "seen_whole", "said", "sqlite")
MOMENT = re.compile(r"20\d\d-\d\d-\d\dT[\d:.]+(Z|\+00:00)")


def entries_of(lived: Lived) -> int:
    return len(lived.rows["entry"])


class Books:
    """Copies of one book, each with what came of a run on it."""

    def __init__(self, book: Path, folder: Path) -> None:
        self.book, self.folder, self.made = book, folder, 0
        self.rows = rows(book)

    def live(
        self,
        line: tuple[str, ...],
        *,
        on: Path | None = None,
        kill: str | int = "never",
        meanwhile: Callable[[], Any] = lambda: None,
    ) -> Lived:
        """Runs the command in a fork, on a copy of the book, which ends as if killed there."""
        self.made += 1
        book = on or self.folder / f"{self.made}"
        if on is None:
            shutil.copytree(self.book, book)
        files = [self.folder / f"{self.made}.{what}" for what in ("out", "err")]
        gc.freeze()  # Else every fork would copy what it looks through for garbage.
        if not (child := os.fork()):
            gc.disable()
            status = 255
            try:
                status = lived(line, book, files, kill, meanwhile)
            finally:
                os._exit(status)
        status = os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])
        return Lived(book, status, *(file.read_text() for file in files))


def lived(
    line: tuple[str, ...],
    book: Path,
    files: list[Path],
    kill: str | int,
    meanwhile: Callable[[], Any],
) -> int:
    said = [word.format(book=book) for word in line[1:]]
    words = [*line[0].split(), *said, "--book", str(book)]
    words += () if line[0] in OF_NO_JOB else OF_JOB
    sys.argv = ["joblog", *words]
    sys.stdout, sys.stderr = (file.open("w") for file in files)
    kill_at(kill, book)
    doing = _Telling.tell

    def tell(telling: _Telling) -> None:
        doing(telling)
        _Telling.tell = doing  # type: ignore[method-assign]
        meanwhile()

    _Telling.tell = tell  # type: ignore[method-assign]
    try:
        main()
    except SystemExit as left:
        return int(left.code or 0)
    finally:
        sys.stdout.flush()
        sys.stderr.flush()
    return 255


def kill_at(instant: str | int, book: Path) -> None:
    """Ends this process there as if it were killed, or keeps what that would leave."""
    execute, keep = Database.execute, repeating.Run.keep
    keeping: list[Any] = []
    steps = 0

    def die() -> None:
        os._exit(KILLED)

    def step() -> None:
        nonlocal steps
        if steps == instant:
            die()
        steps += 1

    def reached(one: str) -> None:
        if instant == one:
            die()
        left = book.with_name(f"{book.name} {one}")
        if instant == LEFT and not left.exists():
            shutil.copytree(book, left)

    def executed(db: Database, sql: str, *values: Any) -> Any:
        if sql == "COMMIT":
            step()
            if keeping:
                reached(INSTANTS[0])
        return execute(db, sql, *values)

    def kept(run: Any, *args: Any) -> None:
        keeping.append(run)
        keep(run, *args)
        (run._book.folder / KEPT).write_text(json.dumps(rows(run._book.folder)))
        reached(INSTANTS[1])

    def removed(lock: Any, remove: Callable[[Any], None] = repeating._remove) -> None:
        step()
        reached(INSTANTS[2])
        remove(lock)

    def counted(real: Callable[..., Any]) -> Callable[..., Any]:
        return lambda *args, **named: (step(), real(*args, **named))[1]

    Database.execute = executed  # type: ignore[method-assign]
    repeating.Run.keep = kept  # type: ignore[method-assign]
    repeating._remove = removed
    os.fsync = counted(os.fsync)
    Path.replace, Path.mkdir = counted(Path.replace), counted(Path.mkdir)  # type: ignore[method-assign]
    _Telling.tell = counted(_Telling.tell)  # type: ignore[method-assign]


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A book in which there is something to decide for every command."""
    folder = tmp_path_factory.mktemp("made")
    moment_written(datetime.now(UTC))
    for file in FILES_OF_COMMANDS:  # Else every fork would load them for itself.
        import_module(f"joblog.cli.{file}")
    for room in ("service", "report", "papers"):
        for file in (Path(joblog.__file__).parent / room).glob("[a-z]*.py"):
            import_module(f"joblog.{room}.{file.stem}")
    with two_jobs.a_book(folder) as book:
        for amount in (3, 5):
            used = Entry("used", item="soffit panel", quantity=Fraction(amount), unit="sheet")
            two_jobs.wrote(book, used)
        two_jobs.wrote(book, Entry("labor", task="hang soffit", hours=Fraction(2)))
        came = replace(used, kind="delivered", quantity=Fraction(15))
        rest = replace(used, kind="moved", to_job=STOCK)
        two_jobs.wrote(book, came, rest, job=two_jobs.OTHER)
    earlier = folder / "earlier.csv"
    earlier.write_text("job,date,item,work,gone\nOak,2025-05-01,fascia,10,12\n")
    for words in (
        ("rates", "--add", str(earlier)),
        ("use", "Heron House"),
        ("write", "used 1 sheet of soffit panel", "--at", "2026-10-09 10:00", *OF_JOB),
        ("write", "used 1 sheet of soffit panel", "--at", "2026-10-08 10:00", *OF_JOB),
        ("undo", *OF_JOB),
    ):
        sys.argv = ["joblog", *words, "--book", str(folder / "book")]
        with pytest.raises(SystemExit) as left:
            main()
        assert not left.value.code, words
    return folder / "book"


@pytest.fixture
def books(made: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Books:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("HOME", str(tmp_path))
    for name, text in FILES.items():
        Path(name).write_text(text)
    return Books(made, tmp_path)


FILES = {
    "plan.csv": "line,name,quantity,unit\nitem,soffit panel,20,sheet\nitem,fascia,7,stick\n",
    "catalog.csv": "line,name,unit,cost\nitem,soffit panel,sheet,31.50\n",
    "earlier.csv": "job,date,item,work,gone\nElm,2025-05-01,fascia,10,12\n",
    "runs.csv": "work,place,length,depth\nboxed eave,north eave,41,12\n",
    "house.csv": "what,name,length,height,top,corner,depth\n"
    + "".join(
        f"side,{side},{length} ft,9 ft,eave,outside,12\n"
        for side, length in (("front", 42), ("left", 28), ("back", 42), ("right", 28))
    ),
}
