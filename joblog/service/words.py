"""What words would be read as, of themselves or as words of a job. Keeps nothing.

Loads the book only where there is one: this is what a person tries first.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from joblog.model import Plan, Reading, Vocabulary
from joblog.service.errors import ServiceError, use_case
from joblog.service.places import Place, opened_if_there

if TYPE_CHECKING:
    from joblog.model import OtherReading


@use_case
def read_words(text: str, words: Vocabulary) -> tuple[Reading, tuple[OtherReading, ...]]:
    """What words would be read as, and as what else. Keeps nothing."""
    from joblog.dictation import competing, read

    return read(text, words), competing(text, words)


@use_case
def words_known(place: Place, job: str | None = None) -> Vocabulary:
    """The words of the job that is named or meant; those of the catalog alone where there is none.

    Raises `ServiceError` for a book or job that was asked for and is not there.
    """
    from joblog.plan import vocabulary

    with opened_if_there(place) as book:
        if book is None and job is None:
            return vocabulary(Plan())
        if book is None:
            raise ServiceError(f"{place.folder}: there is no book here, and so no job {job!r}")
        if job is None and not book.jobs():
            return vocabulary(Plan(), None, book.catalog())
        from joblog.service.desk import meant, open_desk

        return open_desk(book, job or meant(book)[0]).vocabulary
