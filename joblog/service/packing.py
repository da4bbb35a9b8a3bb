"""One job in one file, and out of it into another book."""

from __future__ import annotations

from pathlib import Path

from joblog import packing
from joblog.book import Book
from joblog.packing import Packed as Packed
from joblog.packing import Unpacked as Unpacked
from joblog.packing.nouns import ENDING
from joblog.service.desk import Desk
from joblog.service.errors import use_case


@use_case
def pack_job(desk: Desk, file: Path) -> Packed:
    """Writes the job, with its originals and all its history, into one file; its name ends in
    `.jobpack`, whether or not that was typed. Raises `ServiceError`."""
    named = file if file.suffix == ENDING else file.with_name(file.name + ENDING)
    return packing.pack(desk.book, desk.job.name, named)


@use_case
def unpack_job(book: Book, file: Path, name: str | None = None) -> Unpacked:
    """Takes the job in a pack into the book; `name` is what it is to be called here.

    Said again it changes nothing. Raises `ServiceError` for what is no pack, or is damaged, and
    where the job went on in both.
    """
    return packing.unpack(book, file, name)
