"""How much may be searched: counted by the work done, and by a clock only where somebody says so.

Counted by the work, the same list gets the same plan on a slow machine as on a fast one, and on a
busy one as on an idle one. Seconds are kept by every part of the search, and what they give differs
from machine to machine.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from time import monotonic

USUAL = 20_000_000
"""Units of work for one cut list. A unit is about a microsecond of the machine it was set on."""
_ENDLESS = 2**62
NEVER = float("inf")


class Effort:
    """What is left of a search's work and time; shared by all parts of the search.

    `times` the usual work, none or more of it; None for the usual work, or for as much as fits into
    `seconds` where those are said.
    """

    def __init__(self, times: float | None = None, seconds: float | None = None) -> None:
        endless = times is None and seconds is not None
        self.left = _ENDLESS if endless else int((1 if times is None else times) * USUAL)
        self._until = NEVER if seconds is None else monotonic() + seconds
        self.was_spent = False
        """True once a part of the search was told to stop for want of work."""
        self.was_late = False
        """True once a part of the search was told to stop for want of time."""

    def spend(self, units: int) -> None:
        self.left -= units

    @property
    def spent(self) -> bool:
        """True once nothing is left, so that the best found so far has to do."""
        self.was_spent = self.was_spent or self.left <= 0
        return self.late or self.left <= 0

    @property
    def late(self) -> bool:
        """True once the time is up, whatever work is left."""
        late = self.seconds_left <= 0
        self.was_late = self.was_late or late
        return late

    @property
    def seconds_left(self) -> float:
        return NEVER if self._until == NEVER else self._until - monotonic()

    @contextmanager
    def only(self, share: float) -> Iterator[None]:
        """Within it there is only this share of the work and of the time that is left."""
        until = self._until
        kept = max(0, self.left - int(share * self.left))
        self.left -= kept
        if until != NEVER:
            self._until = monotonic() + share * max(0.0, self.seconds_left)
        try:
            yield
        finally:
            self._until = until
            self.left += kept
