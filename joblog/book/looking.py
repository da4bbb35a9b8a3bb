"""A photo made small enough to draw, by a process that a bad photo may kill."""

from __future__ import annotations

import atexit
import threading
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from joblog.book.hearing import lost, why
from joblog.book.workers import Limits, Lost, Pool

if TYPE_CHECKING:
    from PIL.Image import Image


class NotDrawnError(Exception):
    """Why a photo cannot be drawn, in words for a person."""


def drawn(path: Path, size: tuple[int, int], limits: Limits | None = None) -> Image:
    """The picture the way a person sees it, in RGB, no wider and higher than `size` in pixels.

    Any thread may call this; they wait for each other. Raises NotDrawnError.
    """
    with _one_at_a_time:
        if limits is not None:
            with Pool(_ready, 1, limits) as pool:
                [(_, answer)] = pool.answers([_Wanted(path, size)])
        else:
            [(_, answer)] = _standing.answers([_Wanted(path, size)])
    if isinstance(answer, Lost):
        raise NotDrawnError(f"{path.name}: {lost(answer)}")
    if isinstance(answer, str):
        raise NotDrawnError(answer)
    return answer


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
    except Exception as error:  # Codecs raise anything.
        return f"{wanted.path}: {why(error)}"


_one_at_a_time = threading.Lock()
_standing: Pool[_Wanted, Image | str] = Pool(_ready, 1)
atexit.register(_standing.__exit__, None, None, None)
