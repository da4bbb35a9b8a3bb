"""Setting the clock of a camera by hand, and taking that back."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import date

from joblog.book import decisions
from joblog.local import day_written
from joblog.model import ClockCorrection
from joblog.service.desk import Desk, remember
from joblog.service.errors import ServiceError, use_case
from joblog.service.record import clocks


@use_case
def set_clock(desk: Desk, camera: str, day: date | None, said: str) -> tuple[ClockCorrection, ...]:
    """Adds what was said, such as "+47 min", to all that a camera wrote on a day, or on all days.

    The corrections as they then stand. Raises `ServiceError` for a camera or day that is not there
    and for words that are no span of time.
    """
    seconds = seconds_of(said)
    found = _meant(desk, camera, day)
    remember(desk)
    decisions.set_clock(desk.book, desk.job.name, found[0].camera, _days(found), seconds)
    return _meant(desk, found[0].camera, day)


@use_case
def take_clock_back(desk: Desk, camera: str, day: date | None) -> tuple[ClockCorrection, ...]:
    """What was set by hand counts no more; the corrections as they are found out by themselves."""
    found = _meant(desk, camera, day)
    decisions.unset_clock(desk.book, desk.job.name, found[0].camera, _days(found))
    return _meant(desk, found[0].camera, day)


_PART = re.compile(r"(\d+(?:\.\d+)?)\s*(h|hours?|m|min|mins|minutes?|s|sec|secs|seconds?)\b\s*")
_UNITS = {"h": 3600, "m": 60, "s": 1}
MOST = 14 * 3600
"""Seconds. A clock that is further off has a wrong date as well, which no shift of hours mends."""


def seconds_of(said: str) -> float:
    """The seconds of "+47 min", "-1 h 2 min", "90 s" and the like, signed.

    Raises `ServiceError` for what is none of these.
    """
    text = said.strip().lower()
    sign = -1 if text.startswith(("-", "\u2212")) else 1
    rest = text.lstrip("+-\u2212").strip()
    total = 0.0
    while rest and (part := _PART.match(rest)):
        total += float(part[1]) * _UNITS[part[2][0]]
        rest = rest[part.end() :]
    if rest or not text.strip("+-\u2212 "):
        raise ServiceError(
            f"{said!r} is no span of time; say what to add to its times, like +47 min or -1 h"
        )
    if total > MOST:
        raise ServiceError(f"{said!r} is more than 14 hours; a wrong date cannot be set so")
    return sign * total


def _meant(desk: Desk, camera: str, day: date | None) -> tuple[ClockCorrection, ...]:
    every = clocks(desk)
    named = [one for one in every if one.camera.lower() == camera.lower()]
    named = named or [one for one in every if camera.lower() in one.camera.lower()]
    if len({one.camera for one in named}) != 1:
        known = ", ".join(sorted({one.camera for one in named or every})) or "none"
        raise ServiceError(f"{desk.job.name}: which camera is {camera!r}? It has: {known}")
    found = tuple(one for one in named if day in (None, one.day))
    if not found:
        days = "; ".join(day_written(one.day) for one in named)
        asked = day_written(day) if day else "any day"
        raise ServiceError(f"{named[0].camera} has no photos on {asked}; it has some on {days}")
    return found


def _days(found: Sequence[ClockCorrection]) -> list[date]:
    return [one.day for one in found]
