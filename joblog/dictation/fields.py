"""Which of an entry's four fields is unsure, and what else it may be: number, item, place, kind."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any, get_args

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
        own = in_words(entry, name)
        share_of = {own: 0.0}
        for meaning, share in zip(meanings, likely, strict=True):
            other = in_place(at, chosen, meaning)
            if other is not None:
                said = in_words(other, name)
                share_of[said] = share_of.get(said, 0.0) + share
        others = sorted((said for said in share_of if said != own), key=lambda one: -share_of[one])
        others = [said for said in others if share_of[said] >= COMPETES][: MOST_VALUES - 1]
        if others:
            values = tuple((said, round(share_of[said], 4)) for said in (own, *others))
            found.append(Rival(at, name, values))
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


def fields_asked(entry: Entry, name: FieldName, values: Sequence[str]) -> tuple[str, ...]:
    """The fields of an entry that a question is about which names these values for one of the four
    words, as `rivals` gives them: of several numbers those that differ."""
    if name != "number":
        return {"item": ("item", "task"), "place": ("place",), "kind": ("kind",)}[name]
    every = [frozenset(said.split(", ")) for said in values]
    common = frozenset.intersection(*every)
    differing = frozenset().union(*every) - common
    found = []
    for field in _NAMES["number"]:
        if field == "unit" or (value := getattr(entry, field)) is None:
            continue
        alone = Entry(entry.kind, item=entry.item, unit=entry.unit, **{field: value})
        if differing.intersection(_numbers(alone)):
            found.append(field)
    if found == ["quantity"] and len({said.rpartition(" ")[0] for said in differing}) == 1:
        return ("unit",)
    return tuple(found)


LANGUAGE_WORTH, TRADE_WORTH = 0.35, 0.3
"""How much a nat of the language's and of the trade recognizer's counts beside one of the general
recognizer's: as in its search, and as little as it is less often right."""
TOO_CLOSE = 2.0
"""Nats by which a number must lead every other that sounds like it. Machine voices that nothing was
trained on are asked about 2 in 100 more for it, and at 10 dB a third less is wrong unasked."""


def number_beside(at: int, chosen: Meaning, meanings: Sequence[Meaning]) -> Meaning | None:
    """What says the same of an entry but for its number and sounds so much alike that nobody should
    choose: "sixty and five", "sixteen and five". None where nothing does, or no line was scored."""
    entry = chosen.reading.entries[at]
    near = [
        (_lead(chosen, meaning), number)
        for number, meaning in enumerate(meanings)
        if (other := in_place(at, chosen, meaning)) is not None
        and other.kind == entry.kind
        and _value(other, "number") != _value(entry, "number")
    ]
    lead, number = min(near, default=(TOO_CLOSE, 0))
    return meanings[number] if lead < TOO_CLOSE else None


def number_said(at: int, meaning: Meaning) -> str:
    """The number of an entry, as it is asked about."""
    return in_words(meaning.reading.entries[at], "number")


def _lead(chosen: Meaning, other: Meaning) -> float:
    """Nats by which it sounds, and is, likelier than the other; infinite where nobody can tell."""
    own, their = chosen.scores, other.scores
    if own is None or their is None or own.general is None or their.general is None:
        return math.inf
    lead = own.general - their.general
    if own.language is not None and their.language is not None:
        lead += LANGUAGE_WORTH * (own.language - their.language)
    if own.trade is not None and their.trade is not None:
        lead += TRADE_WORTH * (own.trade - their.trade)
    return lead


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
        "width", "height", "at",
    ),
    "item": ("item", "profile", "colour", "task", "dimension", "top", "corner", "opening"),
    "place": ("place",),
    "kind": ("kind", "action", "back", "day", "who"),
}  # fmt: skip


def _value(entry: Entry, name: FieldName) -> object:
    """Of a correction, what its new entry says; of mere words only that they are."""
    inner = entry.replacement
    own = tuple(getattr(entry, one) for one in _NAMES[name])
    return (own, _value(inner, name)) if inner else own


def with_field(entry: Entry, name: FieldName, other: Entry) -> Entry:
    """The entry with that one field as another of its kind has it."""
    names = (*_NAMES[name], "as_said") if name == "number" else _NAMES[name]
    told: dict[str, Any] = {one: getattr(other, one) for one in names}
    carried = tuple(one for one in entry.carried if one not in names)
    return replace(entry, **told, carried=carried)


def in_words(entry: Entry, name: FieldName) -> str:
    """A field of an entry for a person; of a correction that of what it puts there."""
    entry = entry.replacement or entry
    if name == "number":
        return ", ".join(_numbers(entry)) or "no number"
    if name == "item":
        return _what(entry) or "no item"
    if name == "place":
        return entry.place or "no place"
    return entry.kind.replace("_", " ")


def _what(entry: Entry) -> str:
    told = (
        named(entry), entry.task, entry.dimension, entry.top, entry.corner, entry.opening,
    )  # fmt: skip
    return " ".join(filter(None, told))


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
    for value, name in ((entry.width, "wide"), (entry.height, "high"), (entry.at, "along")):
        if value is not None:
            yield f"{_length(value)} {name}"
    if entry.size:
        yield entry.size


def _length(inches: Fraction) -> str:
    return feet_and_inches(inches) if inches >= 48 else f"{tape(inches)} in"
