"""Jobs of a book: begin one, list them, and what waits in each."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo, available_timezones

from joblog.book import Book, closed, steps
from joblog.model import Closing, Job
from joblog.service.desk import LAST, SETTLED, Desk, open_desk
from joblog.service.errors import ServiceError, use_case
from joblog.service.places import Place, opened
from joblog.zone import own_zone


@dataclass(frozen=True, slots=True)
class Jobs:
    """The jobs of a book, the newest closing of each that has one, and which one is settled."""

    jobs: tuple[Job, ...]
    closings: tuple[Closing, ...]
    settled: str | None


@dataclass(frozen=True, slots=True)
class JobLine:
    """One job in the list of jobs."""

    job: Job
    days: int
    last_day: date | None
    """The last one on which anything was said or photographed."""
    decided: datetime | None
    """When anything was last decided in it; None where nothing was."""
    closing: Closing | None
    """How it was last closed; None while it never was."""
    last_used: bool
    """Whether it is the one that something was put into last."""

    @property
    def used_on(self) -> date | None:
        """The day on which it was worked on last, there or here; None while it holds nothing."""
        zone = ZoneInfo(self.job.zone)
        days = [self.last_day, self.decided.astimezone(zone).date() if self.decided else None]
        return max((day for day in days if day is not None), default=None)


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


def usual_zone() -> str:
    """The time zone of a job where nobody says one: this machine's."""
    return own_zone()


def check_zone(zone: str | None) -> None:
    """Raises `ServiceError` for a time zone that there is not; None, this machine's, there is."""
    if zone is not None and zone not in available_timezones():
        raise ServiceError(f"there is no time zone {zone!r}; write it like America/New_York")


@use_case
def list_jobs(book: Book) -> Jobs:
    return Jobs(book.jobs(), closed.closings(book), book.setting(SETTLED))


@use_case
def job_lines(book: Book) -> tuple[JobLine, ...]:
    """Every job, in the order in which they were begun."""
    closings = {closing.job: closing for closing in closed.closings(book)}
    decided = steps.last_decided(book)
    last = book.setting(LAST)
    lines = []
    for job in book.jobs():
        days = book.days(job.name)
        lines.append(
            JobLine(
                job,
                len(days),
                days[-1] if days else None,
                decided.get(job.name),
                closings.get(job.name),
                job.name == last,
            )
        )
    return tuple(lines)


def waiting(folder: Path, jobs: Sequence[str]) -> Iterator[tuple[str, int]]:
    """Each of these jobs with how many doubts wait in it, one after the other.

    The book in the folder is opened anew, so that it can be asked for beside another work.
    """
    from joblog.service.record import read_entries

    with opened(Place(folder)) as book:
        for name in jobs:
            yield name, sum(entry.open for entry in read_entries(open_desk(book, name)))


@use_case
def turn_to(desk: Desk, job: str) -> None:
    """Puts another job of the book on the desk, in the place of the one there.

    Raises `ServiceError` when the book has no such job, and leaves the desk as it was.
    """
    other = open_desk(desk.book, job)
    desk.job, desk.plan = other.job, other.plan
    desk.catalog, desk.vocabulary, desk.why = other.catalog, other.vocabulary, None
