"""Work goes on whatever happens to one of those who do it."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from joblog import pulse
from joblog.workers import Limits, Lost, Pool


def ready() -> Callable[[int], tuple[int, int]]:
    return square


def square(number: int) -> tuple[int, int]:
    if number == 3:
        os.kill(os.getpid(), signal.SIGKILL)
    return number * number, os.getpid()


def test_every_task_is_answered_once_by_at_most_two_processes():
    with Pool(ready, 2) as pool:
        found = dict(pool.answers(iter([1, 2, 4, 5])))
    assert {task: answer[0] for task, answer in found.items()} == {1: 1, 2: 4, 4: 16, 5: 25}
    pids = {answer[1] for answer in found.values()}
    assert len(pids) <= 2
    assert os.getpid() not in pids


def test_one_that_dies_loses_only_the_task_it_had():
    with Pool(ready, 1) as pool:
        found = dict(pool.answers([1, 3, 2, 4]))
    assert found[3] == Lost("died")
    assert [found[task][0] for task in (1, 2, 4)] == [1, 4, 16]
    assert found[1][1] != found[2][1]


def wary() -> Callable[[Path], int]:
    return die_the_first_time


def die_the_first_time(been: Path) -> int:
    if not been.exists():
        been.touch()
        os.kill(os.getpid(), signal.SIGKILL)
    return os.getpid()


def counting() -> Callable[[Path], None]:
    return die_every_time


def die_every_time(deaths: Path) -> None:
    with deaths.open("a") as file:
        file.write("died\n")
    os.kill(os.getpid(), signal.SIGKILL)


def test_a_task_whose_process_the_system_ended_is_done_by_the_next(tmp_path: Path):
    with Pool(wary, 1) as pool:
        [(_, answer)] = pool.answers([tmp_path / "been"])
    assert isinstance(answer, int)


def test_a_task_that_two_processes_died_of_is_not_tried_again(tmp_path: Path):
    with Pool(counting, 1) as pool:
        assert [answer for _, answer in pool.answers([tmp_path / "deaths"])] == [Lost("died")]
    assert (tmp_path / "deaths").read_text().count("died") == 2


def test_a_task_is_drawn_only_when_somebody_is_free():
    drawn = []
    tasks = (drawn.append(number) or number for number in range(4, 10))
    with Pool(ready, 2) as pool, closing(pool.answers(tasks)) as work:
        next(work)
        assert len(drawn) <= 3


def test_no_task_needs_no_process():
    with Pool(ready, 2) as pool:
        assert list(pool.answers([])) == []


def test_those_who_have_done_something_do_the_next_thing_too():
    with Pool(ready, 1) as pool:
        [(_, first)] = pool.answers([1])
        [(_, second)] = pool.answers([2])
    assert first[1] == second[1]


def hard() -> Callable[[str], int]:
    return do


def do(what: str) -> int:
    if what == "sleeps":
        time.sleep(3600)
    while what == "turns in circles":
        pass
    if what == "asks for the moon":
        return len(bytearray(1 << 45))
    if what == "swells":
        return len([bytes(b"x" * (1 << 20)) for _ in range(1 << 20)])
    if what == "asks for a gigabyte":
        try:
            return len(bytearray(1 << 30))
        except MemoryError:
            return 0
    if what == "swells a little":
        KEPT.append(b"x" * (600 << 20))
    if what == "goes on for long":
        until = time.process_time() + 3
        while time.process_time() < until:
            pulse.goes_on()
    return os.getpid()


KEPT: list[bytes] = []


def far() -> Callable[[str], None]:
    return reach


def reach(what: str) -> None:
    pulse.goes_on(12.5)


def test_how_far_a_recording_is_heard_is_told_with_its_task():
    told: list[tuple[str, float]] = []
    with Pool(far, 1, goes_on=lambda task, at: told.append((task, at))) as pool:
        assert [answer for _, answer in pool.answers(["eave"])] == [None]
    assert told == [("eave", 12.5)]


LIMITS = Limits(memory=1 << 30, computing=3.0, idle=10.0)


def little_time(what: str) -> Limits:
    """For what is done by one that is there already: to load takes more on a slow machine."""
    return replace(LIMITS, computing=1.5) if what in COMPUTES else LIMITS


COMPUTES = ("turns in circles", "goes on for long")


@pytest.mark.parametrize(
    ("what", "how"),
    [
        ("sleeps", ("stuck",)),
        ("turns in circles", ("stuck",)),
        # On Linux it is refused the last of it, if it asks before anybody has looked.
        ("swells", ("memory", "died")),
    ],
    ids=("sleeps", "turns in circles", "swells"),
)
def test_one_that_takes_too_much_is_ended_and_the_rest_gets_done(what: str, how: tuple[str, ...]):
    before = ["something"] if what in COMPUTES else []
    with Pool(hard, 1, little_time) as pool:
        found = dict(pool.answers([*before, what, "something else"]))
    assert found[what].how in how
    assert isinstance(found["something else"], int)


def test_one_that_says_that_it_goes_on_may_work_for_as_long_as_it_needs():
    with Pool(hard, 1, little_time) as pool:
        found = dict(pool.answers(["something", "goes on for long"]))
    assert found["goes on for long"] == found["something"]


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux holds a process to its memory")
def test_what_asks_for_absurdly_much_at_once_is_refused_at_once():
    with Pool(hard, 1, LIMITS) as pool:
        [(_, answer)] = pool.answers(["asks for the moon"])
    assert answer == Lost("memory")


def by_what(what: str) -> Limits:
    return Limits(memory=600 << 20) if what == "asks for a gigabyte" else Limits(memory=2 << 30)


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux holds a process to its memory")
def test_what_asks_for_more_than_its_sort_may_have_is_refused_it_and_lives():
    with Pool(hard, 1, by_what) as pool:
        found = dict(pool.answers(["asks for a gigabyte", "swells a little"]))
    assert found["asks for a gigabyte"] == 0
    assert isinstance(found["swells a little"], int)


def test_one_that_keeps_much_after_a_task_does_not_get_the_next():
    with Pool(hard, 1, LIMITS) as pool:
        found = dict(pool.answers(["swells a little", "something else"]))
    assert found["swells a little"] != found["something else"]


PARENT = """
import os, sys, time
from joblog.workers import Pool
from test_workers import slow
print("started", flush=True)
for task, answer in Pool(slow, 2).answers([1, 2]):
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
