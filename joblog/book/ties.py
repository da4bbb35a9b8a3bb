"""Which entries the photos of a job belong to, kept in step with both."""

from __future__ import annotations

from joblog.book import rows
from joblog.book.store import Book


def tie_photos(book: Book, job: str) -> None:
    """Ties the job's photos to its entries anew; every decision on an entry does so by itself."""
    with book._writing():
        photos = book.photos(job)
        if not photos:
            return
        from joblog.photos import tie

        ties = tie(photos, book.entries(job))
        if ties == book.ties(job):
            return
        book._db.execute(
            "DELETE FROM tie WHERE photo IN (SELECT sha256 FROM photo WHERE job = ?)",
            [book._job(job)["id"]],
        )
        for one in ties:
            book._insert("tie", rows.tie_row(one))
