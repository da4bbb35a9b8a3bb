"""The numbers of a bid that a person says: "overhead=12%", "soffit panel.price=31.50"."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from typing import Any

from joblog.local import money_read
from joblog.named import Known, suggested
from joblog.quantity import fraction_of, money_of
from joblog.reason import BeyondReason, check

Said = tuple[tuple[str, str], ...]


def with_said(
    before: Said,
    said: Iterable[tuple[str, str]],
    names: Sequence[str],
    also: Known | None = None,
    *,
    sure: bool = False,
) -> Said:
    """What was said before and is said now, in the order it was first said; the later one counts.

    `names` are the items and tasks that may be meant, `also` knows them by other names. A number
    said as "" is as it was worked out. One that decides the same as another ("price" and "margin")
    takes its place. Raises ValueError with a plain line for a name or a number that cannot be, and
    BeyondReason for one that hardly anybody means, unless a person is `sure`.
    """
    kept = dict(before)
    for name, value in said:
        known = named(name, names, also)
        for rival in _rivals(known):
            kept.pop(rival, None)
        if value.strip():
            kept[known] = _as_kept(known, value.strip())
            _check(known, read(known, kept[known]), sure)
        else:
            kept.pop(known, None)
    return tuple(kept.items())


def named(text: str, names: Sequence[str], also: Known | None = None) -> str:
    """The full name of a number that a person named: "Soffit panel . price" is
    "soffit panel.price". Raises ValueError."""
    cleaned = _written(text)
    if cleaned.lower() in GENERAL:
        return cleaned.lower()
    line, dot, number = cleaned.rpartition(".")
    kind, _, own = cleaned.partition(".")
    if kind.lower() in FREE and own:
        return f"{kind.lower()}.{own}"
    if not dot or number.lower() not in OF_A_LINE:
        of_lines = ", ".join(OF_A_LINE)
        raise ValueError(
            f"a bid has no number called {text.strip()!r}; there are {', '.join(GENERAL)}, and of a"
            f" line, written like soffit panel.price: {of_lines}"
        )
    return f"{_line(line, names, also)}.{number.lower()}"


def value(said: Mapping[str, str], name: str) -> Any:
    """What was said of one number, read; None where nothing was."""
    return read(name, said[name]) if name in said else None


def read(name: str, text: str) -> Any:
    """A number as it was typed. Raises ValueError, naming it."""
    try:
        return _reader(name)(text.strip())
    except ValueError as error:
        raise ValueError(f"{name}: {error}") from None


def _as_kept(name: str, text: str) -> str:
    """Money as the country writes it becomes money as joblog does; all else stays as typed."""
    reader, taken = _reader(name), ""
    if reader is _extra and text.lower().endswith("taken"):
        text, taken = text[: -len("taken")].strip(), " taken"
    if reader not in _OF_MONEY or (reader is _share_or_sum and text.endswith("%")):
        return text
    try:
        amount = f"{money_read(text):f}"
    except ValueError as error:
        raise ValueError(f"{name}: {error}") from None
    return f"{'$' if '$' in text else ''}{amount}{taken}"


def _reader(name: str) -> Callable[[str], Any]:
    return (
        GENERAL.get(name) or FREE.get(name.partition(".")[0]) or OF_A_LINE[name.rpartition(".")[2]]
    )


def _check(name: str, value: Any, sure: bool) -> None:
    """Raises BeyondReason, naming the number, for money, hours and the like that no job has."""
    free = name.partition(".")[0] in FREE
    what = _MEANS.get(name) or ("sum" if free else _MEANS_OF_A_LINE.get(name.rpartition(".")[2]))
    amount = value[0] if isinstance(value, tuple) and value else value
    if what and isinstance(amount, Fraction | Decimal):
        try:
            check(what, amount, sure=sure)
        except BeyondReason as error:
            raise BeyondReason(f"{name}: {error}") from None


_MEANS = {
    "overhead": "sum",
    "price": "sum",
    "round": "sum",
    "hourly cost": "hourly cost",
    "other hours": "hours",
    "miles": "miles",
    "mile rate": "mile rate",
}
_MEANS_OF_A_LINE = {
    "price": "price",
    "quantity": "quantity",
    "waste": "quantity",
    "amount": "quantity",
    "hours": "hours",
    "pace": "per hour",
    "hourly cost": "hourly cost",
}
"""What a number is, by its name, of those that are held to reason."""


def _line(text: str, names: Sequence[str], also: Known | None) -> str:
    """The item or task that is meant: the one of that name, the one that is also known by it, or
    the only one that has its words."""
    wanted = text.lower()
    for name in names:
        if _written(name).lower() == wanted:
            return name
    known = also(wanted) if also else None
    if known in names:
        return str(known)
    words = set(wanted.split())
    like = [name for name in dict.fromkeys(names) if words <= set(_written(name).lower().split())]
    if len(like) == 1:
        return like[0]
    if like:
        raise ValueError(f"{text!r} is more than one line of the bid: {', '.join(like)}")
    raise ValueError(
        f"{text!r} is no line of the bid; {suggested(wanted, list(dict.fromkeys(names)))}"
    )


def _written(text: str) -> str:
    return re.sub(r"\s*\.\s*", ".", " ".join(text.split()))


def _rivals(name: str) -> tuple[str, ...]:
    line, dot, number = name.rpartition(".")
    return tuple(line + dot + other for other in _RIVALS.get(number if dot else name, ()))


_RIVALS = {
    "price": ("margin",),
    "margin": ("price",),
    "quantity": ("waste",),
    "waste": ("quantity",),
    "hours": ("pace",),
    "pace": ("hours",),
}
"""What decides the same number; of a line's own price nothing does, and no line has a margin."""


# --- reading ------------------------------------------------------------------------------------


def _share(text: str) -> Fraction:
    """12% or 12: a share of 12/100."""
    number = fraction_of(text.removesuffix("%").strip())
    if 0 < number < 1 and not text.endswith("%"):
        raise ValueError(f"{text} may be {text}% or {float(100 * number):g}%; say it with its %")
    if not 0 <= number < 100:
        raise ValueError(f"{text} is not between 0 and 100%")
    return number / 100


def _share_or_sum(text: str) -> Fraction | Decimal:
    """12% is a share; 450 a sum. A small sum is more likely a share whose % was forgotten."""
    if text.endswith("%"):
        return _share(text)
    amount = _sum(text)
    if 0 < amount < 100 and "$" not in text:
        raise ValueError(f"{text} may be {text}% or ${text}; say which")
    return amount


def _sum(text: str) -> Decimal:
    """Money that can be paid: whole cents."""
    amount = _price(text)
    if amount != amount.quantize(Decimal("0.01")):
        raise ValueError(f"{text} has parts of a cent")
    return amount.quantize(Decimal("0.01"))


def _price(text: str) -> Decimal:
    amount = money_of(text)
    if amount < 0:
        raise ValueError(f"{text} is below zero")
    return amount


def _number(text: str) -> Fraction:
    number = fraction_of(text)
    if number < 0:
        raise ValueError(f"{text} is below zero")
    return number


def _more_than_none(text: str) -> Fraction:
    number = _number(text)
    if not number:
        raise ValueError("must be more than zero")
    return number


def _share_or_number(text: str) -> tuple[Fraction, bool]:
    """A share of net and cutoffs ("8%", True), or so many units (False)."""
    return (_share(text), True) if text.endswith("%") else (_number(text), False)


def _rounded_to(text: str) -> Decimal:
    amount = _sum(text)
    if not amount:
        raise ValueError("say what to round up to, like 10")
    return amount


def _yes(text: str) -> bool:
    if text.lower() not in ("yes", "no"):
        raise ValueError(f"{text!r} is neither yes nor no")
    return text.lower() == "yes"


def _tax_on(text: str) -> str:
    if text.lower() not in ("material", "all"):
        raise ValueError(f"{text!r} is neither material nor all")
    return text.lower()


def _until(text: str) -> date | timedelta:
    """A day, 2026-12-24, or so many days from the day of the bid: "30", "30 days"."""
    days = re.fullmatch(r"(\d{1,3})(?: days?)?", text.lower())
    if days:
        return timedelta(days=int(days[1]))
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise ValueError(f"{text!r} is no day; say 30 days, or 2026-12-24") from None


def _several(text: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in text.split(";") if part.strip())


def _extra(text: str) -> tuple[Decimal, bool]:
    """The price of an extra, and whether it is taken: "450", "450 taken"."""
    taken = text.lower().endswith("taken")
    return _sum(text[: -len("taken")].strip() if taken else text), taken


GENERAL: Mapping[str, Callable[[str], Any]] = {
    "overhead": _share_or_sum,
    "margin": _share,
    "price": _sum,
    "round": _rounded_to,
    "tax": _share,
    "tax on": _tax_on,
    "hourly cost": _price,
    "other hours": _number,
    "packs": _yes,
    "miles": _number,
    "mile rate": _price,
    "valid": _until,
    "not included": _several,
}
"""The numbers of the whole bid."""
OF_A_LINE: Mapping[str, Callable[[str], Any]] = {
    "price": _price,
    "quantity": _number,
    "waste": _share_or_number,
    "packs": _yes,
    "amount": _more_than_none,
    "hours": _number,
    "pace": _more_than_none,
    "hourly cost": _price,
}
"""The numbers of an item and of a task."""
FREE: Mapping[str, Callable[[str], Any]] = {"expense": _sum, "extra": _extra}
"""What a person adds under a name of his own: "expense.permit=85"."""
_OF_MONEY = (_sum, _price, _rounded_to, _share_or_sum, _extra)
