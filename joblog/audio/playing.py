"""What is to be played, and the process that plays it (`player.py`).

It is a process of its own because parts of the system's sound write on the terminal, hang, or take
the process with them. It is silent as soon as its input ends, and so when whoever started it dies.
On its output it says in lines of JSON what becomes of it: for how many seconds it is `playing`, or
its `trouble` in a plain line.
"""

from __future__ import annotations

import json
import sys
from dataclasses import asdict, dataclass


@dataclass(frozen=True, slots=True)
class Wanted:
    """From `start` to `end`, in seconds of the recording at `path`.

    `whole` is False where the recording has holes: then its own times do not count. `folder` is
    where what must pass through a file does so; it is taken away again.
    """

    path: str
    start: float
    end: float
    whole: bool = True
    slower: bool = False
    folder: str | None = None


def command(wanted: Wanted) -> list[str]:
    """What to start for it; it plays while its input stays open."""
    return [sys.executable, "-m", "joblog.audio.player", json.dumps(asdict(wanted))]
