"""Work spread over processes, of which any may die without taking the others' work along."""

from __future__ import annotations

import multiprocessing
import os
import signal
import threading
from collections.abc import Callable, Generator, Iterable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from multiprocessing.connection import Connection, wait
from multiprocessing.context import SpawnProcess
from typing import Any, Generic, TypeVar, cast

Task = TypeVar("Task")
Answer = TypeVar("Answer")


@dataclass(frozen=True, slots=True)
class Died:
    """The process that had the task is gone without an answer."""


def answers(
    tasks: Iterable[Task], prepare: Callable[[], Callable[[Task], Answer]], count: int
) -> Generator[tuple[Task, Answer | Died]]:
    """Every task with its answer, as they get done by up to `count` processes.

    `prepare` is called once in each process and gives what does a task there; both it and the
    tasks must be picklable, and what it gives must not raise. A task is drawn from `tasks` when
    somebody is free to do it. The processes end with the iterator, and with this process however
    it ends.
    """
    waiting = iter(tasks)
    busy: dict[Connection, _Worker[Task]] = {}
    idle: list[_Worker[Task]] = []
    try:
        while True:
            while len(busy) < count and (drawn := next(waiting, _NONE)) is not _NONE:
                worker = idle.pop() if idle else _hired(prepare)
                worker.give(drawn)
                busy[worker.pipe] = worker
            if not busy:
                return
            for pipe in wait(list(busy)):
                worker = busy.pop(cast(Connection, pipe))
                task, answer = worker.task, worker.answer()
                if isinstance(answer, Died):
                    worker.end()
                else:
                    idle.append(worker)
                yield task, answer
    finally:
        for worker in [*busy.values(), *idle]:
            worker.end()


_NONE: Any = object()
_PROCESSES = multiprocessing.get_context("spawn")  # A fork would copy locks that threads hold.


class _Worker(Generic[Task]):
    task: Task

    def __init__(self, process: SpawnProcess, pipe: Connection) -> None:
        self.process, self.pipe = process, pipe

    def give(self, task: Task) -> None:
        self.task = task
        # One that died while it had nothing to do is found out when its answer is due.
        with suppress(EOFError, OSError):
            self.pipe.send(task)

    def answer(self) -> Any:
        try:
            return self.pipe.recv()
        except (EOFError, OSError):
            return Died()

    def end(self) -> None:
        self.process.kill()
        self.process.join()
        self.pipe.close()


def _hired(prepare: Callable[[], Callable[[Task], Any]]) -> _Worker[Task]:
    ours, theirs = _PROCESSES.Pipe()
    process = _PROCESSES.Process(target=_serve, args=(theirs, prepare), daemon=True)
    with _deaf_to_interrupts():
        process.start()
    theirs.close()  # Now theirs is the only one, and its end is seen here.
    return _Worker(process, ours)


def _serve(pipe: Connection, prepare: Callable[[], Callable[[Any], Any]]) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_parent, daemon=True).start()
    with suppress(EOFError, OSError):
        do = prepare()
        while True:
            pipe.send(do(pipe.recv()))


def _end_with_parent() -> None:
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
    os._exit(1)


@contextmanager
def _deaf_to_interrupts() -> Iterator[None]:
    """A process started in here is not stopped by the Ctrl-C that its parent answers."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)
