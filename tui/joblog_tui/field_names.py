"""What the fields of an entry are called on the screen."""

from __future__ import annotations


def field_name(field: str) -> str:
    """Such as "how many" for a quantity."""
    return _NAMES.get(field, field)


_NAMES = {
    "kind": "what",
    "quantity": "how many",
    "note": "words",
    "inches": "measured",
    "square_inches": "area, sq in",
    "pitch": "rise in 12",
    "length": "stock length",
    "colour": "color",
    "unit_cost": "price of one",
    "price": "price in all",
    "workers": "people",
    "fahrenheit": "degrees F",
    "reason": "why",
    "day": "for the day",
    "from_job": "from",
    "to_job": "to",
}
