"""What is written beside the place that it takes in one step when it is whole."""

from __future__ import annotations

import hashlib
import os
import shutil
from contextlib import suppress
from pathlib import Path


def passing_beside(place: Path) -> Path:
    """A passing name beside a place, for what is not whole yet. What programs that were killed
    left there for the same place is cleared away."""
    clear(place)
    return place.with_name(f".{_mark(place)}.{os.getpid()}{PASSING}")


def clear(place: Path) -> None:
    """Clears away what programs that were killed left beside a place."""
    for left in place.parent.glob(f".{_mark(place)}.*{PASSING}"):
        if not _is_at_work(left.name.split(".")[2]):
            with suppress(OSError):
                shutil.rmtree(left) if left.is_dir() else left.unlink()


def put(place: Path, content: bytes) -> None:
    """A file that nobody but its owner may read, whole or not at all; what is noted in it may be
    lost with a pulled plug. Raises OSError."""
    passing = passing_beside(place)
    flags = os.O_CREAT | os.O_WRONLY | os.O_TRUNC
    with os.fdopen(os.open(passing, flags, 0o600), "wb") as to:
        to.write(content)
    passing.replace(place)


PASSING = ".part"


def _mark(place: Path) -> str:
    return hashlib.sha256(place.name.encode()).hexdigest()[:12]


def _is_at_work(process: str) -> bool:
    import psutil  # Only where something was left.

    number = int(process) if process.isdecimal() else 0
    return number != os.getpid() and bool(psutil.pid_exists(number))
