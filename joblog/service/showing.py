"""A book of its own for an invented job, which is shown."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from joblog.book import Book
from joblog.book.making import left_over
from joblog.service.desk import Desk, open_desk
from joblog.service.errors import ServiceError, refusing, use_case
from joblog.service.jobs import begin_job
from joblog.service.places import FILE, Place, made_or_opened
from joblog.service.planning import load_plan

_UNFINISHED = "shown until here"


@contextmanager
def shown(folder: Path, job: str, zone: str, plan: Path) -> Iterator[Desk]:
    """The desk of the job in a new book in that folder; or in the one that was begun there, where
    that was killed before `finished`. Raises `ServiceError` where anything else is in the folder.
    """
    if folder.exists() and not _is_for_this(folder):
        raise ServiceError(f"{folder}: is there already; name a new folder.")
    with made_or_opened(Place(folder)) as book:
        if book.jobs() and book.setting(_UNFINISHED) != job:
            raise ServiceError(f"{folder}: is there already; name a new folder.")
        with refusing(), book.together():
            book.set_setting(_UNFINISHED, job)
            if not book.jobs():
                begin_job(book, job, zone)
            load_plan(open_desk(book, job), plan)
        yield open_desk(book, job)


@use_case
def finished(book: Book) -> None:
    """Notes that all of it was shown: from now on it is a book like any other."""
    book.set_setting(_UNFINISHED, None)


def _is_for_this(folder: Path) -> bool:
    return folder.is_dir() and ((folder / FILE).is_file() or left_over(folder))
