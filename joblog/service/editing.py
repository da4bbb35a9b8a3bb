"""One entry, field by field: what it holds, what may stand there, and how it would then read."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, time
from decimal import Decimal
from fractions import Fraction
from typing import Any, get_args
from zoneinfo import ZoneInfo

from joblog.book import editing, parting
from joblog.form import FIELDS, WORDS, on_a_tape, unit_shown
from joblog.local import clock_read, clock_written, day_read, day_written, money_read, money_written
from joblog.model import (
    STOCK,
    STOCK_KINDS,
    BookEntry,
    Dimension,
    Entry,
    Item,
    Kind,
    OpeningKind,
    Top,
    Turn,
)
from joblog.quantity import UNITS, about, convert, feet_and_inches, tape
from joblog.reconcile.units import in_unit_of
from joblog.service.desk import Desk
from joblog.service.errors import ServiceError, use_case
from joblog.service.moments import days_known
from joblog.service.record import local_day, read_entries


@dataclass(frozen=True, slots=True)
class Line:
    """One field of an entry."""

    field: str
    typed: str
    """What it holds, as a person types it; "" where it holds nothing."""


@dataclass(frozen=True, slots=True)
class Change:
    """What typing something into a field would make of an entry."""

    value: object
    """In the field's own type."""
    becomes: Entry
    settles: tuple[str, ...] = ()
    """Doubts of the book that are answered by it."""
    asks: tuple[str, ...] = ()
    """Doubts that it brings: an item that nobody knows."""
    looked_at: bool = True
    """False where the whole job doubts something of the entry that this does not answer."""


@use_case
def read_entry(desk: Desk, id: int) -> BookEntry:
    """An entry of the job with the doubts that the whole job casts on it.

    Raises `ServiceError` where the job has no such entry.
    """
    found = next((one for one in read_entries(desk) if one.id == id), None)
    if found is None:
        raise ServiceError(f"{desk.job.name}: there is no entry {id} in this job")
    return found


def day_of(desk: Desk, entry: BookEntry) -> date:
    """The day on which it was said, where the job is."""
    return local_day(entry.at, ZoneInfo(desk.job.zone))


def lines(entry: Entry) -> tuple[Line, ...]:
    """Every field that an entry of its kind can have, those that hold something first."""
    every = [Line(name, typed(entry, name)) for name in names(entry.kind)]
    return tuple(sorted(every, key=lambda line: not line.typed))


def names(kind: Kind) -> tuple[str, ...]:
    """The fields that a kind can have, as they are gone through."""
    own = (name for name in FIELDS[kind] if name not in _NOT_BY_ITSELF)
    return ("kind", *own, "place", "note", "day") if kind != "correction" else ("note",)


_NOT_BY_ITSELF = ("as_said", "action", "replacement", "back")


def typed(entry: Entry, field: str) -> str:
    """What a field holds, as a person would type it, exactly; "" where it holds nothing."""
    value = getattr(entry, field)
    if value is None:
        return ""
    if field in ("inches", "length", "width", "height", "at"):
        in_feet = field in ("length", "at") or value >= 48
        return feet_and_inches(value) if in_feet else tape(value)
    if field == "kind":
        return called(entry.kind)
    if field == "unit":
        return unit_shown(value, entry.item)
    return next(write(value) for kind, write in _WRITTEN if isinstance(value, kind))


def called(kind: str) -> str:
    """The name of a kind for a person: "installed", "hours"."""
    return WORDS.get(kind, kind)


def kinds() -> tuple[tuple[Kind, str], ...]:
    """The kinds of facts that can be typed in, each with its name for a person."""
    return tuple((kind, called(kind)) for kind in FIELDS if kind != "correction")


_KINDS = {name: kind for kind, name in kinds() for name in (kind, kind.replace("_", " "), name)}
"""By every name that a person may give them."""

_WRITTEN: tuple[tuple[type, Callable[[Any], str]], ...] = (
    (str, str),
    (int, str),
    (Fraction, lambda value: tape(value) if on_a_tape(value) or _endless(value) else about(value)),
    (Decimal, lambda value: money_written(value, bare=True)),
    (time, clock_written),
    (date, day_written),
)


def _endless(number: Fraction) -> bool:
    return about(number).startswith("~")


@use_case
def change_of(desk: Desk, entry: BookEntry, field: str, text: str | None) -> Change:
    """What typing that into a field would make of an entry. Raises `ServiceError`, in one line,
    for what the field cannot hold.

    `entry` comes with the doubts that the whole job casts on it.
    """
    text = " ".join((text or "").split())
    try:
        value = _read(desk, entry, field, text)
        becomes = editing.edited(entry.entry, field, value, _own_units(desk))
    except ValueError as error:
        raise ServiceError(str(error)) from None
    if field == "unit":
        _can_be_counted(desk, becomes)
    if field == "item" and value is None and entry.entry.kind in _COUNTED:
        raise ServiceError("without its item it counts nowhere; drop it instead")
    kept = desk.book.entry(entry.id).doubts if entry.id else ()
    settled = tuple(why for why in kept if field in asked_of(entry.entry, why))
    left = [why for why in entry.doubts if field not in asked_of(entry.entry, why)]
    asks = not_known(desk, becomes) if field == "item" else ()
    return Change(
        value,
        becomes,
        tuple(why for why in settled if why not in asks),
        asks,
        all(why in kept for why in left),
    )


def can_count(entry: Entry) -> bool:
    """Whether it says enough to be counted: stock without an item or an amount does not."""
    return entry.kind not in _COUNTED or None not in (entry.item, entry.quantity)


_COUNTED = ("used", "spoiled", "delivered", "returned", "on_hand", "moved")
"""Kinds that a balance is made of."""


def _read(desk: Desk, entry: BookEntry, field: str, text: str) -> object:
    """The value in the field's type where the country or the job says how it is written."""
    if not text:
        return None
    if field == "kind":
        return _KINDS.get(text.casefold(), text)
    if field == "day":
        return day_read(text, day_of(desk, entry))
    if field == "time":
        return clock_read(text, entry.entry.time)
    if field in ("price", "unit_cost"):
        return money_read(text)
    if field == "unit":
        return _unit_called(desk, entry.entry.item).get(text.casefold(), text)
    if field in ("from_job", "to_job"):
        return _end_called(desk, text)
    if field == "item":
        known = _called_so(desk, text)
        return known.name if known else text
    return text


def _end_called(desk: Desk, text: str) -> str:
    """The other job of the book that is called so, or stock."""
    from joblog.dictation import jobs_called

    if text.casefold() in (STOCK, "shop", "the shop"):
        return STOCK
    found = jobs_called(text, desk.vocabulary.jobs)
    if len(found) != 1:
        known = ", ".join((*desk.vocabulary.jobs[:_FEW_JOBS], STOCK))
        raise ServiceError(f"{text}: no other job is called so; it can be {known}")
    return found[0]


_FEW_JOBS = 6


def _unit_called(desk: Desk, item: str | None) -> dict[str, str]:
    """The units of an item by what a crew calls them: a panel is a sheet of soffit panel."""
    return {
        unit_shown(unit, item, many=many).casefold(): unit
        for unit in reversed(units(desk, item))
        for many in (False, True)
    }


def _own_units(desk: Desk) -> frozenset[str]:
    return frozenset(
        unit for item in desk.vocabulary.items for unit in (item.unit, *_further(item)) if unit
    )


def _further(item: Item) -> tuple[str, ...]:
    return tuple(filter(None, (item.pack_name, *(unit for unit, _ in item.also))))


def _called_so(desk: Desk, name: str | None) -> Item | None:
    """The item of that name, else the only one that is said so."""
    wanted = (name or "").casefold()
    by_name = next((one for one in desk.vocabulary.items if one.name.casefold() == wanted), None)
    said = [
        one for one in desk.vocabulary.items if wanted in (word.casefold() for word in one.spoken)
    ]
    return by_name or (said[0] if len(said) == 1 else None)


def _can_be_counted(desk: Desk, entry: Entry) -> None:
    item = _called_so(desk, entry.item)
    if item is None or entry.unit is None or entry.kind not in STOCK_KINDS:
        return
    if in_unit_of(item, Fraction(1), entry.unit) is None and entry.unit != item.pack_name:
        can = ", ".join(unit_shown(unit, item.name, many=True) for unit in _units_of(item))
        raise ServiceError(f"{item.name} cannot be counted in {entry.unit}; it can in {can}")


def in_its_own_unit(desk: Desk, entry: Entry) -> Entry:
    """So many of an item without a unit are so many of what the catalog counts it in."""
    item = _called_so(desk, entry.item)
    if item is None or entry.quantity is None or entry.unit is not None:
        return entry
    return replace(entry, unit=item.unit)


def not_known(desk: Desk, entry: Entry) -> tuple[str, ...]:
    """The doubt about an item that no line of plan or catalog is called by; none of others."""
    families = {one.variant_of for one in desk.vocabulary.items}
    known = _called_so(desk, entry.item) is not None or entry.item in families
    if entry.item is None or known or entry.kind not in (*STOCK_KINDS, "price"):
        return ()
    from joblog.dictation.items import not_in_catalog

    return (not_in_catalog(entry.item, entry.unit),)


# --- what doubts are about --------------------------------------------------------------------


def asked_of(entry: Entry, why: str) -> tuple[str, ...]:
    """The fields of an entry that a doubt asks about; none where it names none for sure."""
    from joblog.dictation import fields_doubted

    found = fields_doubted(entry, why)
    found = found or next((fields for part, fields in _ASKED if part in why), ())
    return _amount(entry) if found == _AMOUNT else found


def fields_in_doubt(kept: BookEntry) -> tuple[str, ...]:
    """The fields of an entry that its doubts ask about, the most telling doubt first."""
    from joblog.asking.doubts import told_apart

    asked = (name for doubt in told_apart(kept.doubts) for name in asked_of(kept.entry, doubt.why))
    return tuple(name for name in dict.fromkeys(asked) if name in names(kept.entry.kind))


def _amount(entry: Entry) -> tuple[str, ...]:
    """The field of the one amount that an entry tells, or should; none where it tells several."""
    if entry.kind in _OF_TWO:
        return _OF_TWO[entry.kind]
    possible = tuple(name for name in _AMOUNTS if name in FIELDS[entry.kind])
    told = tuple(name for name in possible if getattr(entry, name) is not None)
    return (told or possible[:1]) if len(told) < 2 else ()


_OF_TWO: dict[Kind, tuple[str, ...]] = {
    "wall_opening": ("width", "height"),
    "interruption": ("at", "length"),
}
"""Kinds whose measure is two, and both are asked about."""
_AMOUNT = ("amount",)
_AMOUNTS = (
    "quantity", "inches", "square_inches", "pitch", "hours", "minutes", "fahrenheit", "miles",
    "price",
)  # fmt: skip


def settled_by_splitting(desk: Desk, id: int) -> tuple[str, ...]:
    """The doubts of an entry that a person has answered who said how its amount is shared."""
    kept = desk.book.entry(id)
    amounts = parting.adds_up(kept.entry)[:1]
    return tuple(why for why in kept.doubts if {*amounts} & {*asked_of(kept.entry, why)})


_ASKED: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("is not in the catalog", ("item",)),
    ("of what? No item was said", ("item",)),
    ("left over? It was not said", ("kind",)),
    ("is no task of this job", ("task",)),
    ("which job is ", ("from_job", "to_job")),
    ("is counted by the ", ("unit",)),
    ("only roughly: ", _AMOUNT),
    ("is how many?", _AMOUNT),
    ("a couple: exactly two?", _AMOUNT),
    ("a number alone: inches, feet or a count?", _AMOUNT),
    ("inches, or feet?", _AMOUNT),
    ("how long was the break?", ("minutes",)),
    ("when? No time was said", ("time",)),
    ("not yet that late", ("time",)),
    ("that early?", ("time",)),
    (" besides you, or ", ("workers",)),
    ("how many are at work from then on?", ("workers",)),
    ("is that the pay?", ("who",)),
    ("helper's pay, or everybody's?", ("who",)),
    ("whose pay is that?", ("workers",)),
    ("how many days ago?", ("day",)),
    ("on which of these days?", ("day",)),
    ("that warm or cold?", ("fahrenheit",)),
    ("two temperatures: which one holds?", ("fahrenheit",)),
    ("two prices: which one holds?", ("price", "unit_cost")),
    ("is far from the planned", ("unit_cost",)),
    ("far from the others on", ("inches",)),
    ("would be gone, and only", ("quantity",)),
    ("is below zero", ("quantity",)),
    (" left, and only ", ("quantity",)),
    (" left, where ", ("quantity",)),
    ("man-hours would be ", ("hours", "workers")),
    ("the break is as long as", ("minutes",)),
    ("a break at ", ("time",)),
    ("stops at ", ("time",)),
    ("a start at ", ("time",)),
)
"""Of the doubts that say of themselves what they are about, a part of each, and the fields."""


# --- what may stand there ---------------------------------------------------------------------


@use_case
def offered(desk: Desk, entry: Entry, field: str) -> tuple[str, ...]:
    """What the job knows that may stand in a field, as it would be typed, likeliest first."""
    if field == "kind":
        return tuple(name for _, name in kinds())
    if field in _CHOICES:
        return _CHOICES[field]
    if field == "day":
        return days_known(desk)
    known = _KNOWN.get(field)
    heard = [typed(one, field) for one in _told(desk, field)]
    names = tuple(known(desk, entry)) if known else ()
    if field in ("item", "place", "task"):
        usual = {name: rank for rank, name in enumerate(heard)}
        fitting = _counted_so(desk, entry) if field == "item" else {*names}
        names = tuple(
            sorted(names, key=lambda one: (one not in fitting, usual.get(one, len(usual))))
        )
    return tuple(dict.fromkeys([*names, *heard]))


_CHOICES: dict[str, tuple[str, ...]] = {
    "dimension": get_args(Dimension),
    "top": get_args(Top),
    "corner": get_args(Turn),
    "opening": get_args(OpeningKind),
}
NAMES = (
    "kind", "item", "unit", "place", "task", "dimension", "top", "corner", "opening", "from_job",
    "to_job",
)  # fmt: skip
"""Fields that hold one of a few names, so that a part of it is enough."""


def _counted_so(desk: Desk, entry: Entry) -> set[str]:
    """The items that are counted as an entry counts what it tells of; all, where it does not."""
    return {
        one.name
        for one in desk.vocabulary.items
        if entry.unit is None or in_unit_of(one, Fraction(1), entry.unit) is not None
    }


def _told(desk: Desk, field: str) -> list[Entry]:
    """One entry of the job for each value that the field has anywhere, the most usual one first."""
    if field not in _AS_SAID:
        return []
    entries = [one.entry for one in desk.book.entries(desk.job.name) if one.standing != "dropped"]
    counted = Counter(value for one in entries if (value := getattr(one, field)) is not None)
    return [Entry("note", **{field: value}) for value, _ in counted.most_common(50)]


_AS_SAID = ("item", "place", "task", "who", "reason", "size", "profile", "colour", "length")
"""Fields in which what was told once is told again."""


def units(desk: Desk, item: str | None) -> tuple[str, ...]:
    """The units that an item can be counted in, its own first; every one, of an unknown item."""
    found = _called_so(desk, item)
    return UNITS if found is None else _units_of(found)


def _units_of(item: Item) -> tuple[str, ...]:
    turned = (unit for unit in UNITS if convert(Fraction(1), unit, item.unit) is not None)
    lengths = ("ft",) if item.unit == "stick" and item.stock_length else ()
    covers = (item.covers.unit,) if item.covers else ()
    every = (item.unit, *(unit for unit, _ in item.also), *turned, *lengths, *covers)
    return tuple(dict.fromkeys(every))


def _alike(desk: Desk, entry: Entry) -> list[Item]:
    """The item's line and the other variants of what it is a variant of."""
    item = _called_so(desk, entry.item)
    family = item.variant_of if item else entry.item
    return [
        one for one in desk.vocabulary.items if one == item or (family and one.variant_of == family)
    ]


def _of_variants(field: str) -> Callable[[Desk, Entry], Iterable[str]]:
    return lambda desk, entry: filter(None, (getattr(one, field) for one in _alike(desk, entry)))


def _lengths(desk: Desk, entry: Entry) -> Iterator[str]:
    for one in _alike(desk, entry):
        yield from map(feet_and_inches, filter(None, (one.stock_length, *one.other_lengths)))


_KNOWN: dict[str, Callable[[Desk, Entry], Iterable[str]]] = {
    "item": lambda desk, entry: (one.name for one in desk.vocabulary.items),
    "unit": lambda desk, entry: (unit_shown(unit, entry.item) for unit in units(desk, entry.item)),
    "place": lambda desk, entry: desk.vocabulary.places,
    **dict.fromkeys(("from_job", "to_job"), lambda desk, entry: (*desk.vocabulary.jobs, STOCK)),
    "task": lambda desk, entry: (one.name for one in desk.vocabulary.tasks),
    "size": _of_variants("size"),
    "profile": _of_variants("profile"),
    "colour": _of_variants("colour"),
    "length": _lengths,
}


def narrowed(choices: Sequence[str], text: str, most: int = 6) -> tuple[str, ...]:
    """Those that go on as what was typed, then those with words that do, then those whose words
    begin so one after the other ("ss", "stst": starter strip); all for nothing typed."""
    words = text.casefold().split()
    fits: tuple[Callable[[str], bool], ...] = (
        lambda one: one.startswith(" ".join(words)),
        lambda one: all(_begins(one.split(), word) for word in words),
        lambda one: len(words) == 1 and _initials(one.split(), words[0][:_MOST_INITIALS]),
    )
    found = (one for fit in fits for one in choices if fit(one.casefold()))
    return tuple(dict.fromkeys(found))[:most]


def _begins(words: Iterable[str], part: str) -> bool:
    return any(word.startswith(part) for word in words)


def _initials(words: Sequence[str], letters: str) -> bool:
    """Whether the letters are beginnings of some of the words, in their order."""
    return not letters or any(
        word.startswith(letters[:many]) and _initials(words[at + 1 :], letters[many:])
        for at, word in enumerate(words)
        for many in range(1, len(letters) + 1)
    )


_MOST_INITIALS = 8
