"""Which entries the photos of a job belong to, kept in step with both and with a person's word."""

from __future__ import annotations

from collections.abc import Sequence

from joblog.book import rows
from joblog.book.store import Book
from joblog.model import BookEntry, Photo, Tie

BY_HAND = "tied by hand"


def tie_photos(book: Book, job: str) -> None:
    """Ties the job's photos to its entries anew; every decision does so by itself.

    A photo that a person tied belongs to those entries and no others; a pair that a person untied
    stays apart. Both wait while the photo or the entry is elsewhere or dropped.
    """
    with book._writing():
        photos = book.photos(job)
        if not photos:
            return
        ties = _ties(book, job, photos, book.entries(job))
        if ties == book.ties(job):
            return
        book._db.execute(
            "DELETE FROM tie WHERE photo IN (SELECT sha256 FROM photo WHERE job = ?)",
            [book._job(job)["id"]],
        )
        for one in ties:
            book._insert("tie", rows.tie_row(one))


def _ties(
    book: Book, job: str, photos: Sequence[Photo], entries: Sequence[BookEntry]
) -> tuple[Tie, ...]:
    from joblog.photos import tie

    said = book._rows(
        "SELECT hand_tie.* FROM hand_tie JOIN photo ON photo.sha256 = hand_tie.photo"
        " JOIN entry ON entry.id = hand_tie.entry"
        " WHERE photo.job = :job AND entry.job = :job",
        job=book._job(job)["id"],
    )
    standing = {kept.id: kept for kept in entries if kept.standing != "dropped"}
    taken = {photo.sha256: photo.taken.at for photo in photos}
    apart = {(row["photo"], row["entry"]) for row in said if not row["tied"]}
    by_hand = [
        Tie(
            row["photo"],
            row["entry"],
            BY_HAND,
            (taken[row["photo"]] - standing[row["entry"]].at).total_seconds(),
        )
        for row in said
        if row["tied"] and row["entry"] in standing
    ]
    settled = {one.photo for one in by_hand}
    guessed = [
        one
        for one in tie(photos, entries)
        if one.photo not in settled and (one.photo, one.entry) not in apart
    ]
    both = [*by_hand, *guessed]
    return tuple(sorted(both, key=lambda one: (taken[one.photo], one.photo, one.entry)))
