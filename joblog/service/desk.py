"""A book opened at one job: what nearly every use case works on."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Set
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any, TypeVar

from joblog.book import Book, BookError, closed, decisions
from joblog.model import Catalog, Job, Plan, Vocabulary
from joblog.plan import vocabulary
from joblog.service.errors import ServiceError, refusing, use_case
from joblog.service.places import Place, opened

Answer = TypeVar("Answer")


@dataclass(slots=True)
class Desk:
    """A book, opened at one job. All screens share one desk, and so one catalog and its words."""

    book: Book
    job: Job
    plan: Plan
    catalog: Catalog
    vocabulary: Vocabulary
    why: str | None = None
    """Why this job and no other, where nobody named it and the book has several."""
    worked_out: dict[str, Any] = field(default_factory=dict)
    """What `once` worked out of the book as it stands."""
    seen: tuple[int, int] | None = None
    """How far the book was written when `changed_since` was last asked."""


@use_case
def open_desk(book: Book, job: str, why: str | None = None) -> Desk:
    """The desk for one job. Raises `ServiceError` when the book has no such job."""
    found = book.job(job)
    plan, catalog = book.plan(job), book.catalog()
    return Desk(
        book, found, plan, catalog, vocabulary(plan, found, catalog, book.names_of_jobs()), why
    )


@contextmanager
def desk_at(place: Place, job: str | None = None, days: Set[date] = frozenset()) -> Iterator[Desk]:
    """The desk for the named job, or for the one that is meant; see `meant`."""
    with opened(place) as book:
        with refusing():
            name, why = (job, None) if job is not None else meant(book, days)
        desk = open_desk(book, name, why)
        with refusing():
            yield desk


def meant(book: Book, days: Set[date] = frozenset()) -> tuple[str, str | None]:
    """The job that is meant where nobody names one, and why, if the book has several.

    In this order: the only one there is; the one that was settled with `use_job`; the only one
    that is open; of those that are open, the only one with a day among `days` or next to one; the
    one that was used last. Raises `ServiceError` where none of these tells.
    """
    known = [job.name for job in book.jobs()]
    if not known:
        raise ServiceError("this book has no job yet; begin one with: joblog new NAME")
    if len(known) == 1:
        return known[0], None
    if (settled := book.setting(SETTLED)) in known:
        return str(settled), "settled with joblog use"
    finished = closed.closed_jobs(book)
    still_open = [name for name in known if name not in finished]
    if len(still_open) == 1:
        return still_open[0], "the only open one"
    if days:
        near = {day + timedelta(days=off) for day in days for off in (-1, 0, 1)}
        fitting = [name for name in still_open if near & set(book.days(name))]
        if len(fitting) == 1:
            return fitting[0], "the only open one with days like these"
    if (last := book.setting(LAST)) in (still_open or known):
        return str(last), "the last one used"
    names = ", ".join(known)
    raise WhichJobError(f"which job? Say --job with one of: {names}; joblog use NAME settles it")


class WhichJobError(ServiceError):
    """Several jobs are open, and nothing tells which one is meant."""


SETTLED, LAST = "job", "last job"


def once(desk: Desk, what: str, work: Callable[[], Answer]) -> Answer:
    """What `work` gives, worked out once as long as nothing is written into the book."""
    stands = (desk.book.written(), desk.job, desk.plan)
    if desk.worked_out.get("stands") != stands:
        desk.worked_out = {"stands": stands}
    if what not in desk.worked_out:
        desk.worked_out[what] = work()
    answer: Answer = desk.worked_out[what]
    return answer


@use_case
def elsewhere(desk: Desk, entries: Iterable[int]) -> dict[int, str]:
    """The jobs of those of these entries that are of another job than the desk's; one that is not
    in the book is left out."""
    found: dict[int, str] = {}
    for id in entries:
        with suppress(BookError):
            if (job := desk.book.job_of(id)) != desk.job.name:
                found[id] = job
    return found


@use_case
def use_job(book: Book, name: str | None) -> str | None:
    """Settles which job is meant where nobody names one, or, with None, unsettles it."""
    found = None if name is None else book.job(name).name
    book.set_setting(SETTLED, found)
    return found


@use_case
def remember(desk: Desk) -> None:
    """Notes that this job was the last one that something was put into."""
    if desk.book.setting(LAST) != desk.job.name:
        desk.book.set_setting(LAST, desk.job.name)


@use_case
def read_catalog(desk: Desk) -> Catalog:
    """The catalog as it now stands in the book; words typed from here on are read by it."""
    return _known(desk, desk.book.catalog())


@use_case
def change_catalog(desk: Desk, change: Callable[[Catalog], Catalog]) -> Catalog:
    """The catalog after the change. What `change` raises passes through, and nothing is changed."""
    change_catalog_of(desk.book, change)
    refresh(desk)
    return desk.catalog


@use_case
def change_catalog_of(book: Book, change: Callable[[Catalog], Catalog]) -> Catalog:
    """The same of a book; the plans of its open jobs meet what is new in the catalog."""
    # Kept out of the start of the review.
    from joblog.plan.meeting import met_again

    finished = closed.closed_jobs(book)
    still_open = [job.name for job in book.jobs() if job.name not in finished]
    return decisions.change_catalog(book, change, met_again, still_open)


def refresh(desk: Desk) -> None:
    """Puts on the desk what may have been changed in the book beside it: the plan, the catalog."""
    plan = desk.book.plan(desk.job.name)
    if plan != desk.plan:
        desk.plan = plan
        desk.vocabulary = vocabulary(plan, desk.job, desk.catalog, desk.book.names_of_jobs())
    _known(desk, desk.book.catalog())


def _known(desk: Desk, catalog: Catalog) -> Catalog:
    if catalog != desk.catalog:
        desk.catalog = catalog
        desk.vocabulary = vocabulary(desk.plan, desk.job, catalog, desk.book.names_of_jobs())
    return catalog
