"""One field of an entry changed by itself, exactly. Pure."""

from __future__ import annotations

from collections.abc import Callable, Set
from dataclasses import dataclass, replace
from datetime import date, time
from decimal import Decimal
from fractions import Fraction
from typing import Any, cast, get_args
from unicodedata import category

from joblog.book.history import AMOUNTS
from joblog.form import FIELDS, entry_from_json, entry_to_json
from joblog.model import Dimension, Entry, OpeningKind, Top, Turn
from joblog.quantity import fraction_of, inches_of, money_of, unit_named


def edited(entry: Entry, field: str, value: object, units: Set[str] = frozenset()) -> Entry:
    """The entry with `value` in that field; None or "" empties it.

    Text is read as a person types it, anything else must be of the field's exact type. `units` are
    further names of units besides the common ones. Raises ValueError in words for a person.
    """
    if isinstance(value, str):
        value = " ".join(value.split()) or None
        if value and any(category(letter) in ("Cc", "Cs") for letter in value):
            raise ValueError(f"{value!r} has letters that cannot be shown; type it anew")
    if field == "kind":
        return _of_kind(entry, value)
    names = (*FIELDS[entry.kind], "place", "note", "day")
    if field not in names or field not in _FIELDS:
        known = ", ".join(sorted({*names, "kind"} & {*_FIELDS, "kind"}))
        raise ValueError(f"{entry.kind} has no {field!r} to change; it has {known}")
    exact = None if value is None else _FIELDS[field].exact(value)
    if field == "unit" and exact is not None:
        exact = _unit(str(exact), units)
    changed = {field: exact}
    if field in _ONE_OF and exact is not None:
        # What a tape, a piece of paper or a roof says is said in other words now.
        changed = {**dict.fromkeys((*_ONE_OF, "as_said")), **changed}
    if entry.kind == "measure" and field in _ONE_OF:
        changed |= dict.fromkeys(_SIDES)
    elif entry.kind == "measure" and field in _SIDES and exact is not None:
        other = entry.height if field == "width" else entry.width
        if other is not None:
            changed |= {**dict.fromkeys((*_ONE_OF, "as_said")), "square_inches": exact * other}  # type: ignore[operator]
    if field in _ENDS and exact is not None:
        changed = {**dict.fromkeys(_ENDS), **changed}
    now = replace(
        entry, **cast(Any, changed), carried=tuple(one for one in entry.carried if one != field)
    )
    if _amounts(entry) and not _amounts(now):
        raise ValueError(f"without its {field} it says no amount; drop it instead")
    if entry_from_json(entry_to_json(now)) != now:
        raise ValueError(f"{value!r} is no {field} that can be kept")
    return now


def _of_kind(entry: Entry, value: object) -> Entry:
    if value not in FIELDS or "correction" in (value, entry.kind):
        known = ", ".join(kind for kind in FIELDS if kind != "correction")
        raise ValueError(f"an entry cannot become {value!r}; it can become {known}")
    kind = value
    lost = [
        name
        for name in FIELDS[entry.kind]
        if getattr(entry, name) is not None and name not in FIELDS[kind]
    ]
    if lost:
        raise ValueError(f"{kind} has no {', '.join(lost)}; correct the whole entry instead")
    return replace(entry, kind=kind)


def _amounts(entry: Entry) -> bool:
    names = (name for name in (*AMOUNTS, "price", "miles") if name not in _WORDS)
    return any(getattr(entry, name) is not None for name in names)


def _unit(text: str, units: Set[str]) -> str:
    own = {unit.casefold(): unit for unit in units}
    found = own.get(text.casefold()) or unit_named(text) or own.get(text.casefold().rstrip("s"))
    if found is None:
        raise ValueError(f"there is no unit {text!r}; put it in the catalog, or name another")
    return found


# --- the fields -------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Field:
    """How one field is read from text, what it is, and what it may not fall below."""

    read: Callable[[str], object]
    kind: type | tuple[type, ...]
    least: int | None = None

    def exact(self, value: object) -> object:
        """The value in the field's own type. Raises ValueError."""
        if isinstance(value, str) and self.read is not str and len(value) > _LONGEST:
            raise ValueError(f"{value[:_LONGEST]}... is too long to be right")
        exact = self.read(value) if isinstance(value, str) else value
        if isinstance(exact, bool) or not isinstance(exact, self.kind):
            raise ValueError(f"{value!r} is not exact enough to be kept")
        if isinstance(exact, int) and Fraction in _kinds(self.kind):
            exact = Fraction(exact)
        if self.least is not None and cast(Any, exact) < self.least:
            raise ValueError(f"{value} is too little; it is at least {self.least}")
        return exact


def _kinds(kind: type | tuple[type, ...]) -> tuple[type, ...]:
    return kind if isinstance(kind, tuple) else (kind,)


def _count(text: str) -> int:
    if not (text.isascii() and text.isdigit() and len(text) < 10):
        raise ValueError(f"{text!r} is not a whole number")
    return int(text)


def _clock(text: str) -> time:
    hours, _, minutes = text.partition(":")
    try:
        return time(_count(hours), _count(minutes))
    except ValueError:
        raise ValueError(f"{text!r} is not a time; write it like 16:30") from None


def _rise(text: str) -> Fraction:
    return fraction_of(text.removesuffix("/12")) if text.endswith("/12") else fraction_of(text)


def _date(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise ValueError(f"{text!r} is not a day; write it like 2026-10-05") from None


def _one_of(names: tuple[str, ...]) -> _Field:
    def read(text: str) -> str:
        if text not in names:
            raise ValueError(f"{text!r} is none of {', '.join(names)}")
        return text

    return _Field(read, str)


_NUMBER = _Field(fraction_of, (Fraction, int), 0)
_TEXT = _Field(str, str)
_FIELDS = {
    "item": _TEXT,
    "unit": _TEXT,
    "place": _TEXT,
    "note": _TEXT,
    "reason": _TEXT,
    "task": _TEXT,
    "quantity": _NUMBER,
    "minutes": _NUMBER,
    "hours": _NUMBER,
    "inches": _Field(inches_of, (Fraction, int), 0),
    "square_inches": _NUMBER,
    "pitch": _Field(_rise, (Fraction, int), 0),
    "fahrenheit": _Field(fraction_of, (Fraction, int)),
    "pieces": _Field(_count, int, 1),
    "workers": _Field(_count, int, 1),
    "unit_cost": _Field(money_of, Decimal, 0),
    "time": _Field(_clock, time),
    "size": _TEXT,
    "profile": _TEXT,
    "colour": _TEXT,
    "who": _TEXT,
    "from_job": _TEXT,
    "to_job": _TEXT,
    "length": _Field(inches_of, (Fraction, int), 0),
    "dimension": _one_of(get_args(Dimension)),
    "top": _one_of(get_args(Top)),
    "corner": _one_of(get_args(Turn)),
    "opening": _one_of(get_args(OpeningKind)),
    "width": _Field(inches_of, (Fraction, int), 0),
    "height": _Field(inches_of, (Fraction, int), 0),
    "at": _Field(inches_of, (Fraction, int), 0),
    "day": _Field(_date, date),
    "price": _Field(money_of, Decimal, 0),
    "miles": _NUMBER,
}
_SIDES = ("width", "height")
"""Of an area that was measured as one by the other."""
_ENDS = ("from_job", "to_job")
"""Of a transfer one end is told, and the other is the job that it is told on."""
_LONGEST = 40
"""Letters in any number that a person could mean."""
_ONE_OF = ("inches", "square_inches", "pitch")
_WORDS = ("note", "as_said")
