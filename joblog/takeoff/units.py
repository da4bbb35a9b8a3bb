"""The units of a formula: which there are, what they come to, and how a person reads an amount.

A count ("each") is a bare number in a formula; a stock length is inches a stick.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from typing import Any

from joblog.model import Amount
from joblog.quantity import UNITS, Quantity, about, feet_and_inches, tape


class FormulaError(ValueError):
    """Why a formula cannot be worked out, in words for a person."""


class NumberError(FormulaError):
    """It is a good formula, but not for these numbers."""


UNIT_NAMES = (
    "inch", "ft", "ft2", "lb", "gal", "square", "each", "pair", "sheet", "stick", "box", "roll",
    "bundle", "tube",
)  # fmt: skip
"""Names that formulas may use for units; an input may not be called so."""


def is_unit(text: str) -> bool:
    """True for "", a unit of ours, or one a piece of another: "in/stick", "ft2/roll"."""
    over, _, under = text.partition("/")
    return (over in UNITS or not over) and (under in UNITS or ("/" not in text))


def shown(amount: Amount) -> str:
    """An amount for a person: "11 5/8 in", "9' 3 9/64\"", "41", "144 in/stick", "~3.4097 stick".

    Exact where a tape shows it; with decimals and a ~ where not.
    """
    inches = amount.quantity * 12
    if amount.unit == "ft" and amount.quantity.denominator != 1 and 64 % inches.denominator == 0:
        return feet_and_inches(inches)
    unit = "" if amount.unit in ("", "each") else f" {amount.unit}"
    return f"{readable(amount.quantity)}{unit}"


def as_quantity(value: Any) -> Quantity:
    """A number or quantity as a quantity. Raises `FormulaError` for a comparison."""
    if isinstance(value, bool):
        raise FormulaError("takes a comparison for an amount")
    return value if isinstance(value, Quantity) else Quantity(Fraction(value))


def unit_quantity(name: str) -> Any:
    return _one_of("in" if name == "inch" else name)


def quantity_of(amount: Amount) -> Quantity:
    """An amount of one of our units, or of one a piece of another, such as "in/stick"."""
    return _one_of(amount.unit) * amount.quantity


@cache
def _one_of(unit: str) -> Quantity:
    over, _, under = unit.partition("/")
    return _one(over) / _one(under)


def amount_in(quantity: Quantity, unit: str) -> Amount:
    """The quantity as an amount of `unit`. Raises `FormulaError` where it is of another kind."""
    share = quantity / _one_of(unit)
    if share.dimensions:
        raise FormulaError(f"comes out in {our_unit(quantity)}, but must be in {unit or 'counts'}")
    return Amount(share.number, unit)


def fitting_unit(quantity: Quantity) -> str:
    """Inches for a short length, feet for a long one, our own name for anything else."""
    if quantity.dimensions == {"length": 1}:
        return "in" if abs(quantity.number) < 48 else "ft"
    unit = _unit_with(quantity.dimensions)
    if unit is None:
        raise FormulaError(f"comes out in {our_unit(quantity)}, which is no unit that anything has")
    return unit


def our_unit(quantity: Quantity) -> str:
    """The unit in the words of the trade, for a message."""
    parts = quantity.units if quantity.dimensions else ()
    over = [_power(name, power) for name, power in parts if power > 0]
    under = [_power(name, -power) for name, power in parts if power < 0]
    return " ".join(over or ["a count"]) + (f" per {' '.join(under)}" if under else "")


def unlike(one: str, other: str) -> str:
    """What is wrong with adding or comparing these units, in words."""
    return f"adds or compares {one} and {other}, which do not mix"


def _one(unit: str) -> Quantity:
    # A count stands alone in a formula: twelve pieces of a foot are twelve feet.
    if unit in ("", "each", "pair"):
        return Quantity(Fraction(2 if unit == "pair" else 1))
    if not unit.isidentifier():
        raise FormulaError(f"there is no unit {unit!r}")
    return Quantity.of(Fraction(1), unit)


def _unit_with(powers: Mapping[str, int]) -> str | None:
    """Our unit of these dimensions: one measured, counted, or measured a piece of one counted."""
    over = _OVERS.get(tuple((name, powers[name]) for name in _MEASURED if name in powers))
    counted = [(unit, power) for unit, power in powers.items() if unit not in _MEASURED]
    if over is None or len(counted) > 1:
        return None
    if not counted:
        return over
    ((unit, power),) = counted
    if power == 1 and not over:
        return unit
    return f"{over}/{unit}" if power == -1 and over != "/lb" else None


_MEASURED = ("length", "mass")
_OVERS: Mapping[tuple[tuple[str, int], ...], str] = {
    (): "",
    (("length", 1),): "in",
    (("length", 2),): "ft2",
    (("length", 3),): "gal",
    (("mass", 1),): "lb",
    (("mass", -1),): "/lb",
}


def _power(name: str, power: int) -> str:
    return name if power == 1 else f"{name}{power}"


def readable(number: Fraction) -> str:
    """As a tape reads where it is of the tape; else with decimals, marked as about."""
    if number.denominator in (1, 2, 4, 8, 16, 32, 64):
        return tape(number)
    return about(number)
