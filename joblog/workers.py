"""Work spread over processes, of which any may die, hang or swell without harm to the others."""

from __future__ import annotations

import multiprocessing
import os
import signal
import sys
import threading
import time
from collections.abc import Callable, Generator, Iterable, Iterator
from contextlib import contextmanager, redirect_stderr, suppress
from dataclasses import dataclass
from multiprocessing.connection import Connection, wait
from multiprocessing.context import SpawnProcess
from pathlib import Path
from types import TracebackType
from typing import Any, Generic, Literal, TypeVar, cast

import psutil

from joblog import pulse

Task = TypeVar("Task")
Answer = TypeVar("Answer")


@dataclass(frozen=True, slots=True)
class Limits:
    """What one task may take before the process that has it is ended.

    Time is counted in work, so that a slow or busy machine, or one that was asleep, loses nothing:
    `joblog.pulse` says that a task goes on, and only without that do seconds add up.
    """

    memory: int = 600 << 20
    """Bytes. The largest photos that are drawn take 520 MB with the program around them, a day of
    sound 160 MB."""
    computing: float = 300.0
    """Seconds of processor time without going on. The longest step is the loading of all models and
    an utterance of twenty seconds; the whole demo, thirteen recordings, takes 18."""
    idle: float = 600.0
    """Seconds in which it neither goes on nor uses the processor at all."""


HEARING = Limits(memory=1 << 30)
"""Where the models of both recognizers are loaded; with them it takes 0.6 GB."""


LOOKING = Limits(computing=60.0)
"""For a picture or a log: the largest take some seconds, on a slow machine ten times that."""


@dataclass(frozen=True, slots=True)
class Lost:
    """The process that had the task is gone without an answer."""

    how: Literal["died", "stuck", "memory"]


class Pool(Generic[Task, Answer]):
    """Up to `count` processes that do tasks, started when first needed.

    `prepare` is called once in each process and gives what does a task there; both it and the
    tasks must be picklable, and what it gives raises nothing but MemoryError. The processes end
    with the `with` block, and with this process however that ends.

    A task whose process died is given to one more, for it may have been the system that ended it;
    a second one is not risked.
    """

    def __init__(
        self,
        prepare: Callable[[], Callable[[Task], Answer]],
        count: int,
        limits: Limits | Callable[[Task], Limits] | None = None,
        goes_on: Callable[[Task, float], None] | None = None,
    ) -> None:
        """`limits` are those of every task, or say which a task has; what says it is picklable.

        `goes_on` is told now and then how many seconds of a task's recording are done.
        """
        limits = limits or Limits()
        self._prepare, self._count = prepare, count
        self._limits = limits if callable(limits) else _Always(limits)
        self._goes_on = goes_on
        self._idle: list[_Worker[Task]] = []

    def answers(self, tasks: Iterable[Task]) -> Generator[tuple[Task, Answer | Lost]]:
        """Every task with its answer, as they get done.

        A task is drawn from `tasks` when somebody is free to do it.
        """
        waiting = iter(tasks)
        again: list[Task] = []
        busy: dict[Connection, _Worker[Task]] = {}
        try:
            while True:
                while len(busy) < self._count:
                    second = bool(again)
                    task = again.pop() if second else next(waiting, _NONE)
                    if task is _NONE:
                        break
                    worker = self._idle.pop() if self._idle else self._hired()
                    worker.give(task, second)
                    busy[worker.pipe] = worker
                if not busy:
                    return
                for worker, answer in _heard_from(busy, self._goes_on):
                    del busy[worker.pipe]
                    if isinstance(answer, Lost) or worker.swollen():
                        worker.end()
                    else:
                        self._idle.append(worker)
                    if answer == Lost("died") and not worker.second:
                        again.append(worker.task)
                    else:
                        yield worker.task, answer
        finally:
            for worker in busy.values():
                worker.end()

    def __enter__(self) -> Pool[Task, Answer]:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        while self._idle:
            self._idle.pop().end()

    def _hired(self) -> _Worker[Task]:
        ours, theirs = _PROCESSES.Pipe()
        process = _PROCESSES.Process(
            target=_serve, args=(theirs, self._prepare, self._limits), daemon=True
        )
        # Screens put something without a file in the place of the errors' way out, and what starts
        # a process wants to hand that on.
        with _deaf_to_interrupts(), redirect_stderr(sys.__stderr__):
            process.start()
        theirs.close()  # Now theirs is the only one, and its end is seen here.
        return _Worker(process, ours, self._limits)


_NONE: Any = object()
_PROCESSES = multiprocessing.get_context("spawn")  # A fork would copy locks that threads hold.
LOOK = 0.1
"""Seconds between two looks at those who work."""
SAY = 1.0
"""Seconds between two signs of one that goes on."""
STACK = 8 << 20
"""Bytes that a thread reserves, and hardly uses; a decoder starts one for each processor."""


@dataclass(frozen=True, slots=True)
class _GoesOn:
    """What a process says that is still at its task, and at which second of a recording it is."""

    at: float | None = None


def _heard_from(
    busy: dict[Connection, _Worker[Any]], tell: Callable[[Any, float], None] | None
) -> list[tuple[_Worker[Any], Any]]:
    """Those who have answered or are lost, after no longer than LOOK."""
    done: list[tuple[_Worker[Any], Any]] = []
    speaking = [busy[cast(Connection, pipe)] for pipe in wait(list(busy), LOOK)]
    for worker in speaking:
        said = worker.said()
        if isinstance(said, _GoesOn):
            worker.goes_on()
            if tell is not None and said.at is not None:
                tell(worker.task, said.at)
        else:
            done.append((worker, said))
    for worker in busy.values():
        if worker not in speaking and (lost := worker.look()):
            done.append((worker, lost))
    return done


@dataclass(frozen=True, slots=True)
class _Always:
    """The same limits for every task."""

    limits: Limits

    def __call__(self, task: object) -> Limits:
        return self.limits


class _Worker(Generic[Task]):
    task: Task
    second: bool
    """Whether another one died of the task before."""

    def __init__(
        self, process: SpawnProcess, pipe: Connection, limits: Callable[[Task], Limits]
    ) -> None:
        self.process, self.pipe, self._limits_of = process, pipe, limits
        self._watched: psutil.Process | None = None
        with suppress(psutil.Error):
            self._watched = psutil.Process(process.pid)
        self.goes_on()

    def give(self, task: Task, second: bool) -> None:
        self.task, self.second = task, second
        self._limits = self._limits_of(task)
        self.goes_on()
        # One that died while it had nothing to do is found out when its answer is due.
        with suppress(EOFError, OSError):
            self.pipe.send(task)

    def said(self) -> Any:
        try:
            return self.pipe.recv()
        except (EOFError, OSError):
            return Lost("died")

    def goes_on(self) -> None:
        """Counts anew from here."""
        self._computed = self._seen = self._processor_time()
        self._waited, self._looked = 0.0, time.monotonic()

    def look(self) -> Lost | None:
        """Whether it takes more than it may."""
        now, computed = time.monotonic(), self._processor_time()
        # A long time between two looks was spent elsewhere, or asleep.
        self._waited += min(now - self._looked, 2 * LOOK)
        self._looked = now
        if computed > self._seen:
            self._seen, self._waited = computed, 0.0
        if self._memory() > self._limits.memory:
            return Lost("memory")
        stuck = computed - self._computed > self._limits.computing
        return Lost("stuck") if stuck or self._waited > self._limits.idle else None

    def swollen(self) -> bool:
        """Whether it holds so much after a task that the next one may have to pay for it."""
        return self._memory() > self._limits.memory / 2

    def end(self) -> None:
        self.process.kill()
        self.process.join()
        self.pipe.close()

    def _memory(self) -> int:
        with suppress(psutil.Error):
            return int(self._watched.memory_info().rss) if self._watched else 0
        return 0

    def _processor_time(self) -> float:
        with suppress(psutil.Error):
            if self._watched:
                spent = self._watched.cpu_times()
                return float(spent.user + spent.system)
        return 0.0


def _serve(
    pipe: Connection,
    prepare: Callable[[], Callable[[Any], Any]],
    limits: Callable[[Any], Limits],
) -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    _be_quiet()
    threading.Thread(target=_end_with_parent, daemon=True).start()
    said = 0.0
    reached: float | None = None

    def goes_on(at: float | None) -> None:
        nonlocal said, reached
        reached = at if at is not None else reached
        if (now := time.monotonic()) - said > SAY:
            said = now
            pipe.send(_GoesOn(reached))
            reached = None

    pulse.tell(goes_on)
    with suppress(EOFError, OSError):
        do = prepare()
        while True:
            task = pipe.recv()
            reached = None
            _refuse_more_than(limits(task).memory)
            try:
                answer = do(task)
            except MemoryError:  # It was refused more before anybody saw how much it had.
                answer = Lost("memory")
            pipe.send(answer)


def _be_quiet() -> None:
    """What codecs in C complain of would land on the terminal, in the middle of a screen."""
    if not os.environ.get("JOBLOG_TRACE"):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, 2)
        os.close(nowhere)


def _refuse_more_than(memory: int) -> None:
    """What would make this process larger than that is refused it, before it has any of it."""
    if sys.platform == "linux":  # Elsewhere this limit is not there, or not held.
        import resource

        # What is reserved counts, so only what comes to it from here on is told.
        pages = Path("/proc/self/statm").read_text().split()
        held, reserved = (int(pages[at]) * resource.getpagesize() for at in (1, 5))
        more = max(0, memory - held) + STACK * (os.cpu_count() or 1)
        _, most = resource.getrlimit(resource.RLIMIT_DATA)
        least = reserved + more
        if most != resource.RLIM_INFINITY:
            least = min(least, most)
        resource.setrlimit(resource.RLIMIT_DATA, (least, most))


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
