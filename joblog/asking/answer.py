"""An answer, as a face shows it."""

from __future__ import annotations

from dataclasses import dataclass

from joblog.model import Settled


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer to a question, and what it makes of the entries asked about."""

    says: str
    """In a few words: "soffit panel", "16", "south eave", "scrapped"."""
    means: str
    """The entry as it would then stand, one line."""
    because: str = ""
    """Such as "the only one counted in sheets", "answered so 3 times"."""
    settles: tuple[Settled, ...] = ()
