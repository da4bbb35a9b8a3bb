"""A photo made small enough to draw, by a process that a bad photo may kill."""

from __future__ import annotations

import atexit
import os
import threading
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from joblog.book.hearing import why
from joblog.workers import LOOKING, Limits, Lost, Pool

if TYPE_CHECKING:
    from PIL.Image import Image


class NotDrawnError(Exception):
    """A photo that cannot be drawn; `why` is a plain phrase for a person."""

    def __init__(self, path: Path, why: str) -> None:
        super().__init__(f"{path}: {why}")
        self.why = why


def drawn(path: Path, size: tuple[int, int], limits: Limits | None = None) -> Image:
    """The picture the way a person sees it, in RGB, no wider and higher than `size` in pixels.

    Any thread may call this; they wait for each other. What a process was lost over is not tried
    again while this program runs. Raises NotDrawnError.
    """
    with _one_at_a_time:
        if (how := _fatal.get(path)) is not None:
            raise NotDrawnError(path, _LOST[how])
        if limits is not None:
            with Pool(_ready, 1, limits) as pool:
                [(_, answer)] = pool.answers([_Wanted(path, size)])
        else:
            [(_, answer)] = _standing.answers([_Wanted(path, size)])
    if isinstance(answer, Lost):
        _fatal[path] = answer.how
        raise NotDrawnError(path, _LOST[answer.how])
    if isinstance(answer, str):
        raise NotDrawnError(path, answer)
    return answer


def all_drawn(
    paths: Iterable[Path], size: tuple[int, int]
) -> Iterator[tuple[Path, Image | NotDrawnError]]:
    """The same of many, as they get done, by as many processes as there are processors."""
    wanted = list(paths)
    if len(wanted) <= _FEW:
        for path in wanted:
            try:
                yield path, drawn(path, size)
            except NotDrawnError as error:
                yield path, error
        return
    for path in wanted:
        if (how := _fatal.get(path)) is not None:
            yield path, NotDrawnError(path, _LOST[how])
    with Pool(_ready, min(os.cpu_count() or 1, _AT_ONCE), LOOKING) as pool:
        for one, answer in pool.answers(
            _Wanted(path, size) for path in wanted if path not in _fatal
        ):
            if isinstance(answer, Lost):
                _fatal[one.path] = answer.how
            found = _LOST[answer.how] if isinstance(answer, Lost) else answer
            yield one.path, NotDrawnError(one.path, found) if isinstance(found, str) else found


_FEW = 12
"""Photos that are drawn before other processes would have started."""

_AT_ONCE = 4
"""Processes; a large photo takes some hundred megabytes while it is drawn."""

_LOST = {
    "died": "makes the program stop that should draw it; look at it in another program",
    "stuck": "takes too long to be drawn; look at it in another program",
    "memory": "takes too much memory to be drawn; look at it in another program",
}


@dataclass(frozen=True, slots=True)
class _Wanted:
    path: Path
    size: tuple[int, int]


def _ready() -> Callable[[_Wanted], Image | str]:
    return _small


def _small(wanted: _Wanted) -> Image | str:
    from joblog.photos import thumbnail

    try:
        return thumbnail(wanted.path, wanted.size)
    except MemoryError:
        return _LOST["memory"]
    except Exception as error:  # Codecs raise anything.
        return why(error)


_one_at_a_time = threading.Lock()
_standing: Pool[_Wanted, Image | str] = Pool(_ready, 1, LOOKING)
_fatal: dict[Path, Literal["died", "stuck", "memory"]] = {}
"""Originals that a process was lost over; they never change under their name."""
atexit.register(_standing.__exit__, None, None, None)
