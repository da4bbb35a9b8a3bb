"""Plays a stretch of a recording, in a process of its own so that keys stay quick."""

from __future__ import annotations

from pathlib import Path


class Player:
    """One sound at a time. Nothing here waits for it; `why_not` says what went wrong afterwards."""

    def play(self, path: Path, start: float, end: float, *, slower: bool = False) -> None:
        """Plays from `start` to `end`, in seconds of the recording; what was playing stops."""
        raise NotImplementedError

    def stop(self) -> None:
        """Silent at once; nothing where nothing plays."""

    def why_not(self) -> str:
        """Why the last sound was not heard, in a plain line; "" where it was."""
        return ""

    @property
    def playing(self) -> bool:
        """Whether it is still heard, or about to be."""
        return False
