"""How much may be searched, counted by the work done and never by a clock.

The same list so gets the same plan on a slow machine as on a fast one, and on a busy one as on an
idle one.
"""

from __future__ import annotations

USUAL = 20_000_000
"""Units of work for one cut list. A unit is about a microsecond of the machine it was set on."""


class Effort:
    """What is left of a search's work; shared by all parts of the search, which spend from it.

    `times` the usual work, none or more of it.
    """

    def __init__(self, times: float = 1) -> None:
        self.left = int(times * USUAL)

    def spend(self, units: int) -> None:
        self.left -= units

    @property
    def spent(self) -> bool:
        """True once nothing is left, so that the best found so far has to do."""
        return self.left <= 0
