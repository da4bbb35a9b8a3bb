"""A book is made in one step: killed at any instant, it is made when that is said again."""

from __future__ import annotations

import os
import stat
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from joblog.book import Book, BookError
from joblog.book.database import Database
from joblog.model import Job
from joblog.service import place_of
from joblog.service.jobs import begin_job
from joblog.service.places import made_or_opened

KILLED = 9
pytestmark = pytest.mark.usefixtures("made_anew")
JOB = Job("Gull Point cottage", "America/New_York", ("north wall",))


def begin(folder: Path) -> None:
    with made_or_opened(place_of(folder)) as book:
        begin_job(book, JOB.name, JOB.zone, JOB.places)


@pytest.mark.skipif(sys.platform == "win32", reason="needs fork")
def test_killed_before_every_step_of_making_it_is_made_when_said_again(tmp_path: Path):
    steps = begun_until(1_000_000, tmp_path / "undisturbed")
    assert steps > 10, "the steps of making a book are no longer seen"
    for step in range(steps):
        folder = tmp_path / str(step)
        assert begun_until(step, folder) == KILLED
        begin(folder)
        with Book.open(folder) as book:
            assert book.jobs() == (JOB,), f"killed before step {step}"
            assert book.damage() == ()
        assert list(folder.glob("*.new*")) == [], f"killed before step {step}"


def begun_until(last: int, folder: Path) -> int:
    """Begins the job in a fork that ends before its `last` step as if killed; how many there were.

    A step is what makes a difference on the disk: of the database only what ends a transaction.
    """
    if not (child := os.fork()):
        status = 255
        try:
            status = counted(last, folder)
        finally:
            os._exit(status)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def counted(last: int, folder: Path) -> int:
    taken = 0

    def counting(name: str, real: Callable[..., Any]) -> Callable[..., Any]:
        def step(*args: Any, **named: Any) -> Any:
            nonlocal taken
            if name != "execute" or args[1].startswith(("COMMIT", "PRAGMA journal")):
                if taken == last:
                    os._exit(KILLED)
                taken += 1
            return real(*args, **named)

        return step

    for of, name in (
        (os, "fsync"), (os, "open"), (Path, "replace"), (Path, "mkdir"), (Path, "unlink"),
        (Database, "execute"), (Database, "close"),
    ):  # fmt: skip
        setattr(of, name, counting(name, getattr(of, name)))
    begin(folder)
    return min(taken, 200)  # What a process can say by its exit status.


@pytest.mark.parametrize("left", [b"", None])
def test_what_an_older_joblog_left_half_made_is_made(tmp_path: Path, left: bytes | None):
    folder = tmp_path / "book"
    folder.mkdir()
    if left is None:
        db = Database(folder / "book.sqlite")
        db.execute("PRAGMA journal_mode = WAL")
        db.close()
    else:
        (folder / "book.sqlite").write_bytes(left)
    with pytest.raises(BookError, match="begun and never finished"):
        Book.open(folder)
    begin(folder)
    with Book.open(folder) as book:
        assert book.jobs() == (JOB,)


def test_a_book_that_is_there_is_never_made_again(tmp_path: Path):
    begin(tmp_path)
    before = (tmp_path / "book.sqlite").read_bytes()
    with pytest.raises(BookError, match="a book is here already"):
        Book.create(tmp_path)
    assert (tmp_path / "book.sqlite").read_bytes() == before


def test_what_is_no_book_is_left_as_it_is(tmp_path: Path):
    (tmp_path / "book.sqlite").write_text("a shopping list, and long enough to be looked at" * 20)
    before = (tmp_path / "book.sqlite").read_bytes()
    for make in (Book.create, Book.at):
        with pytest.raises(BookError, match="is not a joblog book"):
            make(tmp_path)
    assert (tmp_path / "book.sqlite").read_bytes() == before


def test_half_of_a_book_is_not_written_over(tmp_path: Path):
    (tmp_path / "book.sqlite-wal").write_bytes(b"what was written last")
    with pytest.raises(BookError, match="is a part of a book"):
        Book.create(tmp_path)
    assert (tmp_path / "book.sqlite-wal").read_bytes() == b"what was written last"


@pytest.mark.skipif(os.name == "nt", reason="Windows keeps these rights elsewhere")
def test_book_and_originals_are_for_their_owner_alone(tmp_path: Path):
    folder = tmp_path / "book"
    begin(folder)
    shared = [
        path.relative_to(tmp_path).as_posix()
        for path in (folder, *folder.rglob("*"))
        if stat.S_IMODE(path.stat().st_mode) & 0o077
    ]
    assert shared == []
