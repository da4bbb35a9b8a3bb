"""The functions that a formula may use, on exact quantities."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from math import ceil, floor, isqrt
from typing import Any

from joblog.quantity import Quantity
from joblog.takeoff.units import (
    FormulaError,
    NumberError,
    as_quantity,
    our_unit,
    readable,
    unlike,
)


def _ceil(count: Any) -> Any:
    number, unit = _countable(count, "ceil")
    return Quantity(Fraction(ceil(number)), unit)


def _floor(count: Any) -> Any:
    number, unit = _countable(count, "floor")
    return Quantity(Fraction(floor(number)), unit)


def _smallest(*amounts: Any) -> Any:
    return min(_alike(amounts))


def _largest(*amounts: Any) -> Any:
    return max(_alike(amounts))


def _rafter(run: Any, pitch: Any) -> Any:
    """Length of a slope over a level `run`, rising `pitch` inches in 12."""
    return _root(_inches(run) ** 2 * (144 + _bare_number(pitch) ** 2) / 144)


def _hip(run: Any, pitch: Any) -> Any:
    """Length of a hip or valley rafter, for the level `run` of its common rafters."""
    return _root(_inches(run) ** 2 * (288 + _bare_number(pitch) ** 2) / 144)


def _diagonal(across: Any, along: Any) -> Any:
    return _root(_inches(across) ** 2 + _inches(along) ** 2)


def _per_stock(stock: Any, piece: Any, kerf: Any) -> Any:
    """How many pieces one stock length yields, with a saw kerf between them."""
    unit = _stock_unit(stock)
    whole, each, lost = _inches(stock * unit), _inches(piece), _inches(kerf)
    if each <= 0:
        raise NumberError(f"asks for a piece of {readable(each)} in")
    count = (whole + lost) // (each + lost)
    if not count:
        raise NumberError(
            f"asks for a piece of {readable(each)} in, longer than its stock of "
            f"{readable(whole)} in"
        )
    return Fraction(count) / unit


def _joints(length: Any, stock: Any, lap: Any) -> Any:
    """How many joints it takes to cover `length`, each lapping by `lap`."""
    covered, whole = _inches(length), _inches(stock * _stock_unit(stock))
    lapped = _inches(lap)
    if whole <= lapped:
        raise NumberError("has a lap as long as the stock")
    return Quantity(Fraction(max(0, ceil((covered - lapped) / (whole - lapped)) - 1)))


def _stepped(width: Any, low: Any, high: Any, exposure: Any) -> Any:
    """The length of all courses of siding on a wall that is `low` at one end and `high` at the
    other: each as long as the wall is at the course's foot."""
    long, course = _inches(width), _inches(exposure)
    least, most = sorted((_inches(low), _inches(high)))
    if course <= 0:
        raise NumberError("has courses of no height")
    full = ceil(least / course)
    courses = ceil(most / course)
    if courses > MOST_COURSES:
        raise NumberError(f"comes to {courses:,} courses; check the height")
    # Above the low end the foot of a course at `at` is (high - at) / (high - low) of the width.
    feet = (most - number * course for number in range(full, courses))
    shorter = sum(feet, Fraction(0)) / (most - least) if courses > full else Fraction(0)
    return Quantity.of(long * (full + shorter), "in")


MOST_COURSES = 10_000

FUNCTIONS: dict[str, Callable[..., Any]] = {
    "ceil": _ceil,
    "floor": _floor,
    "min": _smallest,
    "max": _largest,
    "rafter": _rafter,
    "hip": _hip,
    "diagonal": _diagonal,
    "per_stock": _per_stock,
    "joints": _joints,
    "stepped": _stepped,
}


def _root(square: Fraction) -> Any:
    """The square root of square inches, rounded up to 1/64 inch, so that nothing is cut short."""
    least = ceil(square * 64 * 64)
    return Quantity.of(Fraction(isqrt(least - 1) + 1 if least > 0 else 0, 64), "in")


def _countable(value: Any, function: str) -> tuple[Fraction, Any]:
    quantity = as_quantity(value)
    if {"length", "mass"} & set(quantity.dimensions):
        unit = our_unit(quantity)
        raise FormulaError(f"uses {function} on {unit}; it is for counts, so divide first")
    return quantity.number, quantity.units


def _alike(amounts: tuple[Any, ...]) -> list[Any]:
    if not amounts:
        raise FormulaError("uses min or max on nothing")
    quantities = [as_quantity(amount) for amount in amounts]
    for other in quantities[1:]:
        if other.dimensions != quantities[0].dimensions:
            raise FormulaError(unlike(our_unit(quantities[0]), our_unit(other)))
    return quantities


def _inches(value: Any) -> Fraction:
    quantity = as_quantity(value)
    if quantity.dimensions != {"length": 1}:
        raise FormulaError(f"needs a length, but {our_unit(quantity)} came")
    return quantity.number


def _bare_number(value: Any) -> Fraction:
    quantity = as_quantity(value)
    if quantity.dimensions:
        raise FormulaError(f"needs a bare number, but {our_unit(quantity)} came")
    return quantity.number


def _stock_unit(stock: Any) -> Quantity:
    """One of what the stock length is of: a stick, a sheet; a bare one for a bare length."""
    powers = as_quantity(stock).dimensions
    per = next((unit for unit in powers if powers == {"length": 1, unit: -1}), "")
    return Quantity.of(Fraction(1), per)
