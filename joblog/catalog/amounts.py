"""Amounts as people write them in a table: 41, 41 ft, 12' 4 1/2", 11 7/8 in, 6/12, 3 x 4."""

from __future__ import annotations

import re
from fractions import Fraction

from joblog.model import Amount
from joblog.quantity import convert, fraction_of, unit_named

LONGEST = 40
"""Characters of an amount. What is longer was not measured on a house."""

_FEET = re.compile(
    r"(?P<feet>[^'a-z]+)(?:'[\s-]*|(?:ft\.?|feet|foot)(?:[\s-]+|$))"
    r"(?:(?P<inches>[^'\"a-z]+?)\s*(?:\"|''|in\.?|inch|inches)?)?",
    re.IGNORECASE,
)
_WITH_UNIT = re.compile(r"(?P<number>[-+\d][\d\s,./]*?)\s*(?P<unit>[a-z\"'][a-z0-9 .\"']*)?", re.I)
_PITCH = re.compile(r"(?P<rise>.+?)\s*(?:/|:|\bin\b|\bon\b)\s*12", re.IGNORECASE)


def amount_of(text: str, unit: str, *, decimal: str = ".") -> Amount:
    """An amount in `unit`; a bare number is in it already, any other unit is converted exactly.

    A length may be feet and inches together. Raises ValueError in words for a person.
    """
    written = text.strip()
    feet = _FEET.fullmatch(written)
    if feet and len(written) <= LONGEST and convert(Fraction(1), "ft", unit) is not None:
        inches = fraction_of(feet["feet"]) * 12
        if feet["inches"]:
            inches += _inches_beside_feet(feet["inches"], text)
        return Amount(_converted(inches, "in", unit, text), unit)
    found = _WITH_UNIT.fullmatch(written)
    if found is None or len(written) > LONGEST:
        raise ValueError(f"{text[:LONGEST]!r} is not an amount")
    number = fraction_of(found["number"])
    if not found["unit"]:
        return Amount(number, unit)
    named = unit_named(found["unit"], (unit,))
    if named is None:
        raise ValueError(f"there is no unit {found['unit'].strip()!r}, in {text!r}")
    return Amount(_converted(number, named, unit, text), unit)


def pitch_of(text: str, *, decimal: str = ".") -> Amount:
    """The rise over 12 of a roof: "6", "6/12", "6 in 12", "4 1/2". Raises ValueError."""
    found = _PITCH.fullmatch(text.strip())
    rise = fraction_of(found["rise"] if found else text)
    if not found and 0 < rise < 1:
        raise ValueError(f"{text!r} may mean two things; write the rise like 6/12")
    if rise > 24:
        raise ValueError(f"{text!r} is steeper than 24 in 12; write the rise over 12")
    return Amount(rise)


def size_of(text: str) -> str:
    """A size as entries hold it: 1x8, 5 in, 1 1/2 in, 8d, #8, 29 ga; other words as they are."""
    size = " ".join(text.lower().replace("\u00d7", "x").split())
    size = re.sub(r"(?<=\d)\s*(?:x|by)\s*(?=\d)", "x", size)
    size = re.sub(r"(?<=\d)[\s-]*(?:\"|''|in\.|inch(?:es)?\b)", " in", size)
    size = re.sub(r"(?<=\d)\s*(?:d|penny)\b", "d", size)
    return re.sub(r"(?<=\d)\s*(?:ga\.|gauge\b)", " ga", size)


def openings_of(text: str, *, decimal: str = ".") -> tuple[Amount, Amount]:
    """The area (ft2) and the edge (ft) of openings such as "3 x 4; 2' 6\\" x 6' 8\\"", in feet.

    One that is given as an area alone ("12 ft2") adds nothing to the edge. Raises ValueError.
    """
    area = edge = Fraction(0)
    for part in filter(None, map(str.strip, text.split(";"))):
        sides = re.split(r"\s*(?:[x\u00d7]|\bby\b)\s*", part, flags=re.IGNORECASE)
        if len(sides) == 2:
            wide, high = (amount_of(side, "ft").quantity for side in sides)
            area, edge = area + wide * high, edge + 2 * (wide + high)
        elif len(sides) == 1:
            wide = high = amount_of(part, "ft2").quantity
            area += wide
        else:
            raise ValueError(f"{part!r} is no opening; write it like 3 x 4")
        if wide <= 0 or high <= 0:
            raise ValueError(f"the opening {part!r} has no size")
    return Amount(area, "ft2"), Amount(edge, "ft")


def _inches_beside_feet(text: str, whole: str) -> Fraction:
    inches = fraction_of(text)
    if not 0 <= inches < 12:
        raise ValueError(f"{whole!r} has {text.strip()} inches beside its feet")
    return inches


def _converted(number: Fraction, unit: str, into: str, text: str) -> Fraction:
    converted = convert(number, unit, into) if into else None
    if unit == "each" and into == "":
        return number
    if converted is None:
        raise ValueError(f"{text!r} is no amount in {into}" if into else f"{text!r} needs no unit")
    return converted
