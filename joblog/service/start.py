"""Where a review starts: at the job that is meant, at a choice of jobs, or before the first one."""

from __future__ import annotations

from collections.abc import Iterator, Sequence, Set
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date

from joblog.book import closed
from joblog.service.desk import Desk, WhichJobError, meant, open_desk
from joblog.service.errors import refusing, use_case
from joblog.service.jobs import begin_job
from joblog.service.places import Place, made_at, opened


@dataclass(frozen=True, slots=True)
class Start:
    """`desk` is None where there is no job yet."""

    desk: Desk | None
    sure: bool = True
    """False where several jobs are open and nothing tells which is meant."""


@contextmanager
def started(place: Place, job: str | None = None, days: Set[date] = frozenset()) -> Iterator[Start]:
    """The desk for the named job or the one that is meant, as `desk_at`; but where that one refuses
    for want of a job, or of knowing which, a person is still to begin or to choose one.

    Raises `ServiceError` where a job was named that is not there.
    """
    if job is None and not place.has_book:
        yield Start(None)
        return
    with opened(place) as book:
        with refusing():
            jobs = book.jobs()
        if job is None and not jobs:
            yield Start(None)
            return
        sure = True
        with refusing():
            try:
                name, why = (job, None) if job is not None else meant(book, days)
            except WhichJobError:
                finished = closed.closed_jobs(book)
                names = [one.name for one in jobs]
                name = next((one for one in reversed(names) if one not in finished), names[-1])
                sure, why = False, None
        desk = open_desk(book, name, why)
        with refusing():
            yield Start(desk, sure)


@use_case
def begin_at(place: Place, name: str, zone: str | None = None, places: Sequence[str] = ()) -> Desk:
    """The desk for a new job, in the book of the place or in a new one there, which stays open.

    Raises `ServiceError` as `begin_job`.
    """
    book = made_at(place)
    try:
        begin_job(book, name, zone, places)
        return open_desk(book, name)
    except BaseException:
        book.close()
        raise
