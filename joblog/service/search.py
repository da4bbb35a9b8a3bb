"""Everything that was ever said, in all jobs: found by the words of it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from joblog.service.desk import Desk
from joblog.service.errors import use_case


@dataclass(frozen=True, slots=True)
class Found:
    """One place where the words are: an entry, what was said and became none, a file's name."""

    job: str
    day: date
    at: datetime
    text: str
    """What to show of it, one line."""
    marks: tuple[tuple[int, int], ...]
    """Where in `text` the words are, as slices; none where they are in what is not shown."""
    entry: int | None = None
    recording: str | None = None
    """SHA-256 of the recording that it is the name of, or was heard in."""
    photo: str | None = None
    """SHA-256."""


@use_case
def search(desk: Desk, words: str, *, every_job: bool = True, most: int = 200) -> tuple[Found, ...]:
    """Where all these words are, the last one as far as it is typed; this job and newest first."""
    return ()
