"""Which sign parts the decimals in a table: found out by what its cells do, or asked about."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace

from joblog.model import Problem
from joblog.sheet.nouns import Question, Reading, Way
from joblog.written import decimal_sign, either_way


@dataclass(frozen=True, slots=True)
class Sign:
    decimal: str
    problem: Problem | None = None
    """What a person has to say first."""


def sign_in(
    file: str, cells: Iterable[tuple[int, str]], reading: Reading, *, by_commas: bool
) -> Sign:
    """The sign before the decimals of the numbers in `cells`, each with the number of its row.

    Where commas part the cells, decimals have a point unless a person says otherwise. Elsewhere the
    cells themselves tell; one that may be twelve hundred or one and a fifth is asked about.
    """
    if reading.decimal is not None:
        return Sign(reading.decimal)
    rows: dict[str, int] = {}
    for row, cell in cells:
        if "," in cell or "." in cell:
            rows.setdefault(cell, row)
    telling = list(rows)
    try:
        found = decimal_sign(telling)
    except ValueError as error:
        # Where the point is usual, the rows with a comma are refused one by one.
        problem = Problem(file, f"{error}, or say --decimal . or --decimal ,")
        return Sign(".", None if by_commas else problem)
    if by_commas:
        comma = next((one for one in telling if decimal_sign([one]) == ","), None)
        return Sign(".", None if comma is None else _comma_in(f"{file}, row {rows[comma]}", comma))
    either = either_way(telling)
    if either is not None and found is None:
        return Sign(".", _either(f"{file}, row {rows[either]}", either))
    return Sign(found or ".")


def _comma_in(where: str, number: str) -> Question:
    return Question(
        where,
        f"holds {number!r}; if that comma stands before decimals, say --decimal , and if commas"
        " part thousands, say --decimal .",
        (Way(f"Does the comma in {number} stand before decimals?", _with(",")),),
    )


def _either(where: str, cell: str) -> Question:
    written = re.search(r"[0-9]+[.,][0-9]{3}", cell)
    number = written[0] if written else cell
    sign, other = (",", ".") if "," in number else (".", ",")
    whole, _, rest = number.partition(sign)
    many, few = f"{whole}{rest}", f"{whole} and {rest} thousandths"
    return Question(
        where,
        f"holds {cell!r}, of which nobody can tell whether it is {many} or {few}; say --decimal"
        f" {other} for the first, --decimal {sign} for the second",
        (
            Way(f"Is {number} {many}?", _with(other)),
            Way(f"Is {number} {few}?", _with(sign)),
        ),
    )


def _with(decimal: str) -> Callable[[Reading], Reading]:
    return lambda reading: replace(reading, decimal=decimal)
