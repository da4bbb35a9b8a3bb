"""One invented entry of every kind, with something in every field that its kind uses."""

from datetime import date, time
from decimal import Decimal
from fractions import Fraction
from typing import Any

from joblog.form import FIELDS
from joblog.model import Entry

_OF: dict[str, Any] = {
    "item": "soffit panel", "quantity": Fraction(3), "unit": "sheet", "size": "16 in",
    "length": Fraction(144), "profile": "center vented", "colour": "dark bronze",
    "reason": "cracked", "unit_cost": Decimal("23.75"), "who": "the yard", "time": time(9, 30),
    "minutes": Fraction(25), "workers": 2, "hours": Fraction(7, 2), "task": "hang soffit",
    "fahrenheit": Fraction(41), "price": Decimal("60.00"), "miles": Fraction(65, 2),
    "dimension": "overhang", "inches": Fraction(99, 8), "as_said": "12 3/8", "pieces": 4,
    "top": "gable", "corner": "inside", "opening": "window", "width": Fraction(36),
    "height": Fraction(54), "at": Fraction(76),
    "from_job": "stock", "to_job": "stock",
    "place": "north eave", "note": "as it was said", "day": date(2026, 10, 2),
}  # fmt: skip
_ONE_OF = ("square_inches", "pitch", "to_job")
"""What a measure holds instead of inches, and a transfer instead of where it came from."""

_OF_AN_AREA = (("measure", "width"), ("measure", "height"))

EVERY_KIND = tuple(
    Entry(
        kind,
        **{
            name: _OF[name]
            for name in (*FIELDS[kind], "place", "note", "day")
            if name not in _ONE_OF and (kind, name) not in _OF_AN_AREA
        },
    )
    for kind in FIELDS
    if kind != "correction"
)
