"""What a process leaves on the disk that is killed, at any of its steps."""

from __future__ import annotations

import gc
import os
import shutil
import traceback
from collections.abc import Callable, Iterable
from hashlib import sha256
from itertools import count
from pathlib import Path
from typing import Any

from joblog.book import media
from joblog.book.database import Database

Places = Iterable[tuple[Any, str]]
"""What does a step: where it is, and its name there."""
STEPS: Places = (
    (os, "fsync"), (Path, "replace"), (Path, "mkdir"), (Path, "unlink"), (media, "_copied"),
)  # fmt: skip
"""What makes a difference on the disk; of the database that is only the end of a transaction."""
COMMITS = ("COMMIT",)


def left_behind(
    folder: Path,
    into: Path,
    do: Callable[[], object],
    places: Places = STEPS,
    commits: tuple[str, ...] = COMMITS,
) -> list[Path]:
    """Does it once, in a fork, and copies the folder as it is before each step: what a kill there
    would leave. What is left the same by several kills is there once, for a next life has nothing
    but that to go by.

    The folder itself is, in the end, as an undisturbed life leaves it.
    """
    into.mkdir()
    steps: list[bytes] = []

    def step() -> None:
        found = content(folder)
        if found not in steps:
            at = into / str(len(steps))
            shutil.copytree(folder, at) if folder.exists() else at.touch()
            steps.append(found)

    def watched() -> None:
        at_each_step(step, places, commits)
        do()

    assert in_a_fork(watched) == 0
    found = sorted(into.iterdir(), key=lambda one: int(one.name))
    for one in found:
        if one.is_file():
            one.unlink()  # Nothing was there at all.
    return found


def content(folder: Path) -> bytes:
    """Names and bytes of all files; not what SQLite keeps for those who have it open."""
    whole = sha256()
    for path in sorted(folder.rglob("*")):
        whole.update(f"\n{path.relative_to(folder)}\n".encode())
        if path.is_file() and not path.name.endswith("-shm"):
            whole.update(path.read_bytes())
    return whole.digest() if folder.exists() else b""


def at_each_step(
    step: Callable[[], None], places: Places = STEPS, commits: tuple[str, ...] = COMMITS
) -> None:
    """From now on, in this process, this is done before each."""

    def counted(real: Callable[..., Any]) -> Callable[..., Any]:
        return lambda *args, **named: (step(), real(*args, **named))[1]

    def executed(db: Database, sql: str, *values: Any) -> Any:
        return (step() if sql.startswith(commits) else None, execute(db, sql, *values))[1]

    for of, name in places:
        setattr(of, name, counted(getattr(of, name)))
    execute, Database.execute = Database.execute, executed  # type: ignore[method-assign]


def in_a_fork(do: Callable[[], object]) -> int:
    """Its exit status: 0, or what it gives where that is a number; 255 where it raised."""
    gc.freeze()  # Else every fork would copy what it looks through for garbage.
    if not (child := os.fork()):
        gc.disable()
        status = 255
        try:
            given = do()
            status = given if isinstance(given, int) else 0
        except BaseException:
            traceback.print_exc()
        finally:
            os._exit(status)
    return os.waitstatus_to_exitcode(os.waitpid(child, 0)[1])


def steps_of(do: Callable[[], object]) -> int:
    """How many steps it takes, in a fork; fewer than 250."""

    def counted() -> int:
        taken = count()
        at_each_step(lambda: next(taken) and None)
        do()
        return min(next(taken), 250)

    return in_a_fork(counted)
