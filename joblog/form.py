"""The JSON form of every noun, and one plain line for a person.

Numbers that must be exact are strings: "95/8", "41", "13.50". Moments are ISO 8601.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import MISSING, Field, fields, is_dataclass
from datetime import date, datetime, time
from decimal import Decimal, InvalidOperation
from fractions import Fraction
from functools import cache, lru_cache
from types import NoneType, UnionType
from typing import Any, Literal, TypeVar, Union, cast, get_args, get_origin, get_type_hints

from joblog.local import clock_written, day_written, money_written
from joblog.model import (
    BidItem,
    DayHours,
    Entry,
    Kind,
    LaborVariance,
    MoneyVariance,
    OtherReading,
    Part,
    PastUse,
    PastWork,
    QuantityVariance,
    Reading,
    StockLine,
    TaskLine,
)
from joblog.quantity import about, feet_and_inches, inches_of, tape

Json = Any
Noun = TypeVar("Noun")

ATTRIBUTES = ("size", "length", "profile", "colour")
"""What tells one item from another of its name."""
_STOCK = ("item", "quantity", "unit", *ATTRIBUTES)
FIELDS: dict[Kind, tuple[str, ...]] = {
    "measure": (
        "item", "inches", "square_inches", "pitch", "as_said", "pieces", "dimension", "top",
        "width", "height", *ATTRIBUTES,
    ),
    "used": _STOCK,
    "spoiled": (*_STOCK, "reason"),
    "delivered": (*_STOCK, "unit_cost", "who"),
    "returned": (*_STOCK, "who"),
    "on_hand": _STOCK,
    "moved": (*_STOCK, "from_job", "to_job"),
    "needed": _STOCK,
    "start": ("time", "minutes", "workers"),
    "stop": ("time", "minutes", "workers"),
    "break": ("time", "minutes", "workers"),
    "labor": ("hours", "workers", "task", "quantity", "unit", "unit_cost", "who"),
    "weather": ("fahrenheit",),
    "covered": (),
    "problem": (),
    "note": (),
    "photo": (),
    "todo": (*_STOCK, "who"),
    "extra": ("price", "hours", "who"),
    "price": ("item", "unit", "unit_cost", *ATTRIBUTES, "who"),
    "expense": ("price", "who"),
    "drive": ("miles", "minutes"),
    "inspection": ("time", "who"),
    "visit": ("time", "who"),
    "corner": ("corner",),
    "wall_opening": ("opening", "width", "height", "pieces", "at"),
    "interruption": ("at", "length"),
    "correction": ("action", "replacement", "back"),
}  # fmt: skip
"""Which fields a kind uses besides place, note and day."""

# Of these, JSON shows only the ones that hold something.
_ONLY_WHEN_SET = {
    "square_inches", "pitch", "note", "carried", "replacement", "back", "dimension", "day",
    "who", "from_job", "to_job", "top", "width", "height", "at",
    *ATTRIBUTES,
}  # fmt: skip
_OF_LABOR = {"quantity", "unit", "unit_cost"}
# Hours may say how much was done in them and what an hour costs; few do.


def entry_to_json(entry: Entry) -> dict[str, Json]:
    """The entry as a JSON object: kind, the fields of its kind, place, and note when there is one.

    A measure shows the one of `inches`, `square_inches`, `pitch` that it holds.
    """
    shown: dict[str, Json] = {"kind": entry.kind}
    for name in (*FIELDS[entry.kind], "place", "note", "day", "carried"):
        value = getattr(entry, name)
        if name in _ONLY_WHEN_SET and not value:
            continue
        if entry.kind == "labor" and name in _OF_LABOR and value is None:
            continue
        if name == "inches" and value is None and (entry.square_inches or entry.pitch):
            continue
        if name == "pitch":
            shown[name] = f"{value}/12"
        elif name == "replacement":
            shown["with"] = entry_to_json(value)
        else:
            shown[name] = to_json(value)
    return shown


def entry_from_json(shown: dict[str, Json]) -> Entry:
    """The entry behind `entry_to_json`'s object.

    Raises ValueError for an unknown kind, KeyError where "kind" is missing.
    """
    kind = cast(Kind, shown["kind"])
    if kind not in FIELDS:
        raise ValueError(f"there is no entry of kind {kind!r}")
    values: dict[str, Any] = {}
    for name, value in shown.items():
        if name in ("kind", "with") or value is None:
            continue
        values[name] = _READ.get(name, str)(value)
    if shown.get("with"):
        values["replacement"] = entry_from_json(shown["with"])
    return Entry(kind=kind, **values)


def reading_to_json(reading: Reading, others: Sequence[OtherReading] = ()) -> dict[str, Json]:
    """`{"entries": [...], "doubts": [...], "unread": "..."}`, with "confidence" when heard.

    What else of the entries was heard, where anything competes, stands under "rivals".
    Other readings, where there are any, stand under "or": their entries, why, and how much worse.
    """
    competing = [
        {
            "entries": [entry_to_json(entry) for entry in other.reading.entries],
            "why": other.why,
            "worse_by": other.worse_by,
        }
        for other in others
    ]
    heard = {"confidence": [round(sure, 3) for sure in reading.confidence]}
    return {
        **(heard if reading.confidence else {}),
        "entries": [entry_to_json(entry) for entry in reading.entries],
        "doubts": [{"entry": doubt.entry, "why": doubt.why} for doubt in reading.doubts],
        "unread": reading.unread,
        **({"rivals": to_json(reading.rivals)} if reading.rivals else {}),
        **({"or": competing} if competing else {}),
    }


def to_json(value: object, *, in_words: bool = False) -> Json:
    """Any noun of `joblog.model`, or a container of them, as JSON values.

    `in_words` is for other programs: every figure of a squared-up job under the word that pages and
    screens have for it, "installed" and not `placed`. The book keeps the model's own names, so that
    what was closed before reads as it was.
    """
    if isinstance(value, Entry):
        return entry_to_json(value)
    if isinstance(value, Reading):
        return reading_to_json(value)
    if isinstance(value, Fraction | Decimal):
        return str(value)
    if isinstance(value, datetime | date):
        return value.isoformat()
    if isinstance(value, time):
        return value.isoformat("auto" if value.second or value.microsecond else "minutes")
    if is_dataclass(value):
        called = _KEYS if in_words and type(value) in _NOUNS_OF_FIGURES else {}
        return {
            called.get(field.name, field.name): to_json(
                getattr(value, field.name), in_words=in_words
            )
            for field in fields(value)
        }
    if isinstance(value, list | tuple | set | frozenset):
        return [to_json(part, in_words=in_words) for part in value]
    if isinstance(value, dict):
        return {str(key): to_json(part, in_words=in_words) for key, part in value.items()}
    return value


def from_json(kind: type[Noun], shown: Json) -> Noun:
    """The noun of that class behind `to_json`'s values, exact numbers exact.

    A field that is missing takes its default, one that the class does not have is passed over: a
    later joblog may have added it. Raises ValueError, naming the field, for anything else.
    """
    return cast(Noun, _reader(cast(Any, kind))(shown))


WORDS = {
    "planned": "planned",
    "opening": "had",
    "delivered": "delivered",
    "returned": "returned",
    "on_hand": "left",
    "moved": "moved",
    "moved_in": "moved in",
    "moved_out": "moved out",
    "consumed": "gone",
    "placed": "installed",
    "used": "installed",
    "spoiled": "wasted",
    "offcut": "cutoffs",
    "unaccounted": "unexplained",
    "needed": "needed",
    "total": "differs",
    "scope": "work",
    "usage": "usage",
    "allowed": "allowed",
    "allowed_by": "allowed by",
    "handling": "wasted",
    "price": "price",
    "efficiency": "pace",
    "rate": "pay",
    "actual": "actual",
    "planned_cost": "plan cost",
    "actual_cost": "actual cost",
    "planned_rate": "planned an hour",
    "actual_rate": "actual an hour",
    "hours": "hours",
    "labor": "hours",
    "crew_hours": "man-hours",
    "correction": "change",
    "todo": "to do",
    "wall_opening": "opening",
    "interruption": "interrupted",
}
"""What a crew calls the kinds of entries, and the figures of a squared-up job, by their name in the
model: one word for one thing, on the screens, in reports and on the command line.

had + delivered + moved in - returned - moved out - left = gone
gone = installed + wasted + cutoffs + unexplained
gone - planned = work + usage + cutoffs + wasted (beyond its allowance) + unexplained
actual cost - plan cost = the same in money + price
actual hours - planned hours = work + pace, and + pay in money

Hours are those of a clock, man-hours are hours times people.
"""


_NOUNS_OF_FIGURES = frozenset(
    (
        StockLine, QuantityVariance, MoneyVariance, TaskLine, LaborVariance, DayHours, Part,
        PastUse, PastWork, BidItem,
    )
)  # fmt: skip
"""Nouns whose fields are figures that have a word."""

_KEYS = {field: re.sub("[ -]", "_", word) for field, word in WORDS.items()} | {
    "allowed_offcut": "allowed_cutoffs",
    "geometric": "cutoffs",
    "scope_hours": "work_hours",
    "efficiency_hours": "pace_hours",
}
"""What a figure is called in JSON: its word, fit for a key."""


def describe(entry: Entry, *, exact: bool = False) -> str:
    """One plain line for a person, such as "installed: 3 soffit panels, north eave".

    `exact` is for CSV: kinds and units by their names, days and times as ISO 8601, and figures
    without rounding, so that the line is the same in every country.
    """
    said = _IN_CSV.get(entry.kind, entry.kind) if exact else WORDS.get(entry.kind, entry.kind)
    if entry.kind == "labor" and entry.hours is None and entry.quantity is not None:
        said = "done"
    parts = [part for part in _parts(entry, exact) if part]
    line = f"{said}: {', '.join(parts)}" if parts else said
    return plain(line)


_IN_CSV = {"on_hand": "on hand", "labor": "hours", "correction": "change", "todo": "to do"}


def reopening(
    changed: Sequence[int], plan_changed: bool, told_on: Sequence[tuple[int, str]] = ()
) -> str:
    """Why a closed job is open again: "reopened by entries 4, 7 and a changed plan"; of what other
    jobs tell of it, "entry 12 of Mill porch"."""
    elsewhere = dict(told_on)
    numbers = [
        f"{number} of {plain(elsewhere[number])}" if number in elsewhere else str(number)
        for number in changed
    ]
    named = f"{'entry' if len(changed) == 1 else 'entries'} {', '.join(numbers)}"
    causes = [*([named] if changed else []), *(["a changed plan"] if plan_changed else [])]
    return f"reopened by {' and '.join(causes)}"


def plain(text: str) -> str:
    """Text from outside with control characters shown as a blank, safe to print on a terminal."""
    return _CONTROL.sub(" ", text)


def amount(quantity: Fraction | None) -> str:
    """A count for a person: "3", "1 1/2", "?" when it is not known.

    Exact where a tape could show it, in thirds, and where two decimals are enough; else "about
    8.48".
    """
    if quantity is None:
        return "?"
    return tape(quantity) if on_a_tape(quantity) else about(quantity, 2).replace("~", "about ")


def on_a_tape(quantity: Fraction) -> bool:
    """Whether a person reads it as a fraction: halves to sixty-fourths, and thirds."""
    return quantity.denominator in (1, 2, 3, 4, 8, 16, 32, 64)


def dollars(money: Decimal) -> str:
    """An amount of money as the country writes it, exact: "$60.00", "$0.125"."""
    return money_written(money)


def units_of(quantity: Fraction | None, unit: str | None, item: str | None = None) -> str:
    """An amount with its unit for a person: "3 sheets", "1 box", "1/2 lb", "? sticks".

    Where the item is known, its unit is what a crew calls it: "3 panels" of soffit panel.
    """
    many = quantity is None or quantity > 1 or quantity == 0
    return f"{amount(quantity)} {unit_shown(unit, item, many=many)}".rstrip()


def unit_shown(unit: str | None, item: str | None = None, *, many: bool = False) -> str:
    """What a unit of the item is called, one or many of it: "panel" for a sheet of soffit panel."""
    called = "panel" if unit == "sheet" and _is_panel(item) else unit or ""
    return _PLURAL.get(called, called) if many else called


def _is_panel(item: str | None) -> bool:
    return "panel" in (item or "").split()


_PLURAL = {
    "square": "squares", "sheet": "sheets", "stick": "sticks", "box": "boxes", "roll": "rolls",
    "bundle": "bundles", "tube": "tubes", "pair": "pairs", "each": "pieces", "panel": "panels",
    "hour": "hours",
}  # fmt: skip

_CONTROL = re.compile(r"[\x00-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]")

_NO_REASON = ("wasted", "spoiled", "scrapped")
"""Says no more than the kind of the entry does."""

_CHANGES = {
    (True, False): "take back the last one",
    (True, True): "take back an earlier one",
    (False, False): "the last one becomes",
    (False, True): "an earlier one becomes",
}
"""By whether it takes back, and whether others were said since."""


def _parts(entry: Entry, exact: bool) -> list[str]:
    def many(number: Fraction) -> str:
        return tape(number) if exact else amount(number)

    def cost(money: Decimal) -> str:
        return f"{money:f}" if exact else dollars(money)

    if entry.kind == "correction":
        return [
            _CHANGES[entry.action == "drop", entry.back > 0],
            describe(entry.replacement, exact=exact) if entry.replacement else "",
        ]
    return [
        _measure(entry),
        _of_a_walk(entry),
        _stock_exactly(entry) if exact else _stock(entry),
        f"because: {entry.reason}" if entry.reason and entry.reason not in _NO_REASON else "",
        f"at {cost(entry.unit_cost)} {_each(entry)}" if entry.unit_cost is not None else "",
        f"for {cost(entry.price)}" if entry.price is not None else "",
        f"{many(entry.miles)} miles" if entry.miles is not None else "",
        _time(entry.time, exact) if entry.time else "",
        f"{many(entry.minutes)} minutes" if entry.minutes is not None else "",
        f"{many(entry.hours)} hours" if entry.hours is not None else "",
        f"{entry.workers} people" if entry.workers else "",
        entry.task or "",
        f"{entry.fahrenheit} F" if entry.fahrenheit is not None else "",
        f"from {entry.from_job}" if entry.from_job else "",
        f"to {entry.to_job}" if entry.to_job else "",
        _note(entry),
        "" if entry.kind == "labor" else _who(entry),
        entry.place if entry.place and not _told(entry.place, entry.note) else "",
        (entry.day.isoformat() if exact else day_written(entry.day)) if entry.day else "",
    ]


def _time(clock: time, exact: bool) -> str:
    return f"{clock:%H:%M}" if exact else clock_written(clock)


def _note(entry: Entry) -> str:
    """His words, without the word that the line begins with."""
    return (entry.note or "").removeprefix(f"{entry.kind} ")


def _measure(entry: Entry) -> str:
    if entry.kind != "measure":
        return ""
    pieces = f"{entry.pieces} pieces of " if entry.pieces else ""
    top = f", {entry.top}" if entry.top else ""
    what = " ".join(filter(None, (named(entry), entry.dimension)))
    what = f"{what} " if what else ""
    said = f" (said: {entry.as_said})" if entry.as_said and not _says_as_much(entry) else ""
    if entry.inches is not None:
        length = tape(entry.inches) + " in"
        if entry.inches >= 48:
            length += f" = {feet_and_inches(entry.inches)}"
        return f"{pieces}{what}{length}{said}{top}"
    if entry.square_inches is not None:
        return f"{pieces}{what}{tape(entry.square_inches / 144)} sq ft{said}"
    if entry.pitch is not None:
        return f"{what}pitch {entry.pitch} in 12"
    if entry.top and not (pieces or what or said):
        return entry.top
    return f"{pieces}{what}?{said}{top}"


def _of_a_walk(entry: Entry) -> str:
    """A corner, an opening or an interruption; of that, the note says what it is."""
    if entry.kind == "corner":
        return _TURNS.get(entry.corner or "", "?")
    if entry.kind == "wall_opening":
        many = entry.pieces is not None and entry.pieces > 1
        what = f"{entry.opening or 'opening'}{'s' * many}"
        count = f"{entry.pieces} " if entry.pieces else ""
        at = f", at {feet_and_inches(entry.at)}" if entry.at is not None else ""
        return f"{count}{what} {_side(entry.width)} x {_side(entry.height)}{at}"
    if entry.kind == "interruption":
        if entry.at is None or entry.length is None:
            return "?"
        return f"{feet_and_inches(entry.at)} to {feet_and_inches(entry.at + entry.length)}"
    return ""


_TURNS = {
    "outside": "outside",
    "inside": "inside",
    "end": "the walk begins or ends here",
    "around": "all the way around",
}


def _side(inches: Fraction | None) -> str:
    return "?" if inches is None else f"{tape(inches)} in"


def _told(place: str, note: str | None) -> bool:
    """Whether a note names a place already: "the wire behind the south soffit"."""
    words = [word for word in (note or "").split() if word not in ("the", "a", "an")]
    return f" {place} " in f" {' '.join(words)} "


def _says_as_much(entry: Entry) -> bool:
    """Whether the words of a measure are the figure that it has, as "12 1/4" and "41 feet" are and
    "11 7/8 heavy" is not."""
    try:
        return entry.inches is not None and inches_of(entry.as_said or "") == entry.inches
    except ValueError:
        return False


def _who(entry: Entry) -> str:
    return entry.who if entry.who and entry.who not in (entry.note or "") else ""


def _each(entry: Entry) -> str:
    if entry.kind == "labor":
        return f"an hour for {entry.who}" if entry.who else "an hour"
    counted = entry.kind == "price" and entry.unit not in (None, "each")
    return f"a {unit_shown(entry.unit, entry.item)}" if counted else "each"


def _stock(entry: Entry) -> str:
    if entry.kind == "labor":
        return "" if entry.quantity is None else units_of(entry.quantity, entry.unit)
    if entry.kind == "measure" or "item" not in FIELDS[entry.kind]:
        return ""
    if entry.kind == "todo" and entry.note:
        return ""  # The note says it all.
    if entry.kind in ("todo", "price", "needed") and entry.quantity is None:
        return named(entry)
    if entry.unit == "each":
        return f"{amount(entry.quantity)} {named(entry) or 'of something'}"
    what = named(entry)
    if entry.unit == "sheet" and what.endswith("panel"):
        many = entry.quantity is None or entry.quantity > 1 or entry.quantity == 0
        return f"{amount(entry.quantity)} {what}{'s' * many}"
    return f"{units_of(entry.quantity, entry.unit, entry.item)} of {what or 'something'}"


def _stock_exactly(entry: Entry) -> str:
    """The same by the names of the book: "3 sheets of soffit panel"."""
    if not _stock(entry) or entry.quantity is None:
        return _stock(entry)
    unit = entry.unit or ""
    many = entry.quantity > 1 or entry.quantity == 0
    counted = f"{tape(entry.quantity)} {_PLURAL.get(unit, unit) if many else unit}".rstrip()
    if entry.unit == "each":
        return f"{tape(entry.quantity)} {named(entry) or 'of something'}"
    return counted if entry.kind == "labor" else f"{counted} of {named(entry) or 'something'}"


def named(entry: Entry) -> str:
    """The item with what was said of its size, length, profile and colour, each once."""
    item = entry.item or ""
    length = f"{feet_and_inches(entry.length)} long" if entry.length is not None else ""
    said = (entry.size or "", entry.colour or "", entry.profile or "")
    before = [word for word in said if word and word not in item.split() and word != _by(item)]
    return " ".join(filter(None, (*before, item, length)))


def _by(item: str) -> str:
    """ "1x8" of "one by eight", which is called by its size."""
    return "".join(_FIGURES.get(word, word) for word in item.split())


_FIGURES = {
    **{word: str(at) for at, word in enumerate("one two three four five six".split(), 1)},
    "eight": "8", "ten": "10", "twelve": "12", "by": "x",
}  # fmt: skip


def _clock(text: str) -> time:
    return time.fromisoformat(text)


def _pitch(text: str) -> Fraction:
    return Fraction(text.removesuffix("/12")) if text.endswith("/12") else Fraction(text) * 12


_READ: dict[str, Callable[[Any], Any]] = {
    "quantity": Fraction,
    "unit_cost": Decimal,
    "inches": Fraction,
    "square_inches": Fraction,
    "pitch": _pitch,
    "pieces": int,
    "time": _clock,
    "minutes": Fraction,
    "workers": int,
    "hours": Fraction,
    "fahrenheit": Fraction,
    "length": Fraction,
    "width": Fraction,
    "height": Fraction,
    "at": Fraction,
    "day": date.fromisoformat,
    "price": Decimal,
    "miles": Fraction,
    "back": int,
    "carried": tuple,
}


# --- from JSON, by the class ------------------------------------------------------------------


@cache
def _reader(kind: Any) -> Callable[[Json], Any]:
    """What reads a value of that type."""
    if kind in _PLAIN:
        return _PLAIN[kind]
    origin, parts = get_origin(kind), get_args(kind)
    if origin in (Union, UnionType) and NoneType in parts and len(parts) == 2:
        [some] = (_reader(part) for part in parts if part is not NoneType)
        return lambda shown: None if shown is None else some(shown)
    if origin is Literal:
        return lambda shown: _one_of(parts, shown)
    if origin is tuple:
        return _row_of(parts)
    if is_dataclass(kind):
        return _noun_of(cast(Any, kind))
    raise TypeError(f"no JSON is read as {kind}")


def _noun_of(kind: type[Any]) -> Callable[[Json], Any]:
    hints = get_type_hints(kind)
    named = {field.name: (_reader(hints[field.name]), _needed(field)) for field in fields(kind)}

    def read(shown: Json) -> Any:
        if not isinstance(shown, dict):
            raise ValueError(f"{shown!r:.40} is no {kind.__name__}")
        values = {}
        for name, (reader, needed) in named.items():
            if name in shown:
                try:
                    values[name] = reader(shown[name])
                except ValueError as error:
                    raise ValueError(f"{name}: {error}") from None
            elif needed:
                raise ValueError(f"{name} is missing")
        return kind(**values)

    return read


def _needed(field: Field[Any]) -> bool:
    return field.default is MISSING and field.default_factory is MISSING


def _row_of(parts: tuple[Any, ...]) -> Callable[[Json], Any]:
    every = _reader(parts[0]) if parts[1:] == (...,) else None
    each = () if every else tuple(map(_reader, parts))

    def read(shown: Json) -> tuple[Any, ...]:
        if not isinstance(shown, list) or (not every and len(shown) != len(each)):
            raise ValueError(f"{shown!r:.40} is no list of the right length")
        if every:
            return tuple(map(every, shown))
        return tuple(reader(part) for reader, part in zip(each, shown, strict=True))

    return read


def _one_of(allowed: tuple[Any, ...], shown: Json) -> Any:
    if shown not in allowed:
        raise ValueError(f"{shown!r:.40} is none of {', '.join(map(str, allowed))}")
    return shown


def _just(kind: type[Noun], *not_kinds: type) -> Callable[[Json], Noun]:
    def read(shown: Json) -> Noun:
        if not isinstance(shown, kind) or isinstance(shown, not_kinds):
            raise ValueError(f"{shown!r:.40} is no {kind.__name__}")
        return shown

    return read


def _fraction(shown: Json) -> Fraction:
    if not isinstance(shown, str):
        raise ValueError(f'{shown!r:.40} is no exact number, such as "95/8"')
    return _ratio(shown)


@lru_cache(4096)
def _ratio(shown: str) -> Fraction:
    # An exponent is never written; read, a small one could fill the memory.
    if not _RATIO.fullmatch(shown):
        raise ValueError(f'{shown!r:.40} is no exact number, such as "95/8"')
    over, _, under = shown.partition("/")
    if not under:
        return Fraction(int(over))
    if int(under) == 0:
        raise ValueError(f"{shown!r:.40} divides by zero")
    return Fraction(int(over), int(under))


_RATIO = re.compile(r"-?[0-9]{1,4000}(?:/[0-9]{1,4000})?")
"""No more digits than Python reads at once."""
_FARTHEST = 400
"""Digits before or behind the point of an amount of money that anybody could mean."""


def _decimal(shown: Json) -> Decimal:
    try:
        amount = Decimal(shown if isinstance(shown, str) else "")
    except InvalidOperation:
        raise ValueError(f'{shown!r:.40} is no amount of money, such as "13.50"') from None
    exponent = amount.as_tuple().exponent
    if not isinstance(exponent, int) or max(abs(exponent), abs(amount.adjusted())) > _FARTHEST:
        raise ValueError(f"{shown!r:.40} is no amount of money")
    return amount


def _said_by(read: Callable[[str], Noun]) -> Callable[[Json], Noun]:
    return lambda shown: read(_just(str)(shown))


def _number(shown: Json) -> float:
    return _just(float)(float(shown) if type(shown) is int else shown)


_PLAIN: dict[Any, Callable[[Json], Any]] = {
    str: _just(str),
    bool: _just(bool),
    int: _just(int, bool),
    float: _number,
    Fraction: _fraction,
    Decimal: _decimal,
    datetime: _said_by(datetime.fromisoformat),
    date: _said_by(date.fromisoformat),
    time: _said_by(time.fromisoformat),
    Entry: entry_from_json,
}
