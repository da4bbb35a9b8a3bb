"""The shim of `shim.c`, built on request, and what it is told from inside the program it is in."""

from __future__ import annotations

import ctypes
import os
import shutil
import subprocess
import sys
from pathlib import Path

SOURCE = Path(__file__).with_name("shim.c")
NOTHING = -1
"""In the place of a descriptor: no call is written down."""


def compiler() -> str | None:
    """The C compiler of this machine; None where there is none, or no Linux to load a shim."""
    return (shutil.which("cc") or shutil.which("gcc")) if sys.platform == "linux" else None


def built(folder: Path) -> Path:
    """The shim, compiled into a folder."""
    made = folder / "shim.so"
    if not made.exists():
        with_what = [str(compiler()), "-O2", "-shared", "-fPIC", "-o", str(made), str(SOURCE)]
        subprocess.run([*with_what, "-ldl"], check=True)
    return made


def loaded() -> bool:
    """Whether this process was started with the shim in it."""
    return hasattr(ctypes.CDLL(None), "kills_arm")


def environment(shim: Path) -> dict[str, str]:
    """That of a process which is to have the shim in it, and no threads when it forks."""
    alone = dict.fromkeys(("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"), "1")
    return {**os.environ, **alone, "LD_PRELOAD": str(shim)}


def arm(folder: Path, last: int = 0, *, half: bool = False, log: int = NOTHING) -> None:
    """Calls below the folder count from now on. The process dies before the `last`-th (0: never),
    or, where `half`, in the middle of it if it writes; they are written down to `log`."""
    ctypes.CDLL(None).kills_arm(
        str(folder).encode(), ctypes.c_long(last), int(half), ctypes.c_int(log)
    )


def calls() -> int:
    """How many calls were counted."""
    counted = ctypes.CDLL(None).kills_calls
    counted.restype = ctypes.c_long
    return int(counted())


def hold_clock(seconds: float) -> None:
    """The time of day stands still there from now on."""
    ctypes.CDLL(None).kills_hold_clock(ctypes.c_double(seconds))
