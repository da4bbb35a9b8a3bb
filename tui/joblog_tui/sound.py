"""Plays a stretch of a recording, in a process of its own so that keys stay quick."""

from __future__ import annotations

import json
import os
import subprocess
from collections.abc import Callable
from contextlib import suppress
from threading import Lock, Thread
from typing import Literal

from joblog.service.desk import Desk
from joblog.service.sound import Stretch, command_for

State = Literal["silent", "coming", "playing"]


class Player:
    """One sound at a time, and nobody waits for it. `tell` is called from any thread when `state`
    has changed."""

    def __init__(self, desk: Desk, tell: Callable[[], object]) -> None:
        self._desk = desk
        self._tell = tell
        self._access = Lock()
        self._process: subprocess.Popen[str] | None = None
        self._state: State = "silent"
        self._why_not = ""

    def play(self, wanted: Stretch, *, slower: bool = False) -> None:
        """Plays it; what was playing stops."""
        self.stop()
        self._why_not = ""
        try:
            process = subprocess.Popen(
                command_for(self._desk, wanted, slower=slower),
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                text=True,
            )
        except OSError as error:
            self._why_not = f"no sound here: {error.strerror or error}"
            self._tell()
            return
        with self._access:
            self._process, self._state = process, "coming"
        Thread(target=self._follow, args=(process,), daemon=True).start()

    def stop(self) -> None:
        """Silent at once; nothing where nothing plays."""
        with self._access:
            process, self._process = self._process, None
            self._state = "silent"
        if process is not None and process.stdin is not None:
            with suppress(OSError):
                process.stdin.close()

    @property
    def state(self) -> State:
        return self._state

    @property
    def why_not(self) -> str:
        """Why the last one was not heard, in a plain line; "" where it was."""
        return self._why_not

    def _follow(self, process: subprocess.Popen[str]) -> None:
        assert process.stdout is not None
        why = ""
        with process.stdout as said:
            for line in said:
                news = json.loads(line)
                why = news.get("trouble", "")
                if "playing" in news:
                    self._now(process, "playing")
        if process.wait() and not why:
            why = f"no sound here: what plays it ended with {process.returncode}"
        self._now(process, "silent", f"{why}{_far_away()}" if why else "")

    def _now(self, process: subprocess.Popen[str], state: State, why_not: str = "") -> None:
        with self._access:
            # Another one may play by now, or it was told to stop: then nobody wants to know.
            if process is not self._process:
                return
            self._state, self._why_not = state, why_not
            if state == "silent":
                self._process = None
        self._tell()


def _far_away() -> str:
    if "SSH_CONNECTION" not in os.environ:
        return ""
    return " (you are connected over ssh: it would be heard at the other computer)"
