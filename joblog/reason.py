"""What is within reason: bounds of all that is measured, counted and paid on a job, in one table.

A number outside of them was mostly meant otherwise: inches for feet, a price of a box for one
piece, a key held down. Whoever means it says that he is sure.
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction


class BeyondReason(ValueError):
    """A number that is read well, and that hardly anybody means; in words, with what to do."""


def check(
    what: str,
    number: Fraction | Decimal | int,
    unit: str = "",
    *,
    sure: bool = False,
    least: Fraction | None = None,
    most: Fraction | None = None,
) -> None:
    """Raises BeyondReason where `number` of `unit` is no `what` that a job has.

    `what` is a name of the table, such as "depth", "quantity", "hours", "price"; one that it does
    not have is held to what its unit allows. `least` and `most`, in `unit`, stand instead of the
    table's. Nothing is refused of whoever is `sure`.
    """
    raise NotImplementedError
