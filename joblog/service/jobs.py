"""Jobs of a book: begin one, list them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from zoneinfo import available_timezones

from joblog.book import Book, closed
from joblog.model import Closing, Job
from joblog.service.desk import SETTLED
from joblog.service.errors import ServiceError, use_case
from joblog.zone import own_zone


@dataclass(frozen=True, slots=True)
class Jobs:
    """The jobs of a book, the newest closing of each that has one, and which one is settled."""

    jobs: tuple[Job, ...]
    closings: tuple[Closing, ...]
    settled: str | None


@use_case
def begin_job(book: Book, name: str, zone: str | None = None, places: Sequence[str] = ()) -> Job:
    """A new job in the book, in a time zone of its own or this machine's.

    Raises `ServiceError` when there is one of that name that is another or holds anything, or no
    such time zone.
    """
    check_zone(zone)
    job = Job(name, zone or own_zone(), tuple(place.lower() for place in places))
    book.begin_job(job)
    return job


def check_zone(zone: str | None) -> None:
    """Raises `ServiceError` for a time zone that there is not; None, this machine's, there is."""
    if zone is not None and zone not in available_timezones():
        raise ServiceError(f"there is no time zone {zone!r}; write it like America/New_York")


@use_case
def list_jobs(book: Book) -> Jobs:
    return Jobs(book.jobs(), closed.closings(book), book.setting(SETTLED))
