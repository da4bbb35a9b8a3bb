"""Amounts as people write them in a table: 41, 41 ft, 12' 4 1/2", 11 7/8 in, 6/12, 3 x 4."""

from __future__ import annotations

import re
from fractions import Fraction

from joblog.model import Amount
from joblog.quantity import convert, fraction_of, unit_named
from joblog.reason import check
from joblog.written import LONGEST, is_length, length_written, plainly, shown, spelled_out

_WITH_UNIT = re.compile(r"(?P<number>[^a-z\"']+?) ?(?P<unit>[a-z\"'].*)?", re.ASCII | re.IGNORECASE)
_MARKED = re.compile("['\"]")
"""Marks of feet and inches, and of nothing else."""
_PITCH = re.compile(r"(?P<rise>.+?)\"? ?(?:/|:|\bin\b|\bon\b) ?12\"?", re.IGNORECASE)


def amount_of(text: str, unit: str, *, decimal: str = ".") -> Amount:
    """An amount in `unit`; a bare number is in it already, any other unit is converted exactly.

    A length may be feet and inches together. Raises ValueError in words for a person.
    """
    of_length = convert(Fraction(1), "ft", unit) is not None
    if of_length and (is_length(text, decimal=decimal) or _MARKED.search(plainly(text))):
        length, written_in = length_written(text, decimal=decimal)
        return Amount(_converted(length, written_in or unit, unit, text), unit)
    found = _WITH_UNIT.fullmatch(plainly(text))
    if found is None or len(text) > LONGEST:
        raise ValueError(f"{shown(text)} is not an amount")
    number = fraction_of(found["number"], decimal=decimal)
    if not found["unit"]:
        return Amount(number, unit)
    named = unit_named(found["unit"], (unit,))
    if named is None:
        raise ValueError(f"there is no unit {found['unit'].strip()!r}, in {shown(text)}")
    return Amount(_converted(number, named, unit, text), unit)


def pitch_of(text: str, *, decimal: str = ".") -> Amount:
    """The rise over 12 of a roof: "6", "6/12", "6 in 12", "4 1/2". Raises ValueError."""
    found = _PITCH.fullmatch(plainly(text))
    written = found["rise"] if found else text
    rise = fraction_of(written, decimal=decimal)
    # A fraction alone may be a rise over something else.
    if not found and (0 < rise < 1 or _RATIO.fullmatch(plainly(text))):
        raise ValueError(f"{shown(text)} may mean two things; write the rise like 6/12")
    if rise < 0:
        raise ValueError(f"{shown(text)} is below zero; write the rise like 6/12")
    if rise > 24:
        raise ValueError(f"{shown(text)} is steeper than 24 in 12; write the rise over 12")
    return Amount(rise)


_RATIO = re.compile(r"[^ ]+ ?/.*")


def size_of(text: str) -> str:
    """A size as entries hold it: 1x8, 5 in, 1 1/2 in, 8d, #8, 29 ga; other words as they are."""
    size = " ".join(spelled_out(text).lower().replace("\u00d7", "x").split())
    size = re.sub(r"(?<=\d)\s*(?:x|by)\s*(?=\d)", "x", size)
    size = re.sub(r"(?<=\d)[\s-]*(?:\"|''|in\.|inch(?:es)?\b)", " in", size)
    size = re.sub(r"(?<=\d)\s*(?:d|penny)\b", "d", size)
    return re.sub(r"(?<=\d)\s*(?:ga\.|gauge\b)", " ga", size)


def openings_of(text: str, *, decimal: str = ".", sure: bool = False) -> tuple[Amount, Amount]:
    """The area (ft2) and the edge (ft) of openings such as "3 x 4; 2' 6\" x 6' 8\"", in feet.

    One that is given as an area alone ("12 ft2") adds nothing to the edge. Raises ValueError, and
    BeyondReason for a side that no opening has, unless a person is `sure`.
    """
    area = edge = Fraction(0)
    for part in filter(None, map(str.strip, text.split(";"))):
        sides = re.split(r"\s*(?:[x\u00d7]|\bby\b)\s*", part, flags=re.IGNORECASE)
        if len(sides) == 2:
            wide, high = _sides_of(sides, part, decimal)
            area, edge = area + wide * high, edge + 2 * (wide + high)
        elif len(sides) == 1:
            wide = high = amount_of(part, "ft2", decimal=decimal).quantity
            area += wide
        else:
            raise ValueError(f"{shown(part)} is no opening; write it like 3 x 4")
        if wide <= 0 or high <= 0:
            raise ValueError(f"the opening {shown(part)} has no size")
        for side in (wide, high) if len(sides) == 2 else ():
            check("side of an opening", side, "ft", sure=sure)
    return Amount(area, "ft2"), Amount(edge, "ft")


def _sides_of(sides: list[str], part: str, decimal: str) -> tuple[Fraction, Fraction]:
    """Both sides in feet. Raises ValueError for "36 x 48 in": the 36 may well be inches too."""
    wide, high = (amount_of(side, "ft", decimal=decimal).quantity for side in sides)
    if any(map(_in_inches, sides)) and any(map(_is_bare, sides)):
        raise ValueError(f"{shown(part)} says inches of one side alone; say the unit of both")
    return wide, high


def _is_bare(side: str) -> bool:
    return not re.search(r"[a-z\"']", plainly(side), re.IGNORECASE)


def _in_inches(side: str) -> bool:
    return bool(re.fullmatch(r"[^a-z\"']+(?:\"|''|in\b.*)", plainly(side), re.IGNORECASE))


def _converted(number: Fraction, unit: str, into: str, text: str) -> Fraction:
    converted = convert(number, unit, into) if into else None
    if unit == "each" and into == "":
        return number
    if converted is None:
        raise ValueError(f"{text!r} is no amount in {into}" if into else f"{text!r} needs no unit")
    return converted
