"""What a file does to the process that reads it."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from joblog.workers import Limits

SLOWEST = 2.0
"""Seconds of processor time for one file."""

MOST = 500 << 20
"""Bytes that reading one file may take."""

LIMITS = Limits(memory=MOST, computing=2 * SLOWEST, idle=30.0)


@dataclass(frozen=True, slots=True)
class Endured:
    """`how` is "read", "refused", or what was raised that nobody should see."""

    how: str
    seconds: float
    memory: int

    @property
    def fault(self) -> str | None:
        if self.how not in ("read", "refused"):
            return self.how
        if self.seconds > SLOWEST:
            return f"took {self.seconds:.1f} s"
        return f"took {self.memory >> 20} MB" if self.memory > MOST else None


def ready() -> Callable[[Path], Endured]:
    """What reads a file in a process that may die of it."""
    return _endured


def _endured(path: Path) -> Endured:
    from joblog.photos import PhotoError, read, thumbnail
    from joblog.photos.gpx import read_track

    _forget_peak()
    began = time.process_time()
    try:
        if path.suffix == ".gpx":
            read_track(path)
        else:
            read(path, "America/New_York")
            thumbnail(path, (280, 220))
        how = "read"
    except PhotoError as refused:
        how = "refused" if refused.why.isprintable() else f"unprintable: {refused.why!r}"
    except Exception as error:
        how = f"raises {type(error).__name__}: {error}"[:200]
    return Endured(how, time.process_time() - began, _peak())


def _forget_peak() -> None:
    if sys.platform == "linux":
        Path("/proc/self/clear_refs").write_text("5")


def _peak() -> int:
    """The most memory since it was forgotten; 0 where the system does not tell."""
    if sys.platform != "linux":
        return 0
    for line in Path("/proc/self/status").read_text().splitlines():
        if line.startswith("VmHWM"):
            return int(line.split()[1]) << 10
    return 0
