"""Which of an entry's four fields is unsure, and what else it may be: number, item, place, kind."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import get_args

from joblog.dictation.weigh import Meaning
from joblog.form import amount, named, units_of
from joblog.model import Entry, FieldName, Rival
from joblog.quantity import feet_and_inches, tape

FIELDS: tuple[FieldName, ...] = get_args(FieldName)
COMPETES = 0.02
"""Probability from which something else is worth a word."""
MOST_VALUES = 3
"""More than that nobody keeps in mind."""


def rivals(
    at: int, chosen: Meaning, meanings: Sequence[Meaning], likely: Sequence[float]
) -> tuple[Rival, ...]:
    """What else each field of an entry may be, by the probability of all that say so.

    Only of what says otherwise the same number of things: what adds or leaves out an entry differs
    in more than a field.
    """
    found: list[Rival] = []
    entry = chosen.reading.entries[at]
    for name in FIELDS:
        own = _value(entry, name)
        by_value: dict[object, float] = {own: 0.0}
        example: dict[object, Entry] = {own: entry}
        for meaning, share in zip(meanings, likely, strict=True):
            other = in_place(at, chosen, meaning)
            if other is not None:
                value = _value(other, name)
                by_value[value] = by_value.get(value, 0.0) + share
                example.setdefault(value, other)
        others = sorted((value for value in by_value if value != own), key=lambda v: -by_value[v])
        others = [value for value in others if by_value[value] >= COMPETES][: MOST_VALUES - 1]
        if others:
            words = [(_in_words(example[value], name), by_value[value]) for value in (own, *others)]
            found.append(Rival(at, name, tuple((said, round(p, 4)) for said, p in words)))
    return tuple(found)


def agreement(
    at: int, chosen: Meaning, meanings: Sequence[Meaning], likely: Sequence[float]
) -> dict[FieldName, float]:
    """By field, the probability of all that agrees with the entry on it, 0 to 1."""
    entry = chosen.reading.entries[at]
    return {
        name: min(
            1.0,
            sum(
                share
                for meaning, share in zip(meanings, likely, strict=True)
                if _agrees(entry, name, in_place(at, chosen, meaning), meaning)
            ),
        )
        for name in FIELDS
    }


def in_place(at: int, chosen: Meaning, meaning: Meaning) -> Entry | None:
    """The entry that stands in another meaning where this one does, if it has as many."""
    same = len(meaning.reading.entries) == len(chosen.reading.entries)
    return meaning.reading.entries[at] if same else None


def _agrees(entry: Entry, name: FieldName, other: Entry | None, meaning: Meaning) -> bool:
    among = meaning.reading.entries if other is None else (other,)
    return any(_value(one, name) == _value(entry, name) for one in among)


_NAMES: dict[FieldName, tuple[str, ...]] = {
    "number": (
        "quantity", "unit", "inches", "square_inches", "pitch", "pieces", "time", "minutes",
        "workers", "hours", "fahrenheit", "length", "size", "unit_cost", "price", "miles",
    ),
    "item": ("item", "profile", "colour", "task", "dimension"),
    "place": ("place",),
    "kind": ("kind", "action", "back", "day", "who"),
}  # fmt: skip


def _value(entry: Entry, name: FieldName) -> object:
    """Of a correction, what its new entry says; of mere words only that they are."""
    inner = entry.replacement
    own = tuple(getattr(entry, one) for one in _NAMES[name])
    return (own, _value(inner, name)) if inner else own


def _in_words(entry: Entry, name: FieldName) -> str:
    entry = entry.replacement or entry
    if name == "number":
        return ", ".join(_numbers(entry)) or "no number"
    if name == "item":
        return " ".join(filter(None, (named(entry), entry.task, entry.dimension))) or "no item"
    if name == "place":
        return entry.place or "no place"
    return entry.kind.replace("_", " ")


def _numbers(entry: Entry) -> Iterator[str]:
    if entry.quantity is not None:
        yield units_of(entry.quantity, entry.unit if entry.unit != "each" else "")
    if entry.inches is not None:
        yield _length(entry.inches)
    if entry.square_inches is not None:
        yield f"{tape(entry.square_inches / 144)} sq ft"
    if entry.pitch is not None:
        yield f"{tape(entry.pitch)} in 12"
    if entry.time is not None:
        yield entry.time.strftime("%H:%M")
    for value, unit in (
        (entry.pieces, "pieces"), (entry.minutes, "minutes"), (entry.workers, "people"),
        (entry.hours, "hours"), (entry.fahrenheit, "F"), (entry.miles, "miles"),
    ):  # fmt: skip
        if value is not None:
            yield f"{amount(Fraction(value))} {unit}"
    for money in (entry.unit_cost, entry.price):
        if money is not None:
            yield str(money)
    if entry.length is not None:
        yield f"{feet_and_inches(entry.length)} long"
    if entry.size:
        yield entry.size


def _length(inches: Fraction) -> str:
    return feet_and_inches(inches) if inches >= 48 else f"{tape(inches)} in"
