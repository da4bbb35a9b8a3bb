"""What stands in a cell, before anybody knows what column it is of."""

from __future__ import annotations

import re
from dataclasses import dataclass


class Exact(str):
    """A number that a workbook holds as such, written with a decimal point."""

    __slots__ = ()


class Day(str):
    """A day that a workbook holds as such, as ISO writes it."""

    __slots__ = ()


class Wrong(str):
    """A cell that cannot be read; the text says why."""

    __slots__ = ()


@dataclass(frozen=True, slots=True)
class Grid:
    """The cells of a table as they stand in its file."""

    rows: tuple[tuple[str, ...], ...]
    """Empty ones too, so that a row's number is its place here, from 1."""
    found: tuple[str, ...] = ()
    parted_by_commas: bool = False


def text_in(cell: str) -> str:
    """The text of a cell that was written as text, or what is wrong with it."""
    shown = without_unseen(cell).strip()
    if shown.startswith("="):
        return Wrong(f"{shown[:20]!r} is a formula without its result")
    if shown.upper() in _ERRORS:
        return Wrong(f"{shown} is an error of the spreadsheet")
    # A spreadsheet shows no formula behind an apostrophe, so that is how such a cell is written.
    return shown[1:] if _GUARDED.match(shown) else shown


def without_unseen(text: str) -> str:
    """The text without what programs leave in it when it is copied or joined, which nobody sees and
    which makes two names of one."""
    return text.translate(_UNSEEN)


_UNSEEN = dict.fromkeys(map(ord, "\u200b\u2060\ufeff\u200e\u200f\u00ad"))
_GUARDED = re.compile(r"'[=+\-@]")
_ERRORS = frozenset(
    "#REF! #N/A #VALUE! #DIV/0! #NAME? #NUM! #NULL! #SPILL! #CALC! #FIELD! #GETTING_DATA".split()
)
