"""What is there only while joblog is at work: a folder of its own in that of the book."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from secrets import token_hex

from filelock import FileLock, Timeout

from joblog.book import Book

PASSING = "passing"
ENDING = ".lock"


@contextmanager
def passing_in(book: Book) -> Iterator[Path]:
    """An empty folder in that of the book, gone afterwards; what killed ones left goes as well."""
    all_of_it = book.folder / PASSING
    all_of_it.mkdir(mode=0o700, exist_ok=True)
    _sweep(all_of_it)
    folder = all_of_it / f"{token_hex(4)}.backup"
    lock = FileLock(folder.with_suffix(ENDING), mode=0o600)
    try:
        with lock:
            folder.mkdir(mode=0o700)
            try:
                yield folder
            finally:
                shutil.rmtree(folder, ignore_errors=True)
    finally:
        Path(lock.lock_file).unlink(missing_ok=True)
        with suppress(OSError):  # Another one is at work in it.
            all_of_it.rmdir()


def _sweep(all_of_it: Path) -> None:
    for left in all_of_it.glob(f"*{ENDING}"):
        lock = FileLock(left, timeout=0, mode=0o600)
        with suppress(Timeout, OSError), lock:
            shutil.rmtree(left.with_suffix(".backup"), ignore_errors=True)
            left.unlink(missing_ok=True)
