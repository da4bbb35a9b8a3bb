"""How far taking in has come, and how long it still takes."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Literal

Doing = Literal["looking round", "copying", "getting ready", "hearing", "photos", "tying"]
"""Which step it is at: looking for files, copying and comparing them, loading what hears, hearing,
looking at photos and track logs, tying photos to what was said."""

PHOTO = 1.0
"""Seconds of sound that take as long to hear as a photo takes to copy and look at: 0.1 s of
processor time for 12 megapixels, against 0.12 of real time."""
ENOUGH = 4.0
"""Seconds after which the speed is worth telling."""


@dataclass(frozen=True, slots=True)
class Far:
    """How far it is. `done` and `files` count files, `already` those that the book had."""

    doing: Doing
    name: str = ""
    """The file that it is about, or was last."""
    done: int = 0
    files: int = 0
    already: int = 0
    copied: int = 0
    recordings: int = 0
    """New ones, heard or to be heard; `heard` and `to_hear` are their seconds of sound."""
    heard: float = 0.0
    to_hear: float = 0.0
    left: float | None = None
    """Seconds it will still take at the speed so far; None while that is not known."""


Progress = Callable[[Far], None]


def time_left(done: float, whole: float, spent: float) -> float | None:
    """Seconds until `whole` is done where `done` took `spent`; None while that says nothing yet."""
    if done <= 0 or spent < ENOUGH:
        return None
    return max(0.0, whole - done) * spent / done


def nobody(far: Far) -> None:
    """Tells nobody."""


@dataclass(slots=True)
class Gauge:
    """Counts what is done, and tells of it."""

    tell: Progress = nobody
    now: Callable[[], float] = time.monotonic
    files: int = 0
    done: int = 0
    already: int = 0
    copied: int = 0
    _doing: Doing = "looking round"
    _name: str = ""
    _lengths: dict[str, float] = field(default_factory=dict)
    _heard: dict[str, float] = field(default_factory=dict)
    _finished: set[str] = field(default_factory=set)
    _photos: int = 0
    _seen: int = 0
    _began: tuple[float, float] | None = None
    """When the first was heard or looked at, and how much was done then."""

    def at(self, doing: Doing, name: str = "") -> None:
        """It is at this step now."""
        self._doing, self._name = doing, name
        self._say()

    def copying(self, name: str) -> None:
        """The next one is copied, and compared with what the book has."""
        self.copied += 1
        self.at("copying", name)

    def finished(self, name: str, *, already: bool = False) -> None:
        """A file is done with, however that went."""
        self.done += 1
        self.already += already
        self._name = name
        self._say()

    def expect(self, sounds: dict[str, float], photos: int) -> None:
        """So many other files are to be read, then these recordings heard, so many seconds each."""
        self._lengths, self._photos = dict(sounds), photos
        self.at(self._next())

    def passed(self) -> None:
        """One of the other files need not be read."""
        self._photos -= 1
        if self._doing == "photos" and self._next() != "photos":
            self.at(self._next())

    def hears(self, sha256: str, name: str, seconds: float | None = None) -> None:
        """So many seconds of a recording are heard; all of it unless said."""
        length = self._lengths.get(sha256, 0.0)
        self._heard[sha256] = length if seconds is None else min(seconds, length)
        if seconds is None:
            self._finished.add(sha256)
        all_heard = len(self._finished) == len(self._lengths)
        self._goes_on(self._next() if all_heard else "hearing", name)

    def saw(self, name: str) -> None:
        """A photo or track log is read."""
        self._seen += 1
        self._goes_on(self._next(), name)

    def _next(self) -> Doing:
        if self._seen < self._photos or not self._lengths:
            return "photos"
        return "hearing" if self._heard else "getting ready"

    def _goes_on(self, doing: Doing, name: str) -> None:
        if self._began is None:
            self._began = (self.now(), self._work_done())
        self.at(doing, name)

    def _work_done(self) -> float:
        return sum(self._heard.values()) + PHOTO * self._seen

    def _say(self) -> None:
        left = None
        if self._began is not None:
            since, had = self._began
            whole = sum(self._lengths.values()) + PHOTO * self._photos
            left = time_left(self._work_done() - had, whole - had, self.now() - since)
        self.tell(
            Far(
                self._doing,
                self._name,
                self.done,
                self.files,
                self.already,
                self.copied,
                len(self._lengths),
                sum(self._heard.values()),
                sum(self._lengths.values()),
                left,
            )
        )
