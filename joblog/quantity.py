"""Exact lengths, areas, counts and money. No float here, ever.

A length is a `Fraction` of an inch. What one box or bundle of an item holds is the catalog's
business.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from decimal import Decimal, DefaultContext, getcontext
from fractions import Fraction
from functools import partial

from joblog.written import MOST as MOST
from joblog.written import decimal_sign as decimal_sign
from joblog.written import digits_written, length_written, number_written, plainly, refusal, shown
from joblog.written import either_way as either_way

# A book of earlier days may hold a price of any length; Decimal's usual 28 digits would round its
# sums without a word. The first holds for threads to come, the second for this one.
DefaultContext.prec = getcontext().prec = 500

MEASURES: Mapping[str, tuple[Fraction, str, int]] = {
    "in": (Fraction(1), "length", 1),
    "ft": (Fraction(12), "length", 1),
    "ft2": (Fraction(144), "length", 2),
    "lb": (Fraction(1), "mass", 1),
    "gal": (Fraction(231), "length", 3),
    "square": (Fraction(14_400), "length", 2),
    "each": (Fraction(1), "count", 1),
    "pair": (Fraction(2), "count", 1),
}
"""How many inches (square, cubic), pounds or pieces one is, of what, and to which power.

A gallon is 231 cubic inches (NIST Handbook 44, appendix C); a square is 100 square feet (common
practice). Every other unit is something that is counted, and turns into nothing else.
"""

_SPELLINGS = {
    "in": "in inch inches \"", "ft": "ft foot feet '", "ft2": "ft2 ft² sqft sf",
    "lb": "lb lbs pound pounds", "gal": "gal gallon gallons", "square": "square squares sq",
    "each": "each ea piece pieces pc pcs", "pair": "pair pairs pr", "sheet": "sheet sheets",
    "stick": "stick sticks", "box": "box boxes", "roll": "roll rolls",
    "bundle": "bundle bundles", "tube": "tube tubes", "bag": "bag bags",
    "bucket": "bucket buckets", "can": "can cans", "carton": "carton cartons",
    "case": "case cases", "coil": "coil coils", "crate": "crate crates", "pack": "pack packs",
    "pail": "pail pails", "pallet": "pallet pallets", "spool": "spool spools",
}  # fmt: skip
_SPELLED = {word: unit for unit, words in _SPELLINGS.items() for word in words.split()}

UNITS = tuple(_SPELLINGS)
"""Units that everybody knows; a catalog may define more to count by."""
SPOKEN_UNITS: dict[str, tuple[str, str]] = {
    "in": ("inch", "inches"),
    "ft": ("foot", "feet"),
    "ft2": ("square foot", "square feet"),
    "lb": ("pound", "pounds"),
    "gal": ("gallon", "gallons"),
    "box": ("box", "boxes"),
    "each": ("", ""),
}
"""How units are said, one and many, where it is not the unit itself and with an s."""


def spoken_unit(unit: str) -> tuple[str, str]:
    """One and many of a unit as a person says them; both empty for "each"."""
    return SPOKEN_UNITS.get(unit, (unit, unit + "s"))


def unit_named(text: str, defined: Collection[str] = ()) -> str | None:
    """Our name of a unit written by a person ("Sheets" -> "sheet"), None when we have none.

    `defined` are further counting units, such as those of a catalog.
    """
    word = " ".join(text.lower().split()).removesuffix(".")
    if word in ("square feet", "square foot", "sq ft", "sq. ft"):
        return "ft2"
    singular = (word, word.removesuffix("s"), word.removesuffix("es"))
    return _SPELLED.get(word) or next((unit for unit in singular if unit in defined), None)


def unit_defined(text: str) -> str | None:
    """The unit that somebody counts by, known to us or not ("Hods" -> "hod").

    None for what is no plain word, and for a measure that we cannot turn into ours.
    """
    word = text.strip().lower().rstrip(".")
    known = unit_named(word)
    if known or not _WORD.fullmatch(word):
        return known
    single = word if word.endswith("ss") else word.removesuffix("s")
    return None if {word, single} & _FOREIGN else single


def convert(quantity: Fraction, unit: str, into: str) -> Fraction | None:
    """`quantity` of `unit` expressed in `into`, exactly; None when the two do not mix."""
    if unit == into:
        return quantity
    if unit not in MEASURES or into not in MEASURES or MEASURES[unit][1:] != MEASURES[into][1:]:
        return None
    return quantity * MEASURES[unit][0] / MEASURES[into][0]


@dataclass(frozen=True, slots=True, eq=False)
class Quantity:
    """An exact number of a product of units, for arithmetic that cannot mix them.

    `number` is in inches, pounds and counts, to their powers; `units` are the units and powers as
    they were written, for a person. Adding and comparing raise TypeError where the dimensions
    differ.
    """

    number: Fraction
    units: tuple[tuple[str, int], ...] = ()

    @classmethod
    def of(cls, number: Fraction, unit: str) -> Quantity:
        """So many of a unit of ours or of a counting unit; "" for a bare number."""
        if not unit:
            return cls(number)
        times = MEASURES[unit][0] if unit in MEASURES else Fraction(1)
        return cls(number * times, (("ft", 2) if unit == "ft2" else (unit, 1),))

    @property
    def dimensions(self) -> dict[str, int]:
        """The power of "length", "mass", "count" and of each counting unit, where it is not 0."""
        powers: Counter[str] = Counter()
        for unit, power in self.units:
            _, dimension, times = MEASURES.get(unit, (1, unit, 1))
            powers[dimension] += times * power
        return {dimension: power for dimension, power in powers.items() if power}

    def __mul__(self, other: Quantity | Fraction | int) -> Quantity:
        if not isinstance(other, Quantity):
            return Quantity(self.number * other, self.units)
        return Quantity(self.number * other.number, _product(self.units, other.units, 1))

    def __truediv__(self, other: Quantity | Fraction | int) -> Quantity:
        if not isinstance(other, Quantity):
            return Quantity(self.number / other, self.units)
        return Quantity(self.number / other.number, _product(self.units, other.units, -1))

    __rmul__ = __mul__

    def __rtruediv__(self, other: Fraction | int) -> Quantity:
        return Quantity(Fraction(other)) / self

    def __add__(self, other: Quantity) -> Quantity:
        return Quantity(self.number + self._like(other), self.units)

    def __sub__(self, other: Quantity) -> Quantity:
        return Quantity(self.number - self._like(other), self.units)

    def __neg__(self) -> Quantity:
        return Quantity(-self.number, self.units)

    def __pos__(self) -> Quantity:
        return self

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Quantity) and self.number == self._like(other)

    def __lt__(self, other: Quantity) -> bool:
        return self.number < self._like(other)

    def __le__(self, other: Quantity) -> bool:
        return self.number <= self._like(other)

    def __gt__(self, other: Quantity) -> bool:
        return self.number > self._like(other)

    def __ge__(self, other: Quantity) -> bool:
        return self.number >= self._like(other)

    def __bool__(self) -> bool:
        return bool(self.number)

    __hash__ = None  # type: ignore[assignment]

    def _like(self, other: Quantity) -> Fraction:
        if self.dimensions != other.dimensions:
            raise TypeError("these units do not mix")
        return other.number


def _product(
    one: tuple[tuple[str, int], ...], other: tuple[tuple[str, int], ...], sign: int
) -> tuple[tuple[str, int], ...]:
    powers = dict(one)
    for unit, power in other:
        powers[unit] = powers.get(unit, 0) + sign * power
    return tuple((unit, power) for unit, power in powers.items() if power)


def fraction_of(text: str, *, decimal: str = ".") -> Fraction:
    """A number as people write it: "3", "0.625", "95/8", "11 7/8", "11⅞", "1,200".

    `decimal` is the sign that parts decimals, "." or ",". Raises ValueError with a plain line when
    it is not one, or one that nothing on a job amounts to.
    """
    return number_written(text, decimal=decimal)


def inches_of(text: str, *, decimal: str = ".") -> Fraction:
    """A length in inches from tape-measure text, exactly: 12' 4 1/2", 147-3/8, 14.625, 5 ft 3 in.

    A bare number is inches. Raises ValueError with a plain line when it is no length.
    """
    length, unit = length_written(text, decimal=decimal)
    if length < 0:
        raise ValueError(f"{shown(text)} is not a length: it is below zero")
    return length * 12 if unit == "ft" else length


def money_of(text: str, *, decimal: str = ".") -> Decimal:
    """An amount of money: "13.50", "$1,250". Raises ValueError when it is not one."""
    amount = _money_in(text, decimal)
    if amount is None:
        fits = partial(_money_in, decimal=decimal)
        raise ValueError(refusal(text, "an amount of money", decimal, fits))
    return amount


def _money_in(text: str, decimal: str) -> Decimal | None:
    found = _MONEY.fullmatch(plainly(text))
    digits = digits_written(found[1] + found[2], decimal=decimal) if found else None
    return Decimal(digits) if digits and _PURSE.fullmatch(digits) else None


def money(amount: Fraction) -> Decimal:
    """An exact amount rounded to the cent, halves to even, for showing and for the book."""
    cents = round(amount * 100)
    # Made of its digits: arithmetic would round to the 28 that Decimal's context has.
    return Decimal((int(cents < 0), tuple(map(int, str(abs(cents)))), -2))


def down_to(inches: Fraction, part: int) -> Fraction:
    """The longest length in parts of an inch, such as 16ths, that is not longer than this one."""
    return Fraction(inches * part // 1, part)


def tape(quantity: Fraction) -> str:
    """A number as a tape measure reads it: "11 7/8", "41", "-1/2". Always exact."""
    sign = "-" if quantity < 0 else ""
    whole, part = divmod(abs(quantity), 1)
    if not part:
        return f"{sign}{whole}"
    return f"{sign}{whole} {part}" if whole else f"{sign}{part}"


def about(quantity: Fraction, places: int = 4) -> str:
    """A number with so many decimals: "0.41", and "~3.4473" where there are more."""
    near = round(quantity, places)
    decimals = f"{Decimal(near.numerator) / near.denominator:f}"
    return decimals if near == quantity else f"~{decimals}"


def feet_and_inches(inches: Fraction) -> str:
    """A length as feet and inches: 12' 4 1/2\". Always exact."""
    sign = "-" if inches < 0 else ""
    feet, rest = divmod(abs(inches), 12)
    if not feet:
        return f'{sign}{tape(rest)}"'
    return f"{sign}{feet}' {tape(rest)}\"" if rest else f"{sign}{feet}'"


_MONEY = re.compile(r"(-?)(?:\$ ?)?([0-9.,].*)")
_PURSE = re.compile(r"-?[0-9]{0,12}(?:\.[0-9]{0,6})?")
"""Below a million million, in millionths at the finest."""
_WORD = re.compile(r"[a-z]{2,20}")
_FOREIGN = frozenset(
    "yard yd mile furlong meter metre mm cm km acre hectare ounce oz ton tonne gram kg kilo quart"
    " qt pint pt cup liter litre hour hr minute day".split()
)
"""Measures that are no counts; taken for one they would be compared with nothing, silently."""
