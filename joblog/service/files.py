"""Files that a person named: whole or not at all, and on the disk when that is told."""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path

from joblog.book.beside import passing_beside
from joblog.book.media import settle
from joblog.service.errors import ServiceError


def put(file: Path, content: bytes, *, over: bool = False) -> None:
    """The file with this content, whole or not at all. Raises `ServiceError` where it is there
    already and not to be written over, and where it cannot be written."""
    if over and file.exists() and not file.is_file():  # A pipe, or a terminal.
        _write(file, content)
        return
    beside = passing_beside(file)
    if not over and _is_there_as(file, content):
        return
    if not over and (file.exists() or file.is_symlink()):
        raise ServiceError(f"{file}: is there already; name another file, or say --over")
    try:
        with beside.open("wb") as out:
            out.write(content)
            out.flush()
            os.fsync(out.fileno())
        if over:
            beside.replace(file)
        else:
            _moved_without_harm(beside, file)
        with suppress(OSError):  # Some disks know no folders to put down.
            settle(file.parent)
    except FileExistsError:
        raise ServiceError(f"{file}: is there already; name another file, or say --over") from None
    except OSError as error:
        raise ServiceError(f"{file}: cannot be written: {error.strerror}") from None
    finally:
        with suppress(OSError):
            beside.unlink(missing_ok=True)


def _write(file: Path, content: bytes) -> None:
    try:
        file.write_bytes(content)
    except OSError as error:
        raise ServiceError(f"{file}: cannot be written: {error.strerror}") from None


def _is_there_as(file: Path, content: bytes) -> bool:
    """Whether it was written already, as by a command that was killed before it could say so."""
    try:
        return (
            file.is_file() and file.stat().st_size == len(content) and file.read_bytes() == content
        )
    except OSError:
        return False


def _moved_without_harm(beside: Path, file: Path) -> None:
    """Raises FileExistsError where another program has written there meanwhile."""
    try:
        os.link(beside, file)
    except FileExistsError:
        raise
    except OSError:  # A disk without links: it was looked at, and there is no more to be had.
        if file.exists():
            raise FileExistsError from None
        beside.replace(file)
