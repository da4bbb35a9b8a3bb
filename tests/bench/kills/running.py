"""One run of a command or of the screens in a fork, killed at an instant or left alone."""

from __future__ import annotations

import gc
import os
import random
import shutil
import signal
import sys
import traceback
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from typing import Literal

from tests.bench.kills import shim

How = Literal["before", "half", "clock"]
NOON = 1_791_230_400.0
"""2026-10-05 20:00 UTC: what time it is while a command runs, so that two runs write the same."""
LONG = 120
"""Seconds after which a run is held to be stuck; it is ended, and told."""


@dataclass(frozen=True, slots=True)
class Instant:
    """When a run is killed: before its so-many-th call, in the middle of it, or after so long."""

    how: How
    at: float

    def __str__(self) -> str:
        if self.how == "clock":
            return f"after {1000 * self.at:.1f} ms"
        return f"{'before' if self.how == 'before' else 'in the middle of'} call {self.at:.0f}"


@dataclass(frozen=True, slots=True)
class Ran:
    """What came of a run."""

    status: int
    """Its exit status; below zero where a signal ended it."""
    calls: int
    """Calls that changed the disk, where it came to its end."""
    seconds: float
    told: str
    complained: str

    @property
    def killed(self) -> bool:
        return self.status in (-signal.SIGKILL, -signal.SIGALRM)


class Zygote:
    """Runs what it is given in forks of this process, each in the same folder."""

    def __init__(self, scratch: Path) -> None:
        self.scratch = scratch
        self.world = scratch / "world"

    def begin(self, template: Path) -> None:
        """The folder is as the template is."""
        shutil.rmtree(self.world, ignore_errors=True)
        shutil.copytree(template, self.world)

    def run(
        self, do: Callable[[], int | None], instant: Instant | None = None, log: Path | None = None
    ) -> Ran:
        """Runs it, killed at the instant if there is one; its calls are written to `log`."""
        out, err, counted = (self.scratch / name for name in ("out", "err", "counted"))
        if not (child := os.fork()):
            status = 70
            try:
                status = self._in_child(do, instant, log, out, err, counted)
            except BaseException:
                traceback.print_exc()
            finally:
                _flush()
                os._exit(status)
        _, raw, used = os.wait4(child, 0)
        calls = int(counted.read_text() or 0) if counted.exists() else 0
        counted.unlink(missing_ok=True)
        return Ran(
            os.waitstatus_to_exitcode(raw),
            calls,
            used.ru_utime + used.ru_stime,
            _text(out),
            _text(err),
        )

    def load_what_it_loaded(self) -> None:
        """What the last run that was written down had to load is had by all forks from now on."""
        for name in (self.scratch / "modules").read_text().split():
            if name not in sys.modules:
                with suppress(ImportError):
                    import_module(name)
        gc.freeze()

    def _in_child(
        self,
        do: Callable[[], int | None],
        instant: Instant | None,
        log: Path | None,
        out: Path,
        err: Path,
        counted: Path,
    ) -> int:
        _stands_at(self.world)
        for descriptor, path in ((1, out), (2, err)):
            to = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
            os.dup2(to, descriptor)
            os.close(to)
        os.dup2(os.open(os.devnull, os.O_RDONLY), 0)
        # As on a terminal: each line is told when it is there.
        sys.stdout.reconfigure(line_buffering=True)  # type: ignore[union-attr]
        signal.signal(signal.SIGALRM, signal.SIG_DFL)
        shim.hold_clock(NOON)
        how, at = (instant.how, instant.at) if instant else ("before", 0.0)
        to = os.open(log, os.O_WRONLY | os.O_CREAT | os.O_TRUNC) if log else shim.NOTHING
        last = 0 if how == "clock" else int(at)
        shim.arm(self.world, last, half=how == "half", log=to)
        signal.setitimer(signal.ITIMER_REAL, at if how == "clock" else LONG)
        try:
            status = do()
        except SystemExit as left:
            status = left.code if isinstance(left.code, int) else 1 if left.code else 0
        _flush()
        signal.setitimer(signal.ITIMER_REAL, 0)
        counted.write_text(str(shim.calls()))
        if log is not None:
            (self.scratch / "modules").write_text("\n".join(sys.modules))
        return status or 0


def command(words: tuple[str, ...]) -> Callable[[], int | None]:
    """The command line with these words."""

    def do() -> int | None:
        from joblog.cli import main

        sys.argv = ["joblog", *words]
        main()
        return None

    return do


def instants(
    calls: int, halves: list[int], seconds: float, many: int, dice: random.Random
) -> list[Instant]:
    """So many instants of a run: first before every call and in the middle of every write, then by
    the clock; where that is more than `many`, drawn from them, with the last calls always in."""
    every = [Instant("before", at) for at in range(1, calls + 1)]
    every += [Instant("half", at) for at in halves]
    by_clock = max(1, many // 5)
    if len(every) > many - by_clock:
        every = dice.sample(every, many - by_clock)
    rest = many - len(every)
    return [*every, *(Instant("clock", max(1e-4, dice.uniform(0, seconds))) for _ in range(rest))]


def _stands_at(world: Path) -> None:
    os.chdir(world)
    for name in ("HOME", "USERPROFILE"):
        os.environ[name] = str(world / "home")
    os.environ["TMPDIR"] = str(world / "tmp")
    os.environ["JOBLOG_BOOK"] = str(world / "book")
    os.environ.pop("XDG_CACHE_HOME", None)


def _flush() -> None:
    for stream in (sys.stdout, sys.stderr):
        with suppress(OSError, ValueError):
            stream.flush()


def _text(path: Path) -> str:
    return path.read_text("utf-8", "replace") if path.exists() else ""
