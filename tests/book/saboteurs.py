"""Recognizers that, where they are to hear, make reading one file go wrong as codecs can.

They are what a hostile or damaged file is, without there being one for every version of a codec.
"""

from __future__ import annotations

import importlib
import os
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from fake_ears import Says

BAD = "bad"
"""What the name of the file that does it begins with."""


class Saboteur(Says):
    """Hears nothing but "used three sheets of soffit", and has `do` done by reading a bad file."""

    def __init__(self, do: Callable[[], object], of: str = "sound") -> None:
        super().__init__()
        self.do, self.of = do, of

    def __reduce__(self) -> tuple[Any, ...]:
        return at_work, (self.do, self.of)


def at_work(do: Callable[[], object], of: str) -> Says:
    """Called in the process that reads."""
    if of == "sound":
        from joblog.audio import made

        made._in_container = before(made._in_container, do)
    elif of == "file time":
        made_by_disk = Path.stat
        far = os.stat_result([0o100644, 0, 0, 1, 0, 0, 1, 0, 400_000_000_000, 0])  # the year 14645
        Path.stat = lambda path, **how: far if path.name.startswith(BAD) else made_by_disk(path)
    else:
        read = importlib.import_module("joblog.photos.read")
        read.opened = before(read.opened, do)
    return Says()


def before(real: Callable[[Path], Any], do: Callable[[], object]) -> Callable[[Path], Any]:
    def read(path: Path) -> Any:
        if path.name.startswith(BAD):
            do()
        return real(path)

    return read


def sleep() -> None:
    time.sleep(3600)


def turn_in_circles() -> None:
    while True:
        pass


def swell() -> None:
    [b"x" * (1 << 20) for _ in range(1 << 20)]


def nothing() -> None:
    pass
