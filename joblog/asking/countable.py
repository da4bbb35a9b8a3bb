"""Whether an entry can count anywhere as it stands: what has no item, no number or a unit that
nobody can reckon with cannot."""

from __future__ import annotations

from collections.abc import Mapping

from joblog.model import Entry, Item
from joblog.reconcile.units import in_unit_of


def counts(entry: Entry, items: Mapping[str, Item]) -> bool:
    """Whether it says enough to be kept; words always do. `items` are those known, by name."""
    match entry.kind:
        case "used" | "spoiled" | "delivered" | "returned" | "on_hand":
            return _is_an_amount(entry, items)
        case "moved":
            return (entry.from_job is None) != (entry.to_job is None) and _is_an_amount(
                entry, items
            )
        case "needed":
            return bool(entry.item or entry.note)
        case "price":
            return bool(entry.item) and entry.unit_cost is not None
        case "measure":
            told = (entry.inches, entry.square_inches, entry.pitch, entry.top)
            return any(one is not None for one in told)
        case "corner":
            return entry.corner is not None
        case "wall_opening":
            return entry.width is not None and entry.height is not None
        case "interruption":
            return entry.at is not None and entry.length is not None
        case "labor":
            return entry.hours is not None or entry.quantity is not None
        case "start" | "stop":
            return entry.time is not None
        case "break":
            return entry.minutes is not None
        case "correction":
            return entry.action == "drop" or entry.replacement is not None
    return True


def _is_an_amount(entry: Entry, items: Mapping[str, Item]) -> bool:
    if not entry.item or entry.quantity is None or entry.quantity < 0:
        return False
    item = items.get(entry.item) or Item(entry.item, entry.unit or "each")
    return in_unit_of(item, entry.quantity, entry.unit) is not None
