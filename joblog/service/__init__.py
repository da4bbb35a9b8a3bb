"""The one door: every use case of joblog, for whatever face asks. Knows no face.

Each is a plain function that takes values and gives nouns of `joblog.model`. What it refuses
comes as `ServiceError`, whose text is for a person. Open a book with `places.opened`, a job of it
with `desk.desk_at`, and go on from there.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from joblog.service.errors import ServiceError
from joblog.service.places import Place, opened, place_of

if TYPE_CHECKING:
    from joblog.service.desk import Desk, desk_at, open_desk

__all__ = ["Desk", "Place", "ServiceError", "desk_at", "open_desk", "opened", "place_of"]


def __getattr__(name: str) -> Any:
    """The desk is loaded when it is asked for: what needs no book starts in half the time."""
    if name not in ("Desk", "desk_at", "open_desk"):
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from joblog.service import desk

    return getattr(desk, name)
