"""Which of the files and folders that a person names are recordings, photos, logs of tracks."""

from __future__ import annotations

import errno
import os
import stat
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal

from joblog.book.schema import operating_system_words
from joblog.model import Problem

Sort = Literal["recording", "photo", "track"]

ENDINGS: dict[str, Sort] = {
    **dict.fromkeys([".wav", ".w64", ".flac", ".aif", ".aiff", ".caf", ".au"], "recording"),
    **dict.fromkeys([".ogg", ".oga", ".opus", ".mp3", ".wma", ".aac", ".amr"], "recording"),
    **dict.fromkeys([".m4a", ".mp4", ".mov", ".3gp", ".3ga", ".webm", ".mka", ".mkv"], "recording"),
    **dict.fromkeys([".jpg", ".jpeg", ".jpe", ".png", ".tif", ".tiff"], "photo"),
    **dict.fromkeys([".heic", ".heif", ".hif", ".avif"], "photo"),
    ".gpx": "track",
}

BEGINNINGS: tuple[tuple[int, bytes, Sort], ...] = (
    (0, b"\xff\xd8\xff", "photo"),
    (0, b"\x89PNG\r\n\x1a\n", "photo"),
    (0, b"II*\0", "photo"),
    (0, b"MM\0*", "photo"),
    *((4, b"ftyp" + brand, "photo") for brand in (b"hei", b"hev", b"mif1", b"msf1", b"avi")),
    (4, b"ftyp", "recording"),
    (8, b"WAVE", "recording"),
    (0, b"fLaC", "recording"),
    (0, b"OggS", "recording"),
    (0, b"ID3", "recording"),
    (0, b"\xff\xfb", "recording"),
    (0, b"\xff\xf1", "recording"),
    (0, b"\xff\xf9", "recording"),
    (0, b"#!AMR", "recording"),
    (0, b"\x1aE\xdf\xa3", "recording"),
    (8, b"AIF", "recording"),
    (0, b"caff", "recording"),
    (0, b"\x30\x26\xb2\x75", "recording"),
)
"""Offset, bytes and what begins so; the first that fits counts."""


@dataclass(slots=True)
class Gathered:
    """What is to be taken in, each sort in the order of the paths."""

    recordings: list[Path] = field(default_factory=list)
    photos: list[Path] = field(default_factory=list)
    tracks: list[Path] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    left_out: list[Path] = field(default_factory=list)
    """Files in the named folders that are none of these."""


def gather(paths: Iterable[Path], apart: Path) -> Gathered:
    """Sorts out files, and everything in and below folders but hidden files and `apart`.

    By the ending of the name and, where that says nothing, by how the file begins.
    """
    gathered = Gathered()
    seen: set[Path] = set()
    for path, named in _files(paths, apart.resolve(), gathered.problems):
        try:
            real = path.resolve(strict=True)
        except (OSError, RuntimeError) as error:  # RuntimeError: a loop of links, up to Python 3.12
            gathered.problems.append(Problem(str(path), _not_reached(error)))
            continue
        if real not in seen:
            seen.add(real)
            _sort_out(path, named, gathered)
    return gathered


def _files(
    paths: Iterable[Path], apart: Path, problems: list[Problem]
) -> Iterator[tuple[Path, bool]]:
    """Every file, and whether a person named it itself."""

    def unreadable(error: OSError) -> None:
        problems.append(Problem(str(error.filename), operating_system_words(error)))

    for path in paths:
        if not _is_folder(path):
            yield path, True
            continue
        for folder, folders, names in os.walk(path, onerror=unreadable):
            here = Path(folder)
            folders[:] = sorted(
                name for name in folders if not name.startswith(".") and not _is(here / name, apart)
            )
            if _is(here, apart):
                folders[:] = []
                continue
            for name in sorted(names):
                if not name.startswith("."):
                    yield here / name, False


def _is_folder(path: Path) -> bool:
    try:
        return path.is_dir()
    except OSError:  # in a folder that may not be entered; what is wrong is said with the file
        return False


def _is(path: Path, apart: Path) -> bool:
    try:
        return path.resolve() == apart
    except (OSError, RuntimeError):
        return False


def _not_reached(error: OSError | RuntimeError) -> str:
    if isinstance(error, RuntimeError) or error.errno == errno.ELOOP:
        return "is a link that leads back to itself. Name the file that it was meant for."
    return operating_system_words(error)


def _sort_out(path: Path, named: bool, gathered: Gathered) -> None:
    try:
        facts = path.stat()
        if not stat.S_ISREG(facts.st_mode):
            if named:
                gathered.problems.append(Problem(str(path), "is no ordinary file. Name another."))
            return
        by_name = ENDINGS.get(path.suffix.lower())
        by_content = _by_content(path) if facts.st_size else None
    except OSError as error:
        gathered.problems.append(Problem(str(path), operating_system_words(error)))
        return
    if by_name and by_content and by_name != by_content:
        why = (
            f"is named like a {by_name} but holds a {by_content}."
            " Give it its right ending and add it again."
        )
        gathered.problems.append(Problem(str(path), why))
    elif by_name and not facts.st_size:
        why = "is empty. Copy it again from where it was made."
        gathered.problems.append(Problem(str(path), why))
    elif sort := by_name or by_content:
        lists = {
            "recording": gathered.recordings,
            "photo": gathered.photos,
            "track": gathered.tracks,
        }
        lists[sort].append(path)
    elif named:
        why = "is neither a recording nor a photo that can be read. Name another file."
        gathered.problems.append(Problem(str(path), why))
    else:
        gathered.left_out.append(path)


def sort_of(path: Path) -> Sort | None:
    """What a file is by its ending, else by how it begins; None for neither. Raises OSError."""
    return ENDINGS.get(path.suffix.lower()) or _by_content(path)


def _by_content(path: Path) -> Sort | None:
    with path.open("rb") as file:
        head = file.read(16)
    return next((s for at, mark, s in BEGINNINGS if head[at : at + len(mark)] == mark), None)
