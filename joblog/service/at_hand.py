"""Names of the book that a face may offer while somebody types, without opening the book."""

from __future__ import annotations

from joblog.book.at_hand import Name, Of
from joblog.book.at_hand import names as names_in
from joblog.service.places import Place

__all__ = ["Name", "Of", "at_hand"]


def at_hand(place: Place, of: Of, job: str | None = None) -> tuple[Name, ...]:
    """Names from the book at a place, of one job where it is named; none where there is no book."""
    return names_in(place.folder.expanduser(), of, job)
