"""Invented closed jobs for the tests of this room."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from fractions import Fraction

import numpy as np

from joblog.model import History, PastUse, PastWork

FIRST = date(2025, 3, 3)


def uses(
    wastes: Sequence[float],
    item: str = "soffit panel",
    net: int = 40,
    geometric: Fraction | None = Fraction(0),
    first: date = FIRST,
) -> tuple[PastUse, ...]:
    """One job a week, each with that handling waste as a share of net plus geometric waste."""
    return tuple(
        PastUse(
            f"job {number}",
            first + timedelta(weeks=number),
            item,
            Fraction(net),
            _share(1 + waste) * (net + (geometric or 0)),
            geometric,
        )
        for number, waste in enumerate(wastes, 1)
    )


def work(rates: Sequence[float], task: str = "hang soffit", quantity: int = 200) -> History:
    """One job a week, each with that many crew hours for one unit."""
    return History(
        work=tuple(
            PastWork(
                f"job {number}",
                FIRST + timedelta(weeks=number),
                task,
                Fraction(quantity),
                _share(rate) * quantity,
            )
            for number, rate in enumerate(rates, 1)
        )
    )


def scattered(mean: float, spread: float, count: int, seed: int = 3) -> list[float]:
    """Rates about a mean, log-normal."""
    drawn = np.random.default_rng(seed).normal(size=count)
    return [float(mean * np.exp(spread * one)) for one in drawn]


def _share(rate: float) -> Fraction:
    return Fraction(round(rate * 1_000_000), 1_000_000)
