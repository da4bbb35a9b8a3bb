"""One job in one file, and out of it into another book."""

from __future__ import annotations

from pathlib import Path

from joblog import packing
from joblog.backup.said import size_told as size_told
from joblog.book import Book
from joblog.packing import Packed as Packed
from joblog.packing import Unpacked as Unpacked
from joblog.packing.load import loaded
from joblog.packing.nouns import ENDING
from joblog.service.desk import Desk
from joblog.service.errors import use_case


@use_case
def pack_job(desk: Desk, file: Path) -> Packed:
    """Writes the job, with its originals and all its history, into one file; its name ends in
    `.jobpack`, whether or not that was typed. In a folder, such as that of a stick, it is called
    as the job. Raises `ServiceError`."""
    from joblog.service.papers import as_file_name

    inside = file / as_file_name(desk.job.name) if file.is_dir() else file
    return packing.pack(desk.book, desk.job.name, _with_ending(inside))


@use_case
def must_be_a_pack(file: Path) -> None:
    """Raises `ServiceError` where it is none, or is damaged: before a book is made for it."""
    with loaded(_found(file)):
        pass


@use_case
def unpack_job(book: Book, file: Path, name: str | None = None) -> Unpacked:
    """Takes the job in a pack into the book; `name` is what it is to be called here.

    Said again it changes nothing. Raises `ServiceError` for what is no pack, or is damaged, and
    where the job went on in both.
    """
    return packing.unpack(book, _found(file), name)


def _found(file: Path) -> Path:
    """The pack that was meant by what `joblog pack` was told."""
    return file if file.exists() else _with_ending(file)


def _with_ending(file: Path) -> Path:
    return file if file.suffix == ENDING else file.with_name(file.name + ENDING)
