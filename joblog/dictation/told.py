"""The words that the facts of an entry are told in, field by field, to see which were mixed up."""

from __future__ import annotations

import re
from datetime import time
from decimal import Decimal
from fractions import Fraction

from joblog.dictation.numbers import spelled
from joblog.model import Entry


def told(entry: Entry) -> dict[str, tuple[str, ...]]:
    """By field, the words of its numbers and names: {"inches": ("eighteen", "five", "eighth")}.

    A measure is told as it was said ("12' 4" is twelve and four), where that is known.
    """
    words = {name: _words(getattr(entry, name)) for name in _FIELDS}
    if entry.as_said:
        words = {**words, "inches": _words(entry.as_said), "square_inches": (), "pitch": ()}
    return {name: said for name, said in words.items() if said}


def words_told(entry: Entry) -> frozenset[str]:
    """All of them together."""
    return frozenset(word for said in told(entry).values() for word in said)


_FIELDS = (
    "item", "quantity", "inches", "square_inches", "pitch", "pieces", "time", "minutes", "workers",
    "hours", "fahrenheit", "size", "length", "profile", "colour", "unit_cost", "price", "miles",
)  # fmt: skip


def _words(value: object) -> tuple[str, ...]:
    match value:
        case None:
            return ()
        case Fraction() | int():
            whole, part = divmod(Fraction(value), 1)
            text = f"{whole} {part}" if part else str(whole)
        case Decimal() | time():
            text = re.sub(r"[.:]", " ", str(value))
        case _:
            text = str(value)
    return tuple(word for token in _TOKEN.findall(text.lower()) for word in _said(token))


_TOKEN = re.compile(r"\d+/\d+|\d+|[a-z]+")


def _said(token: str) -> list[str]:
    over, _, under = token.partition("/")
    if not over.isdecimal() or len(over) > _MOST:
        return [token]
    part = [_PARTS.get(under, under)] if under else []
    return [*spelled(int(over)).split(), *part]


_MOST = 9
"""Figures; what is longer is no number that anybody measured or counted."""
_PARTS = {
    "2": "half", "3": "third", "4": "quarter", "8": "eighth", "10": "tenth", "16": "sixteenth",
}  # fmt: skip
