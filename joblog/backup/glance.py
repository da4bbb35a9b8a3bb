"""A little of a backup that is at hand, read in passing."""

from __future__ import annotations

from contextlib import suppress

from joblog.backup import looking_over
from joblog.backup.lookup import Lookup
from joblog.backup.medium import Medium
from joblog.book import Book, BookError
from joblog.book.verify import Damage


def glance(book: Book, most: int) -> tuple[Damage, ...]:
    """The damaged objects among few, those of the latest backup that were not read for longest.

    No more than about `most` bytes are read; nothing where no backup is at hand.
    """
    found: list[Damage] = []
    with Lookup(book) as lookup, suppress(OSError, BookError):
        for place in lookup.folders[:1]:
            medium = Medium(place)
            with medium.alone():
                looked = looking_over.look_over(book, medium, most=most)
            found += (
                Damage(f"object {one[:12]} in the backup {place}", "it is damaged", _REMEDY)
                for one in looked.damaged
            )
    return tuple(found)


_REMEDY = "Say joblog backup, which writes it anew from the book."
