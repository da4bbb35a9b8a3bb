"""What takes time while listening goes on: hearing an utterance, making the sound of an answer."""

from __future__ import annotations

import time
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from typing import Generic, Protocol, TypeVar

Result = TypeVar("Result")
Made = TypeVar("Made", covariant=True)


class Promise(Protocol[Made]):
    """Something that is being done."""

    def ready(self, now: float) -> bool:
        """Whether it is done at this moment of the sound, in seconds since listening began."""
        ...

    def result(self) -> Made:
        """What came of it; waits for it, and raises what it raised."""
        ...


class Doing(Protocol):
    """A way to have things done beside the listening, in the order in which they are asked for."""

    live: bool
    """Whether time passes meanwhile."""

    def start(self, now: float, do: Callable[[], Result]) -> Promise[Result]: ...

    def close(self) -> None: ...


class Beside:
    """Really beside it, in a thread: for sound that comes in real time."""

    live = True

    def __init__(self) -> None:
        self._thread = ThreadPoolExecutor(1)

    def start(self, now: float, do: Callable[[], Result]) -> Promise[Result]:
        return _Threaded(self._thread.submit(do))

    def close(self) -> None:
        self._thread.shutdown(wait=True, cancel_futures=True)


@dataclass(frozen=True, slots=True)
class _Threaded(Generic[Result]):
    future: Future[Result]

    def ready(self, now: float) -> bool:
        return self.future.done()

    def result(self) -> Result:
        return self.future.result()


class AtOnce:
    """At once, but ready only when so much of the sound has passed as it really took.

    So a recording that is listened to faster than it was made comes out as in real time.
    """

    live = False

    def __init__(self) -> None:
        self._free = 0.0

    def start(self, now: float, do: Callable[[], Result]) -> Promise[Result]:
        begun = time.perf_counter()
        try:
            result: Result | Exception = do()
        except Exception as error:
            result = error
        self._free = max(now, self._free) + time.perf_counter() - begun
        return _Done(result, self._free)

    def close(self) -> None:
        """There is nothing to close."""


@dataclass(frozen=True, slots=True)
class _Done(Generic[Result]):
    outcome: Result | Exception
    at: float

    def ready(self, now: float) -> bool:
        return now >= self.at

    def result(self) -> Result:
        if isinstance(self.outcome, Exception):
            raise self.outcome
        return self.outcome
