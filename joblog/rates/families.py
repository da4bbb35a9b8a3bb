"""Which items learn from each other: those that are handled, cut and broken alike."""

from __future__ import annotations


def family_of(item: str) -> str:
    """The family of an item by its catalog name; "other" where the catalog has none."""
    return _FAMILY.get(item.lower(), "other")


_FAMILIES = {
    "panels": "soffit panel, siding panel",
    "sheets": "plywood, sheathing, drywall",
    "trim": "wall channel, j channel, fascia, frieze board, starter strip, corner post, "
    "undersill trim, drip edge",
    "lumber": "backing, two by four, two by six, one by six, one by eight",
    "rolls": "trim coil, flashing, house wrap, felt",
    "fasteners": "trim nails, roofing nails, siding nails, screws, staples, gutter hanger",
    "gutters": "gutter, downspout, elbow",
    "fittings": "soffit vent, gable vent, shutter",
    "bundles": "shingles, insulation",
    "tubes and cans": "caulk, paint, primer",
}
_FAMILY = {item: family for family, items in _FAMILIES.items() for item in items.split(", ")}
