"""When a recording was begun: what its container says, else its name, else the file's own time."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import av

from joblog.model import Moment

EARLIEST = 2000
"""No recording is older; 1904, 1970 and 1980 are what a clock that was never set writes."""

IN_NAME = re.compile(
    r"(?<!\d)(20\d\d)([-._]?)(\d\d)\2(\d\d)"  # the date, one separator or none
    r"(?:[-_ T.]|\s-\s|,\s?|\sat\s)?"
    r"(?:(\d\d)([-._:h]?)(\d\d)(?:\6(\d\d))?)"
    r"(?!\d)",
    re.ASCII,
)


def made_at(path: Path, zone: str, seconds: float) -> Moment:
    """When the recording began, timezone-aware, and where that was found.

    `zone` is the job's IANA zone, in which a time without a zone is read; `seconds` is the
    recording's length. `source` is "container", "file name" or "file time".
    """
    local = ZoneInfo(zone)
    for at in _in_container(path, local):
        return Moment(at, "container")
    for at in _in_name(path.stem, local):
        return Moment(at, "file name")
    written = datetime.fromtimestamp(path.stat().st_mtime, UTC)
    return Moment((written - timedelta(seconds=seconds)).astimezone(local), "file time")


def _in_container(path: Path, zone: ZoneInfo) -> Iterator[datetime]:
    try:
        with path.open("rb") as file, av.open(file, metadata_errors="replace") as container:
            said = [container.metadata, *(stream.metadata for stream in container.streams)]
    except (av.FFmpegError, OSError, ValueError):
        return
    for metadata in said:
        for key in ("creation_time", "date"):
            yield from _full_time(_value(metadata, key), zone)


def _value(metadata: Any, key: str) -> str:
    return next((text for name, text in metadata.items() if name.lower() == key), "")


def _full_time(text: str, zone: ZoneInfo) -> Iterator[datetime]:
    """The moment, if the text holds both a date and a time that can be true."""
    if not re.search(r"\d\d:\d\d", text):
        return
    try:
        at = datetime.fromisoformat(text.strip())
    except ValueError:
        return
    yield from _believable(at if at.tzinfo else at.replace(tzinfo=zone))


def _in_name(name: str, zone: ZoneInfo) -> Iterator[datetime]:
    for found in IN_NAME.finditer(name):
        year, _, month, day, hour, _, minute, second = found.groups()
        try:
            at = datetime(*map(int, (year, month, day, hour, minute, second or 0)), tzinfo=zone)  # type: ignore[misc, arg-type]
        except ValueError:
            continue
        yield from _believable(at)


def _believable(at: datetime) -> Iterator[datetime]:
    tomorrow = datetime.now(UTC) + timedelta(days=1)
    if at.year >= EARLIEST and at <= tomorrow:
        yield at
