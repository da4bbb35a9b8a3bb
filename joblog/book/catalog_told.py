"""What a line of the catalog says, told to a person: "cost 14.90, said as drip edges, drip"."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date

from joblog.local import day_written


def changes_told(was: str | None, now: str | None) -> Iterator[tuple[str, str, str]]:
    """What a line says otherwise than before, from the texts of it that the book keeps: what it is
    called, what it was and what it is."""
    before, after = _fields(was), _fields(now)
    for field in dict.fromkeys((*before, *after)):
        if before.get(field) != after.get(field):
            called = _CALLED.get(field, field.replace("_", " "))
            yield called, _told(field, before.get(field)), _told(field, after.get(field))


_CALLED = {
    "spoken": "said as", "also": "other units", "unit_cost": "cost", "priced": "price of",
    "length_costs": "costs of other lengths", "stock_length": "length", "pack": "pack of",
    "pack_name": "pack called", "per_pound": "in a pound", "per_hour": "done in an hour",
    "crew": "people", "hourly_cost": "cost of an hour", "tax": "sales tax",
}  # fmt: skip
_INCHES = ("stock_length", "other_lengths", "kerf", "least_offcut")


def _told(field: str, value: object) -> str:
    if not value:
        return "no known day" if field == "priced" else "nothing" if field == "spoken" else "none"
    if field == "priced":
        return day_written(date.fromisoformat(str(value)), short=True, year=True)
    if field == "length_costs" and isinstance(value, list):
        return ", ".join(f"{length} in {cost}" for length, cost in value)
    if field == "also" and isinstance(value, list):
        return ", ".join(f"{unit} of {many}" for unit, many in value)
    if isinstance(value, dict):
        return " ".join(map(str, value.values()))
    if value is True:
        return "yes"
    plain = ", ".join(map(str, value)) if isinstance(value, list) else str(value)
    return f"{plain} in" if field in _INCHES else plain


def _fields(text: str | None) -> dict[str, object]:
    row = json.loads(text or "{}")
    more = json.loads(row.pop("more", "{}"))
    row.pop("ordinal", None)
    # Some are kept as text that is itself JSON.
    lists = {name: json.loads(row[name]) for name in ("spoken", "also") if row.get(name)}
    return {**row, **more, **lists}
