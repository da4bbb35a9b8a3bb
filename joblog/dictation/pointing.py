"""Which of the entries before it a correction means, and what stands after it. Pure."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from datetime import time
from fractions import Fraction

from joblog.dictation.items import Said
from joblog.form import ATTRIBUTES, describe
from joblog.model import STOCK_KINDS, Entry, Kind, Reading
from joblog.quantity import tape

LOOKED = 24
"""Entries that a correction can reach back over."""


@dataclass(frozen=True, slots=True)
class Clue:
    """What a correction tells of the entry that it means."""

    item: str | None = None
    place: str | None = None
    unit: str | None = None
    number: Fraction | None = None
    """The number that was wrong: "not four"."""
    clock: time | None = None
    """The time that was wrong."""
    kind: Kind | None = None
    said: Said | None = None
    """The size, profile or colour that was wrong."""


NO_CLUE = Clue()


@dataclass(frozen=True, slots=True)
class Aim:
    """The entry that is meant: how many stand behind it, and why it may be another one."""

    entry: Entry
    back: int
    why: str | None = None


def aimed(
    standing: Sequence[Entry], fits: Callable[[Entry], bool], clue: Clue | None = None
) -> Aim | None:
    """The entry among `standing`, oldest first, that fits and that the clue points at best.

    Of equals it is the last; with a doubt where that is not the very last one said and the words
    fit another as well, or where nothing is as the words say it was. None where none fits.
    """
    last = standing[-LOOKED:]
    found = [
        (_agrees(entry, clue or NO_CLUE), -back, entry)
        for back, entry in enumerate(reversed(last))
        if fits(entry)
    ]
    if not found:
        return None
    score, at, entry = max(found, key=lambda one: one[:2])
    rivals = [other for worth, where, other in found if worth == score and where != at]
    why = None
    if score < 0:
        why = f"nothing was said before as these words have it: {describe(entry)}?"
    elif score and at and rivals:
        why = f"which one: {describe(entry)}, or {describe(rivals[0])}?"
    return Aim(entry, -at, why)


def _agrees(entry: Entry, clue: Clue) -> int:
    """How much of what the words tell is so of this entry, less what is not."""
    if clue == NO_CLUE:
        return 0
    score = 0
    if clue.number is not None:
        score += 4 if clue.number in numbers_of(entry) else -3
    if clue.clock is not None:
        score += 4 if clue.clock == entry.time else -3
    if clue.item is not None:
        score += 3 if same_item(clue.item, entry.item) else -3
    if clue.place is not None:
        score += 3 if clue.place == entry.place else -3
    if clue.kind is not None:
        score += 3 if clue.kind == entry.kind else -3
    if clue.said is not None:
        score += 3 if _is_so(entry, clue.said) else -3
    if clue.unit is not None:
        # What is another item has another unit: that speaks not once more against it.
        other = clue.item is not None and not same_item(clue.item, entry.item)
        score += 1 if clue.unit == entry.unit else 0 if other else -2
    return score


def _is_so(entry: Entry, said: Said) -> bool:
    """Whether an entry's item is what was said of it."""
    told = [(name, getattr(said, name)) for name in ATTRIBUTES if getattr(said, name)]
    named = f" {entry.item} "
    return all(getattr(entry, name) == one or f" {one} " in named for name, one in told)


def numbers_of(entry: Entry) -> tuple[Fraction, ...]:
    """Every number that an entry holds, each as a person may say it again."""
    found = (
        entry.quantity, entry.inches, entry.hours, entry.minutes, entry.fahrenheit, entry.miles,
        entry.pieces, entry.workers, entry.unit_cost, entry.price, entry.pitch,
        None if entry.inches is None else entry.inches / 12,
        None if entry.minutes is None else entry.minutes / 60,
    )  # fmt: skip
    return tuple(Fraction(one) for one in found if one is not None)


def same_item(said: str, name: str | None) -> bool:
    """Whether a name is that of an item, or what all its variants are called."""
    return name is not None and (
        said == name or f" {name} ".startswith(f" {said} ") or f" {name} ".endswith(f" {said} ")
    )


def whole_kept(before: Entry, entry: Entry) -> tuple[Entry, str | None]:
    """A length said anew with the feet, or the whole inches, that were not said again, and why it
    is unsure: "nine foot two and a quarter", "make it two and three quarters"."""
    if before.inches is None or entry.inches is None or not entry.inches < before.inches:
        return entry, None
    if entry.inches < 1:
        whole = int(before.inches)
        parted = before.inches != whole
        why = (
            None if parted else f"{tape(entry.inches)} of an inch, or {whole} {tape(entry.inches)}?"
        )
        value = whole + entry.inches
        return replace(entry, inches=value, as_said=tape(value)), why
    if before.inches < _FEET or entry.inches >= 12:
        return entry, None
    if not _IN_FEET.search(before.as_said or "") or _IN_FEET.search(entry.as_said or ""):
        return entry, None
    feet = before.inches // 12
    value = 12 * feet + entry.inches
    same = int(value) == int(before.inches)
    why = None if same else f"{tape(entry.inches)} inches, or {feet} feet {tape(entry.inches)}?"
    return replace(entry, inches=value, as_said=f"{feet} feet {entry.as_said}"), why


_FEET = 24
_IN_FEET = re.compile(r"\b(?:foot|feet|ft)\b")


def repeatable(entry: Entry) -> bool:
    """Whether "same again" can mean it."""
    return entry.kind in STOCK_KINDS or entry.kind in ("measure", "labor", "break", "drive")


def numbered(entry: Entry) -> bool:
    """Whether "make it nine" can mean it."""
    if entry.kind in STOCK_KINDS:
        return True
    held = _NUMBER_OF.get(entry.kind)
    return held is not None and getattr(entry, held) is not None


_NUMBER_OF = {
    "measure": "inches", "labor": "hours", "break": "minutes", "weather": "fahrenheit",
    "drive": "miles", "expense": "price", "extra": "price",
}  # fmt: skip


def costs(entry: Entry) -> bool:
    """Whether it holds an amount of money that "no, fifteen ninety" can mean."""
    return entry.price is not None or entry.unit_cost is not None


def standing_after(
    before: Sequence[Entry], reading: Reading, most: int | None = None
) -> tuple[Entry, ...]:
    """What stands after a reading, oldest first: corrections are done, as the book does them.

    A doubtful one takes nothing away. At most so many, the last ones.
    """
    standing = list(before)
    doubted = {doubt.entry for doubt in reading.doubts}
    for number, entry in enumerate(reading.entries):
        if entry.kind != "correction":
            standing.append(entry)
        elif entry.back < len(standing):
            at = len(standing) - 1 - entry.back
            if entry.replacement is not None:
                standing[at] = entry.replacement
            elif entry.action == "drop" and number not in doubted:
                del standing[at]
    return tuple(standing if most is None else standing[-most:])
