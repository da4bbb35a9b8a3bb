"""What counts no more, and bringing it back; what became of one thing."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from joblog.book import bin as bins
from joblog.book import changes, media, spool
from joblog.book.bin import Binned as Binned
from joblog.book.changes import Changed as Changed
from joblog.model import Step
from joblog.named import one_named, spoken_of
from joblog.service.desk import Desk, refresh
from joblog.service.errors import ServiceError, refusing, use_case

if TYPE_CHECKING:
    from joblog.book import Book


@use_case
def binned(book: Book, job: str | None = None) -> tuple[Binned, ...]:
    """What is in the bin, of one job or of all, what went last first."""
    return bins.binned(book, job)


@use_case
def bring_back(book: Book, step: int) -> Step:
    """Makes all that went with a step stand as it was: one more step, which can be undone.

    Raises `ServiceError` where nothing went with it, or all of it stands.
    """
    return bins.bring_back(book, step)


@use_case
def bring_back_version(book: Book, entry: int, version: int) -> Step:
    """Makes an entry once more what it was in one of its versions."""
    return bins.bring_back_version(book, entry, version)


@use_case
def bring_back_here(desk: Desk, step: int) -> Step:
    """The same as `bring_back`, where a desk is open."""
    back = bins.bring_back(desk.book, step)
    refresh(desk)
    return back


@use_case
def put_aside(book: Book) -> tuple[tuple[Path, str], ...]:
    """Files that are kept and that nothing in the book stands on, each with what to do about it."""
    folders = (
        (book.store / media.DAMAGED, "damaged, kept aside; the good one is in its place"),
        (
            spool.folder_of(book) / spool.ASIDE,
            "was being said when listening was stopped short; joblog add FILE takes it in",
        ),
    )
    with refusing(OSError):
        return tuple(
            (file, why)
            for folder, why in folders
            if folder.is_dir()
            for file in sorted(folder.iterdir())
            if file.is_file()
        )


# --- what became of one thing -----------------------------------------------------------------


@use_case
def story_of_entry(desk: Desk, entry: int) -> tuple[Changed, ...]:
    """Every version of an entry, of any job, oldest first."""
    return changes.of_entry(desk.book, entry)


@use_case
def story_of_original(desk: Desk, sha256: str) -> tuple[Changed, ...]:
    """What was decided of a recording or photo, oldest first."""
    return changes.of_original(desk.book, sha256)


@use_case
def story_of_line(desk: Desk, name: str) -> tuple[Changed, ...]:
    """What was decided of an item or a task of the catalog, one that was dropped too.

    Raises `ServiceError` for a name that no line ever had.
    """
    items = [item.name for item in desk.catalog.items]
    tasks = [task.name for task in desk.catalog.tasks]
    try:
        ever = (*items, *tasks, *changes.lines_ever(desk.book))
        found = one_named(name, ever, "the catalog", spoken_of(desk.catalog.items))
    except ValueError as error:
        raise ServiceError(str(error)) from None
    return changes.of_line(desk.book, found)
