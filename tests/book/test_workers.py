"""Work goes on whatever happens to one of those who do it."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

from joblog.book.workers import Died, answers


def ready() -> Callable[[int], tuple[int, int]]:
    return square


def square(number: int) -> tuple[int, int]:
    if number == 3:
        os.kill(os.getpid(), signal.SIGKILL)
    return number * number, os.getpid()


def test_every_task_is_answered_once_by_at_most_two_processes():
    found = dict(answers(iter([1, 2, 4, 5]), ready, 2))
    assert {task: answer[0] for task, answer in found.items()} == {1: 1, 2: 4, 4: 16, 5: 25}
    pids = {answer[1] for answer in found.values()}
    assert len(pids) <= 2
    assert os.getpid() not in pids


def test_one_that_dies_loses_only_the_task_it_had():
    found = dict(answers([1, 3, 2, 4], ready, 1))
    assert found[3] == Died()
    assert [found[task][0] for task in (1, 2, 4)] == [1, 4, 16]
    assert found[1][1] != found[2][1]


def test_a_task_is_drawn_only_when_somebody_is_free():
    drawn = []
    tasks = (drawn.append(number) or number for number in range(4, 10))
    work = answers(tasks, ready, 2)
    next(work)
    assert len(drawn) <= 3
    work.close()


def test_no_task_needs_no_process():
    assert list(answers([], ready, 2)) == []


PARENT = """
import os, sys, time
from joblog.book.workers import answers
from test_workers import slow
print("started", flush=True)
for task, answer in answers([1, 2], slow, 2):
    print(answer, flush=True)
"""


def slow() -> Callable[[int], int]:
    Path(os.environ["PIDS"], str(os.getpid())).touch()
    return sleep_long


def sleep_long(number: int) -> int:
    time.sleep(600)
    return number


def test_those_who_work_end_when_their_parent_is_killed(tmp_path: Path):
    script = tmp_path / "parent.py"
    script.write_text(f"if __name__ == '__main__':\n    exec({PARENT!r})\n")
    here = [str(Path(__file__).parent), *filter(None, sys.path)]
    environment = {**os.environ, "PIDS": str(tmp_path), "PYTHONPATH": os.pathsep.join(here)}
    parent = subprocess.Popen([sys.executable, str(script)], env=environment)
    pids = wait_for(lambda: [int(p.name) for p in tmp_path.iterdir() if p.name.isdigit()], 2)
    parent.kill()
    parent.wait()
    assert wait_for(lambda: [None for pid in pids if not alive(pid)], 2)


def wait_for(look: Callable[[], list], count: int) -> list:
    until = time.monotonic() + 300  # only so that no fault hangs
    while len(found := look()) < count and time.monotonic() < until:
        time.sleep(0.02)
    assert len(found) == count
    return found


def alive(pid: int) -> bool:
    try:
        return Path(f"/proc/{pid}/stat").read_text().split(")")[1].split()[0] != "Z"
    except FileNotFoundError:
        return False
