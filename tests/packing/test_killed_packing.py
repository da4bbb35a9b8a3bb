"""Packing and unpacking that are killed and run again end as if they had not been killed."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable
from itertools import count
from pathlib import Path

import pytest

from joblog.book import Book, ties
from joblog.book.verify import verify
from joblog.packing import pack, unpack
from tests.book.two_jobs import AT, CAME, JOB, USED, pictured, recorded, said
from tests.left_behind import STEPS, at_each_step, in_a_fork
from tests.packing.books import new_book, wrote
from tests.packing.telling import apart, told

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="lives are forks of this process")
KILLED, NEVER, DONE = 9, 10_000, 100
MADE = [one for one in STEPS if one[1] != "unlink"]
"""What is swept up is another time less, or more."""
EVERY = int(os.environ.get("JOBLOG_KILL_EVERY", "9"))
"""Here only before every ninth step, for each takes a while; with 1 before every one."""


def killed_before(step: int, do: Callable[[], object]) -> int:
    """Does it in a fork that ends before its `step`-th step as if killed, with `KILLED`; otherwise
    `DONE` and the number of its steps."""

    def counted() -> int:
        taken = count()
        at_each_step(lambda: os._exit(KILLED) if next(taken) == step else None, MADE)
        do()
        return DONE + next(taken)

    return in_a_fork(counted)


def test_killed_before_a_step_and_run_again(tmp_path: Path) -> None:
    first, file = tmp_path / "first", tmp_path / "job.jobpack"
    with new_book(first) as book:
        book.add_job(JOB)
        recorded(book, tmp_path, "morning", said(CAME), said(USED))
        pictured(book, tmp_path, "wall", AT)
        wrote(book, USED, minutes=9)
        ties.tie_photos(book, JOB.name)

    def pack_it() -> None:
        with Book.open(first) as book:
            pack(book, JOB.name, file)

    whole = killed_before(NEVER, pack_it)
    assert DONE + 2 <= whole < 255
    for step in range(0, whole - DONE, max(EVERY // 4, 1)):
        file.unlink(missing_ok=True)
        assert killed_before(step, pack_it) == KILLED
        assert killed_before(NEVER, pack_it) == whole
        assert sorted(one.name for one in tmp_path.glob("*.*")) == sorted(
            {"job.jobpack", "morning.wav", "wall.jpg"}
        )
        assert not list(tmp_path.glob(".*"))

    empty = tmp_path / "empty"
    new_book(empty).close()

    def unpack_into(folder: Path) -> Callable[[], None]:
        def do() -> None:
            with Book.open(folder) as book:
                unpack(book, file)

        return do

    shutil.copytree(empty, tmp_path / "undisturbed")
    whole = killed_before(NEVER, unpack_into(tmp_path / "undisturbed"))
    assert DONE + 5 < whole < 255
    with Book.open(first) as book:
        right = told(book, JOB.name, "panel")
    for step in range(0, whole - DONE, EVERY):
        folder = tmp_path / str(step)
        shutil.copytree(empty, folder)
        status = killed_before(step, unpack_into(folder))
        # Notes beside the book are made now and then, so that there may be a step less.
        assert status == KILLED or status == DONE + step
        assert killed_before(NEVER, unpack_into(folder)) >= DONE
        with Book.open(folder) as book:
            assert unpack(book, file).outcome == "same"
            assert list(verify(book)) == [], step
            assert apart(right, told(book, JOB.name, "panel")) == [], step
