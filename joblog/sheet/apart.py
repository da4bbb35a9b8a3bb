"""A workbook opened by a process of its own, which a bad one may kill, swell or keep for ever."""

from __future__ import annotations

import atexit
import hashlib
import multiprocessing
import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Literal

from joblog.sheet.cells import Grid
from joblog.sheet.opening import UnreadableError
from joblog.workers import Limits, Lost, Pool

OPENING = Limits(memory=1 << 30, computing=60.0)
"""The largest workbook that is let in takes 0.7 GB, and 6 s between two steps."""


def opened_apart(content: bytes, known: Callable[[Sequence[str]], int]) -> Grid:
    """The same as `workbook.cells_of`, whatever becomes of the process that opens it.

    Any thread may call this; they wait for each other. What a process was lost over is not opened
    again while this program runs. A process that may have none of its own opens it by itself.
    Raises UnreadableError.
    """
    closed = _Closed(content, known)
    if multiprocessing.current_process().daemon:
        return _cells_or_why(_open(closed))
    with _one_at_a_time:
        sha256 = hashlib.sha256(content).hexdigest()
        if (how := _fatal.get(sha256)) is not None:
            raise UnreadableError(_LOST[how])
        try:
            [(_, answer)] = _standing.answers([closed])
        except OSError:  # The system starts no more processes.
            answer = _open(closed)
        if isinstance(answer, Lost):
            _fatal[sha256] = answer.how
            answer = _LOST[answer.how]
    return _cells_or_why(answer)


def _cells_or_why(answer: Grid | str) -> Grid:
    if isinstance(answer, str):
        raise UnreadableError(answer)
    return answer


@dataclass(frozen=True, slots=True)
class _Closed:
    content: bytes
    known: Callable[[Sequence[str]], int]


def _ready() -> Callable[[_Closed], Grid | str]:
    return _open


def _open(closed: _Closed) -> Grid | str:
    """Its cells, or why there are none."""
    from joblog.sheet import workbook

    try:
        return workbook.cells_of(closed.content, closed.known)
    except UnreadableError as error:
        return str(error)
    except MemoryError:
        return _LOST["memory"]
    except Exception:  # Whatever a damaged or hostile file makes the library raise.
        return workbook.DAMAGED


_SMALLER = "copy the rows that are meant into a new workbook"
_LOST = {
    "died": "makes the program stop that opens workbooks; save it as CSV, and take that",
    "stuck": f"takes too long to be opened; {_SMALLER}",
    "memory": f"takes too much memory to be opened; {_SMALLER}",
}

_one_at_a_time = threading.Lock()
_standing: Pool[_Closed, Grid | str] = Pool(_ready, 1, OPENING)
_fatal: dict[str, Literal["died", "stuck", "memory"]] = {}
"""By the SHA-256 of workbooks that a process was lost over."""
atexit.register(_standing.__exit__, None, None, None)
