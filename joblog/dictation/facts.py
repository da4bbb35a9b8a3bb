"""What of an entry must not be wrong in silence."""

from __future__ import annotations

from joblog.model import Entry

Fact = tuple[object, ...]


def fact_of(entry: Entry) -> Fact:
    """Kind, item and every number."""
    inner = fact_of(entry.replacement) if entry.replacement else None
    return (
        entry.kind,
        entry.item,
        entry.quantity,
        entry.unit,
        entry.unit_cost,
        entry.inches,
        entry.square_inches,
        entry.pitch,
        entry.pieces,
        entry.time,
        entry.minutes,
        entry.workers,
        entry.hours,
        entry.task,
        entry.fahrenheit,
        entry.size,
        entry.length,
        entry.profile,
        entry.colour,
        entry.dimension,
        entry.top,
        entry.corner,
        entry.opening,
        entry.width,
        entry.height,
        entry.at,
        entry.day,
        entry.price,
        entry.miles,
        entry.from_job,
        entry.to_job,
        entry.action,
        entry.back,
        # Two notes are the same only word for word: any words at all can be a note.
        entry.note if entry.kind == "note" else None,
        inner,
    )
