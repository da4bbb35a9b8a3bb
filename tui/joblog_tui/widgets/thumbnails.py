"""Small pictures, decoded away from the keyboard; the latest ones are kept."""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Sequence
from pathlib import Path
from threading import Lock, Thread
from typing import TYPE_CHECKING

from joblog.service import ServiceError

if TYPE_CHECKING:
    from PIL.Image import Image

KEPT = 300
"""Pictures. At 240 by 160 pixels they take 35 MB."""


class Thumbnails:
    """`told` is called from another thread whenever one more of those in sight is ready."""

    def __init__(self, told: Callable[[Path], object], size: tuple[int, int]) -> None:
        self.size = size
        self._told = told
        self._kept: OrderedDict[Path, Image | str] = OrderedDict()
        self._wanted: list[Path] = []
        self._access = Lock()
        self._at_work = False

    def found(self, path: Path) -> Image | str | None:
        """The picture, or why it cannot be drawn; None while it is not known yet."""
        with self._access:
            if path in self._kept:
                self._kept.move_to_end(path)
            return self._kept.get(path)

    def want(self, paths: Sequence[Path]) -> None:
        """These are in sight now, and no others: what was wanted before is forgotten."""
        with self._access:
            self._wanted = [path for path in paths if path not in self._kept]
            if self._wanted and not self._at_work:
                self._at_work = True
                Thread(target=self._work, daemon=True).start()

    def _work(self) -> None:
        while True:
            with self._access:
                if not self._wanted:
                    self._at_work = False
                    return
                path = self._wanted.pop(0)
            drawn = _small(path, self.size)
            with self._access:
                self._kept[path] = drawn
                while len(self._kept) > KEPT:
                    self._kept.popitem(last=False)
            self._told(path)


def _small(path: Path, size: tuple[int, int]) -> Image | str:
    from joblog.service.pictures import small

    try:
        return small(path, size)
    except (ServiceError, OSError) as trouble:
        return str(trouble)
    except Exception as trouble:  # Whatever is wrong with one picture must not hide the others.
        return f"this photo cannot be drawn ({type(trouble).__name__})"
