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
    mark = hashlib.sha256(place.name.encode()).hexdigest()[:12]
    for left in place.parent.glob(f".{mark}.*{PASSING}"):
        if not _is_at_work(left.name.split(".")[2]):
            with suppress(OSError):
                shutil.rmtree(left) if left.is_dir() else left.unlink()
    return place.with_name(f".{mark}.{os.getpid()}{PASSING}")


PASSING = ".part"


def _is_at_work(process: str) -> bool:
    import psutil  # Only where something was left.

    number = int(process) if process.isdecimal() else 0
    return number != os.getpid() and bool(psutil.pid_exists(number))
