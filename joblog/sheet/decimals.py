"""Which sign parts the decimals in a table: found out by what its cells do, or asked about."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace

from joblog.model import Problem
from joblog.quantity import decimal_sign
from joblog.sheet.nouns import Question, Reading, Way


@dataclass(frozen=True, slots=True)
class Sign:
    decimal: str
    problem: Problem | None = None
    """What a person has to say first."""


def sign_in(file: str, cells: Iterable[str], reading: Reading, *, by_commas: bool) -> Sign:
    """The sign before the decimals of the numbers in `cells`.

    Where commas part the cells, decimals have a point unless a person says otherwise. Elsewhere the
    cells themselves tell; one that may be twelve hundred or one and a fifth is asked about.
    """
    if reading.decimal is not None:
        return Sign(reading.decimal)
    numbers = list(_numbers(cells))
    either = [number for number in numbers if _EITHER.fullmatch(number)]
    sure = [number for number in numbers if not _EITHER.fullmatch(number)]
    try:
        found = decimal_sign(sure)
    except ValueError as error:
        # Where the point is usual, the rows with a comma are refused one by one.
        problem = Problem(file, f"{error}; say which with --decimal . or --decimal ,")
        return Sign(".", None if by_commas else problem)
    if by_commas:
        comma = next((one for one in sure if "," in one), "") if found == "," else ""
        return Sign(".", _comma_in(file, comma) if comma else None)
    if either and found != ".":
        return Sign(".", _either(file, either[0]))
    return Sign(found or ".")


def _numbers(cells: Iterable[str]) -> Iterator[str]:
    for cell in cells:
        if "," in cell or "." in cell:
            yield from _NUMBER.findall(cell)


_NUMBER = re.compile(r"\d[\d.,]*\d|[.,]\d+")
_EITHER = re.compile(r"[1-9]\d{0,2}[.,]\d{3}")


def _comma_in(file: str, number: str) -> Question:
    return Question(
        file,
        f"holds {number!r}; if that comma stands before decimals, say --decimal , and if commas"
        " part thousands, say --decimal .",
        (Way(f"Does the comma in {number} stand before decimals?", _with(",")),),
    )


def _either(file: str, number: str) -> Question:
    sign = "," if "," in number else "."
    other = "." if sign == "," else ","
    whole, _, rest = number.partition(sign)
    return Question(
        file,
        f"holds {number!r}, which may be {whole}{rest} or {whole} and {rest} thousandths; say"
        f" --decimal {other} for the first, --decimal {sign} for the second",
        (
            Way(f"Is {number} as much as {whole}{rest}?", _with(other)),
            Way(f"Is {number} a little more than {whole}?", _with(sign)),
        ),
    )


def _with(decimal: str) -> Callable[[Reading], Reading]:
    return lambda reading: replace(reading, decimal=decimal)
