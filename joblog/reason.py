"""What is within reason: bounds of all that is measured, counted and paid on a job, in one table.

A number outside of them was mostly meant otherwise: inches for feet, the price of a box for that of
one piece, a key held down. Whoever means it says that he is sure.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from joblog.quantity import about, convert, tape


class BeyondReason(ValueError):  # noqa: N818 (it says no error was made)
    """A number that is read well, and that hardly anybody means; in words, with what to do."""


@dataclass(frozen=True, slots=True)
class Bound:
    """From `least` to `most` of `unit`, both among them."""

    least: Fraction
    most: Fraction
    unit: str = ""


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
    if sure:
        return
    bound = bound_of(what, unit)
    low = bound.least if least is None else least
    high = bound.most if most is None else most
    if low <= number <= high:
        return
    said = f"{what} {_shown(number, unit)} is"
    why = f"below {_shown(low, unit)}" if number < low else f"more than {_shown(high, unit)}"
    raise BeyondReason(f"{said} {why}, which no job has; {IF_SO}")


IF_SO = "say --sure if it is so"
"""What to do, on a command line."""


def bound_of(what: str, unit: str = "") -> Bound:
    """The bound of what is measured, in `unit`; that of the unit where the table has none."""
    named = BOUNDS.get(" ".join(what.lower().replace("_", " ").split()))
    if named is not None and (found := _in(named, unit)) is not None:
        return found
    return next(filter(None, (_in(bound, unit) for bound in OF_UNITS)), OF_COUNTS)


def _in(bound: Bound, unit: str) -> Bound | None:
    least, most = (convert(number, bound.unit, unit) for number in (bound.least, bound.most))
    return None if least is None or most is None else Bound(least, most, unit)


def _shown(number: Fraction | Decimal | int, unit: str) -> str:
    if isinstance(number, Decimal):
        return f"{number:,f}"
    exact = Fraction(number)
    if exact.denominator == 1:
        return f"{exact.numerator:,} {unit}".rstrip()
    return f"{tape(exact) if exact.denominator <= 64 else about(exact)} {unit}".rstrip()


def _bound(least: int | str, most: int | str, unit: str = "") -> Bound:
    return Bound(Fraction(least), Fraction(most), unit)


# All of these are common practice, and generous: twice or more beyond what a house has.
BOUNDS: Mapping[str, Bound] = {
    # what is measured along and across a house
    "length": _bound(1, 400, "ft"),
    "width": _bound("1/2", 200, "ft"),
    "height": _bound("1/2", 60, "ft"),
    "height end": _bound(0, 60, "ft"),
    "run": _bound("1/2", 100, "ft"),
    "drop": _bound("1/2", 60, "ft"),
    "area": _bound(4, 20_000, "ft2"),
    "openings": _bound(0, 2_000, "ft2"),
    "around": _bound(0, 2_000, "ft"),
    "side of an opening": _bound("1/4", 40, "ft"),
    "depth": _bound(3, 60, "in"),
    "pitch": _bound("1/4", 24),
    # how it is built
    "face": _bound(2, 48, "in"),
    "exposure": _bound(2, 16, "in"),
    "lap": _bound(0, 36, "in"),
    "channel lap": _bound(0, 12, "in"),
    "wrap": _bound(0, 12, "in"),
    "fall": _bound(0, 12, "in"),
    "nail spacing": _bound(2, 240, "in"),
    "stud spacing": _bound(6, 48, "in"),
    "joist spacing": _bound(6, 48, "in"),
    "hanger spacing": _bound(6, 60, "in"),
    "spout spacing": _bound(5, 100, "ft"),
    "door width": _bound(0, 60, "ft"),
    "beyond": _bound(0, 120, "in"),
    "short": _bound(0, 120, "in"),
    "piece nails": _bound(0, 50),
    "fahrenheit": _bound(-60, 130),
    "temperature": _bound(-60, 130),
    # what is cut
    "length of a piece": _bound("1/4", 4_800, "in"),
    "pieces": _bound(1, 10_000),
    "stock length": _bound(6, 720, "in"),
    "kerf": _bound(0, "1/2", "in"),
    "least offcut": _bound(0, 240, "in"),
    "tolerance": _bound(0, 6, "in"),
    # what is bought, paid and worked
    "hours": _bound(0, 5_000),
    "price": _bound(0, 20_000),
    "hourly cost": _bound(0, 1_000),
    "mile rate": _bound(0, 20),
    "miles": _bound(0, 100_000),
    "sum": _bound(0, 5_000_000),
    "per hour": _bound("1/100", 10_000),
    "crew": _bound(1, 99),
    "pack": _bound("1/1000", 100_000),
    "per pound": _bound("1/100", 100_000),
}
"""By what is measured, underlines as blanks."""

OF_UNITS = (
    _bound(0, 20_000, "ft"),
    _bound(0, 200_000, "ft2"),
    _bound(0, 20_000, "lb"),
    _bound(0, 2_000, "gal"),
    _bound(0, 200_000, "each"),
)
"""What a whole job has of a unit, where the table above says nothing of what is measured."""
OF_COUNTS = _bound(0, 20_000)
"""The same of whatever is counted otherwise: sticks, boxes, corners."""
