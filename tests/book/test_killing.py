"""An intake that is killed at any instant and run again ends as if it had not been killed."""

from __future__ import annotations

import os
import random
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from joblog.book import intake, media
from joblog.book.database import Database

sys.path.append(str(Path(__file__).parents[1] / "bench"))
import killing

pytestmark = pytest.mark.usefixtures("made_anew")
LIVES = 10_000
KILLED = 9


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return killing.invented(tmp_path_factory.mktemp("from phone"), recordings=2, photos=1)


def test_killed_at_a_random_instant_and_run_again(tmp_path: Path, folder: Path):
    whole, _ = killing.run(tmp_path / "undisturbed", [folder], quick=True)
    instants = random.Random(7)
    for book in (tmp_path / "once", tmp_path / "again"):
        killing.run(book, [folder], True, instants.uniform(0, whole))
        killing.run(book, [folder], True)
        assert killing.state(book) == killing.state(tmp_path / "undisturbed")


def test_killed_before_every_single_step_and_run_again(tmp_path: Path, folder: Path):
    steps = killed_before(LIVES, tmp_path / "undisturbed", folder)
    undisturbed = killing.state(tmp_path / "undisturbed")
    assert 20 < steps < 255  # 255 is how a fault ends it.
    for step in range(steps):
        book = tmp_path / str(step)
        assert killed_before(step, book, folder) == KILLED
        assert killed_before(LIVES, book, folder) <= steps + 1  # it may have to sweep up as well
        assert killing.state(book) == undisturbed, f"killed before step {step}"


def killed_before(step: int, book: Path, folder: Path) -> int:
    """Takes in, in a fork that ends before its `step`-th step as if killed, with status KILLED.

    The number of steps when it was not killed; those of a kill come out as KILLED.
    """
    if not (child := os.fork()):
        status = 255
        try:
            status = counted_steps(step, lambda: take_in_here(book, folder))
        finally:
            os._exit(status)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def counted_steps(last: int, do: Callable[[], None]) -> int:
    """Counts what makes a difference on the disk, and ends the process before the `last` of it.

    Of the database that is only the end of a transaction; half of one makes none.
    """
    taken = 0

    def step() -> None:
        nonlocal taken
        if taken == last:
            os._exit(KILLED)
        taken += 1

    def counted(real: Callable[..., Any]) -> Callable[..., Any]:
        return lambda *args, **named: (step(), real(*args, **named))[1]

    def counted_execute(db: Database, sql: str, *values: Any) -> Any:
        return (step() if sql == "COMMIT" else None, execute(db, sql, *values))[1]

    os.fsync = counted(os.fsync)
    Path.replace, Path.mkdir = counted(Path.replace), counted(Path.mkdir)
    media._copied = counted(media._copied)
    execute, Database.execute = Database.execute, counted_execute
    do()
    return taken


def take_in_here(book: Path, folder: Path) -> None:
    """As the bench does, but heard in this process: a process for each would take a second."""

    time.sleep = lambda seconds: None
    intake.Pool = Here
    killing.take_in(book, [folder], quick=True)


class Here:
    """Does every task in this process."""

    def __init__(self, prepare: Callable[[], Any], *_: Any) -> None:
        self.do = prepare()

    def answers(self, tasks: Iterator[Any]) -> Iterator[Any]:
        for task in tasks:
            yield task, self.do(task)

    def __enter__(self) -> Here:
        return self

    def __exit__(self, *error: object) -> None:
        pass
