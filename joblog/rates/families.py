"""Which items learn from each other: those that are handled, cut and broken alike."""

from __future__ import annotations

from functools import cache


@cache
def family_of(item: str) -> str:
    """The family of an item by the last words of its name; "other" where none is known.

    So "white soffit panel" is of the panels, as "soffit panel" is, and "fascia 1x6" of the trim.
    """
    words = item.lower().split()
    while words and words[-1][0].isdigit():
        words.pop()
    endings = (" ".join(words[at:]) for at in range(len(words)))
    return next((_FAMILY[ending] for ending in endings if ending in _FAMILY), OTHER)


OTHER = "other"
"""The family of what is of none."""
_FAMILIES = {
    "panels": "soffit panel, siding panel",
    "sheets": "plywood, sheathing, drywall",
    "trim": "f channel, wall channel, j channel, fascia, frieze board, starter strip, corner post, "
    "undersill trim, drip edge, h trim, drip cap",
    "lumber": "backing, one by two, one by three, one by four, one by six, one by eight, "
    "one by ten, one by twelve, two by four, two by six, two by eight, two by ten, "
    "two by twelve, four by four post, six by six post",
    "rolls": "trim coil, flashing, house wrap, felt",
    "fasteners": "nails, screws, staples",
    "gutters": "gutter, downspout, elbow, end cap, gutter hanger, gutter corner, gutter outlet, "
    "downspout strap",
    "fittings": "soffit vent, gable vent, shutter",
    "bundles": "shingles, insulation",
    "tubes and cans": "caulk, paint, primer",
}
_FAMILY = {item: family for family, items in _FAMILIES.items() for item in items.split(", ")}
