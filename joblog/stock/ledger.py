"""The stock of all jobs through their lives: what was bought where, carried where, and what is left.

A costed perpetual record by first in, first out; the rule is in `layers.py`. Every delivery is a
layer with its price and day. What is used, spoiled or unexplained on a job takes its oldest, and so
does what is carried to another job or into stock, with its cost; what goes back to the supplier is
the newest of that job. What is left when a job is closed lies in stock, and is what the next one
begins with. Nothing is lost and nothing is priced twice: what came in anywhere is what was
consumed, went back, or lies somewhere, exactly, in quantity and in money.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction
from typing import Literal

from joblog.model import Layer, Lying, Moved

What = Literal["opening", "delivered", "returned", "consumed", "moved", "ended"]


@dataclass(frozen=True, slots=True)
class Movement:
    """One thing that happened to an item on a job, in the item's own unit."""

    job: str
    item: str
    unit: str
    what: What
    quantity: Fraction
    """Of "ended", what was left then: it lies in stock from then on."""
    at: datetime
    each: Fraction | None = None
    """Dollars for one, of what was delivered."""
    day: date | None = None
    """The day it happened, where the job is."""
    other: str = ""
    """Of "moved", where it came from or went to; a job, or `STOCK`."""
    into: bool = False
    """Of "moved", whether it came to `job`."""
    entry: int | None = None


@dataclass(frozen=True, slots=True)
class Ledger:
    """Where everything went, and what it cost."""

    moved: tuple[Moved, ...] = ()
    """Every transfer once, and what jobs began with, in order of time."""
    consumed: tuple[tuple[str, str, tuple[Layer, ...]], ...] = ()
    """(job, item, what is gone of it there)."""
    returned: tuple[tuple[str, str, tuple[Layer, ...]], ...] = ()
    lying: tuple[Lying, ...] = ()
    found: tuple[Moved, ...] = ()
    """What was taken from somewhere that had no such thing, as far as anybody told: no price."""
    twice: tuple[tuple[Movement, Movement], ...] = ()
    """Transfers told from both ends with different numbers, on one day: one of them, or two?"""


def through_jobs(movements: Sequence[Movement]) -> Ledger:
    """The ledger of all that happened; movements may come in any order."""
    raise NotImplementedError
