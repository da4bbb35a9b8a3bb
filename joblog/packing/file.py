"""The file of a pack: a ZIP of a head, a list, rows by table and originals, all accounted for.

    head.json             which form, joblog, book and job; the SHA-256 of the list
    list.json             of every other member its name, its bytes and their SHA-256
    rows/entry.jsonl      the rows of a table, one a line
    originals/ab12...     recordings, photos and track logs as they came, under their SHA-256

A pack comes from outside. No name in it is used as a path, nothing is read beyond what is told, and
what is told is held against what a pack of its size may hold.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
import struct
import zipfile
import zlib
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import AbstractContextManager, contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Any

from joblog.book.beside import passing_beside
from joblog.book.schema import operating_system_words
from joblog.packing.nouns import PackError

HEAD, LIST = "head.json", "list.json"
ROWS, ORIGINALS = "rows/", "originals/"
PIECE = 1 << 20
MOST_ROWS = 256 << 20
"""Bytes of all rows together: a hundred times those of a job of a year."""
MOST_OF_HEAD = 1 << 20
MOST_MEMBERS = 200_000
"""So many photos no job has; the list of names alone would fill the memory."""


@dataclass(frozen=True, slots=True)
class Member:
    """A member of a pack, as its list tells of it."""

    name: str
    bytes: int
    sha256: str


@dataclass(frozen=True, slots=True)
class PackFile:
    """A pack that is open for reading; all of it was read once, and is what its list says."""

    path: Path
    head: Mapping[str, Any]
    members: Mapping[str, Member]
    archive: zipfile.ZipFile

    def lines(self, name: str) -> list[Any]:
        """The rows of a member, none where it is not there."""
        if name not in self.members:
            return []
        with _reading(self.path):
            text = _bytes(self.archive, name, self.members[name].bytes).decode("utf-8")
            return [json.loads(line, parse_constant=_no_number) for line in text.splitlines()]

    def originals(self) -> dict[str, int]:
        """The originals that are in it by their SHA-256, and how many bytes each has."""
        return {
            name.removeprefix(ORIGINALS): member.bytes
            for name, member in self.members.items()
            if name.startswith(ORIGINALS)
        }

    @contextmanager
    def original(self, sha256: str) -> Iterator[IO[bytes]]:
        """An original, to be read once more."""
        with _reading(self.path), self.archive.open(ORIGINALS + sha256) as reading:
            yield reading


def _no_number(text: str) -> None:
    raise ValueError(f"{text} is no number")


# --- writing ----------------------------------------------------------------------------------


def write(
    path: Path,
    head: Mapping[str, Any],
    rows: Mapping[str, Iterable[Any]],
    originals: Mapping[str, Path],
    verified: Callable[[Path], AbstractContextManager[object]],
) -> tuple[str, ...]:
    """Writes a pack under a passing name, reads it again, and lets it take its name in one step.

    `verified` opens it as who unpacks it does.

    The SHA-256 of originals that are not as they were, or cannot be read, and so are not in it.
    Raises `PackError`.
    """
    passing = passing_beside(path)
    try:
        with _writing(path):
            with passing.open("wb") as out:
                left_out = _write(out, head, rows, originals)
                out.flush()
                os.fsync(out.fileno())
            with verified(passing):  # It is what it was to be.
                pass
            passing.replace(path)
            _settle(path.parent)
    finally:
        with suppress(OSError):
            passing.unlink(missing_ok=True)
    return left_out


def _write(
    out: IO[bytes],
    head: Mapping[str, Any],
    rows: Mapping[str, Iterable[Any]],
    originals: Mapping[str, Path],
) -> tuple[str, ...]:
    whole = {sha256: place for sha256, place in originals.items() if _fits(place, sha256)}
    content = {
        f"{ROWS}{table}.jsonl": "".join(f"{_json(row)}\n" for row in lines).encode()
        for table, lines in rows.items()
    }
    members = [
        *(Member(name, len(told), _sha256(told)) for name, told in content.items()),
        *(Member(ORIGINALS + one, place.stat().st_size, one) for one, place in whole.items()),
    ]
    listed = _json([[one.name, one.bytes, one.sha256] for one in members]).encode()
    first = _json({**head, "list": _sha256(listed)}).encode()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_STORED, allowZip64=True) as archive:
        archive.comment = _sha256(first).encode()
        for name, told in ((HEAD, first), (LIST, listed), *content.items()):
            archive.writestr(_named(name, packed=name.startswith(ROWS)), told)
        for one, place in whole.items():
            with place.open("rb") as reading, archive.open(_named(ORIGINALS + one), "w") as to:
                while piece := reading.read(PIECE):
                    to.write(piece)
    return tuple(originals.keys() - whole.keys())


def _named(name: str, *, packed: bool = False) -> zipfile.ZipInfo:
    """The member of that name: of no time, and of no owner."""
    info = zipfile.ZipInfo(name, (1980, 1, 1, 0, 0, 0))
    info.compress_type = zipfile.ZIP_DEFLATED if packed else zipfile.ZIP_STORED
    info.external_attr = 0o600 << 16
    return info


def _fits(place: Path, sha256: str) -> bool:
    from joblog.book.media import is_whole

    with suppress(OSError):
        return is_whole(place, sha256)
    return False


def _settle(folder: Path) -> None:
    from joblog.book.media import settle

    with suppress(OSError):  # Some disks know no folders to put down.
        settle(folder)


@contextmanager
def _writing(path: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise PackError(f"{path}: {operating_system_words(error)}") from error


# --- reading ----------------------------------------------------------------------------------


@contextmanager
def opened(path: Path) -> Iterator[PackFile]:
    """A pack of which every byte was read and is as it was written. Raises `PackError`."""
    with _reading(path):
        if path.exists() and not path.is_file() and not path.is_dir():  # A pipe is waited for.
            raise PackError(f"{path}: is no pack of a job. {_NOTHING}")
        _look_at_directory(path)
        archive = zipfile.ZipFile(path)
    with archive:
        with _reading(path):
            infos = _members(archive, path)
            head = _head(archive, infos, path)
            members = _list(archive, infos, head, path)
            for member in members.values():
                _verify(archive, member, path)
        yield PackFile(path, head, members, archive)


def _members(archive: zipfile.ZipFile, path: Path) -> dict[str, zipfile.ZipInfo]:
    infos = {info.filename: info for info in archive.infolist()}
    if len(infos) != len(archive.infolist()):
        raise PackError(f"{path}: {_DAMAGED}")
    size, rows = path.stat().st_size, 0
    for name, info in infos.items():
        if not _KNOWN.fullmatch(name):
            raise PackError(f"{path}: is no pack of a job: it holds {name[:60]!r}. {_NOTHING}")
        stored = info.compress_type == zipfile.ZIP_STORED
        if info.flag_bits & 0x1 or not (
            stored or (name.startswith(ROWS) and info.compress_type == zipfile.ZIP_DEFLATED)
        ):
            raise PackError(f"{path}: {_DAMAGED}")
        if stored and info.file_size > size:
            raise PackError(f"{path}: {_DAMAGED}")
        rows += info.file_size if name.startswith(ROWS) else 0
    if rows > MOST_ROWS:
        raise PackError(f"{path}: tells of more than any job holds. {_NOTHING}")
    if sum(info.file_size for info in infos.values()) - rows > size:
        raise PackError(f"{path}: {_DAMAGED}")
    return infos


_KNOWN = re.compile(r"head\.json|list\.json|rows/[a-z_]{1,40}\.jsonl|originals/[0-9a-f]{64}")


def _head(
    archive: zipfile.ZipFile, infos: Mapping[str, zipfile.ZipInfo], path: Path
) -> Mapping[str, Any]:
    if HEAD not in infos or LIST not in infos:
        raise PackError(f"{path}: {_NO_PACK}")
    if infos[HEAD].file_size > MOST_OF_HEAD:
        raise PackError(f"{path}: {_DAMAGED}")
    told = _bytes(archive, HEAD, infos[HEAD].file_size)
    if archive.comment.decode("ascii", "replace") != _sha256(told):
        raise PackError(f"{path}: {_DAMAGED}")
    head = json.loads(told)
    if not isinstance(head, dict):
        raise PackError(f"{path}: {_NO_PACK}")
    return head


def _list(
    archive: zipfile.ZipFile,
    infos: Mapping[str, zipfile.ZipInfo],
    head: Mapping[str, Any],
    path: Path,
) -> dict[str, Member]:
    told = _bytes(archive, LIST, infos[LIST].file_size)
    if _sha256(told) != head.get("list"):
        raise PackError(f"{path}: {_DAMAGED}")
    members = {name: Member(name, size, mark) for name, size, mark in json.loads(told)}
    if members.keys() | {HEAD, LIST} != infos.keys() or any(
        infos[name].file_size != member.bytes for name, member in members.items()
    ):
        raise PackError(f"{path}: {_DAMAGED}")
    return members


def _verify(archive: zipfile.ZipFile, member: Member, path: Path) -> None:
    whole, length = hashlib.sha256(), 0
    with archive.open(member.name) as reading:
        while piece := reading.read(PIECE):
            whole.update(piece)
            length += len(piece)
            if length > member.bytes:
                raise PackError(f"{path}: {_DAMAGED}")
    named = member.name.startswith(ORIGINALS) and member.name != ORIGINALS + member.sha256
    if (whole.hexdigest(), length) != (member.sha256, member.bytes) or named:
        raise PackError(f"{path}: {_DAMAGED}")


def _bytes(archive: zipfile.ZipFile, name: str, most: int) -> bytes:
    with archive.open(name) as reading:
        told = reading.read(most + 1)
    if len(told) != most:
        raise ValueError("another length than told")
    return told


def _look_at_directory(path: Path) -> None:
    """Refuses a file whose list of members would fill the memory before anybody looks at it."""
    with path.open("rb") as file:
        size = file.seek(0, os.SEEK_END)
        file.seek(max(0, size - _LONGEST_END))
        end = file.read()
    at = end.rfind(b"PK\x05\x06")
    if at < 0 or len(end) < at + 22:
        raise PackError(f"{path}: {_NO_PACK}")
    many, length = struct.unpack("<HL", end[at + 10 : at + 16])
    if many == 0xFFFF or length == 0xFFFFFFFF:
        far = end.rfind(b"PK\x06\x06", 0, at)
        if far < 0 or len(end) < far + 56:
            raise PackError(f"{path}: {_DAMAGED}")
        many, length = struct.unpack("<QQ", end[far + 32 : far + 48])
    if many > MOST_MEMBERS or length > MOST_MEMBERS * 200:
        raise PackError(f"{path}: tells of more than any job holds. {_NOTHING}")


_LONGEST_END = 22 + 0xFFFF + 20 + 56


@contextmanager
def _reading(path: Path) -> Iterator[None]:
    """What is wrong with a file, in words."""
    try:
        yield
    except PackError:
        raise
    except OSError as error:
        raise PackError(f"{path}: {operating_system_words(error)}") from error
    except zipfile.BadZipFile as error:
        raise PackError(f"{path}: {_DAMAGED}") from error
    except (
        ValueError, KeyError, TypeError, AttributeError, IndexError, EOFError, OverflowError,
        RecursionError, NotImplementedError, RuntimeError, MemoryError, zlib.error, struct.error,
    ) as error:  # fmt: skip
        raise PackError(f"{path}: {_DAMAGED}") from error


_NOTHING = "Nothing was changed."
_NO_PACK = f"is no pack of a job, or was cut short. Get it again. {_NOTHING}"
_DAMAGED = f"is damaged: it is not as joblog pack wrote it. Get it again. {_NOTHING}"


def _json(value: object) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))


def _sha256(told: bytes) -> str:
    return hashlib.sha256(told).hexdigest()
