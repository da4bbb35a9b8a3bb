"""When a picture was taken, and how we know."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import UTC, datetime, time, timedelta
from fractions import Fraction
from pathlib import Path
from zoneinfo import ZoneInfo

from joblog.model import Moment
from joblog.photos.exif import Tags, numbers, text
from joblog.photos.picture import PhotoError

YEARS = range(2000, 2100)
"""Other years are what a clock writes that was never set."""

LAST_YEAR = 9000
"""Keeps reckoning inside what a calendar can hold."""

DAY_IN_NAME = "day in file name"
"""The source of a moment of which only the day is known; its time of day is made up."""

DATE_TIME = re.compile(r"(\d{4})[:/.-](\d\d)[:/.-](\d\d)[ T](\d\d):(\d\d):(\d\d)", re.ASCII)

DATE = re.compile(r"(\d{4})[:/.-](\d\d)[:/.-](\d\d)", re.ASCII)

OFFSET = re.compile(r"([+-])(\d\d):(\d\d)", re.ASCII)

FURTHEST = timedelta(hours=14)
"""No clock on earth is further from UTC."""

IN_NAME = re.compile(
    r"(?<!\d)(20\d\d)([-_.]?)(\d\d)\2(\d\d)"
    r"(?:[-_ T.]*(?:\bat )?(\d\d)([-_.:h]?)(\d\d)\6(\d\d)(?:[-_.]?(\d{3}))?)?(?!\d)",
    re.ASCII,
)
"""Date, and if it follows, time to the second; each with one separator throughout or none."""


def taken(path: Path, tags: Tags, zone: str) -> tuple[Moment, tuple[str, ...]]:
    """The moment in UTC, and what a person should know of it, in words.

    The first of these that can be had: DateTimeOriginal with OffsetTimeOriginal ("EXIF with
    offset"), the satellites' date and time ("GPS"), DateTimeOriginal in the job's IANA zone
    ("EXIF in job zone"), a date and time in the file's name ("file name"), a date in it (noon is
    made up; "day in file name"), the file's modification time ("file time"). Raises PhotoError
    where that is all there is and no calendar holds it.
    """
    local = ZoneInfo(zone)
    original, trouble = _original(tags)
    offset, doubt = _offset(tags)
    trouble += doubt
    if original and offset is not None:
        return Moment((original - offset).replace(tzinfo=UTC), "EXIF with offset"), trouble
    for at in _from_satellites(tags):
        return Moment(at, "GPS"), trouble
    if original:
        return _in_zone(original, local, "EXIF in job zone", trouble)
    for at, source in _in_name(path.stem):
        return _in_zone(at, local, source, trouble)
    return Moment(_file_time(path), "file time"), trouble


def _file_time(path: Path) -> datetime:
    try:
        written = datetime.fromtimestamp(path.stat().st_mtime, UTC)
    except (ValueError, OverflowError):
        written = None
    if written is None or not 1970 <= written.year <= LAST_YEAR:
        raise PhotoError(
            path,
            "does not tell when it was taken, and its file's time is in no calendar; put the time"
            " into its name, like 2026-10-05 07.32.10, and add it again",
        )
    return written


def _original(tags: Tags) -> tuple[datetime | None, tuple[str, ...]]:
    """DateTimeOriginal with its fraction of a second, without a zone."""
    said = text(tags, "EXIF DateTimeOriginal")
    if not said.strip(" :0"):
        return None, ()
    found = DATE_TIME.fullmatch(said)
    at = _date_and_time(*found.groups()) if found else None
    if at is None:
        return None, (f'its capture time was ignored: "{said}"',)
    return at + _fraction(text(tags, "EXIF SubSecTimeOriginal")), ()


def _date_and_time(*parts: str) -> datetime | None:
    try:
        at = datetime(*map(int, parts))  # type: ignore[arg-type]
    except ValueError:
        return None
    return at if at.year in YEARS else None


def _fraction(digits: str) -> timedelta:
    """SubSecTime "25" is 0.25 s, as digits after the point; a thousandth of that is noise."""
    found = re.match(r"\d{1,6}", digits, re.ASCII)
    return timedelta(microseconds=int(found[0].ljust(6, "0"))) if found else timedelta()


def _offset(tags: Tags) -> tuple[timedelta | None, tuple[str, ...]]:
    """OffsetTimeOriginal, such as "-04:00", as a time span; all blanks mean unknown."""
    said = text(tags, "EXIF OffsetTimeOriginal")
    if not said.strip(" :"):
        return None, ()
    if found := OFFSET.fullmatch(said):
        span = timedelta(hours=int(found[2]), minutes=int(found[3]))
        if span <= FURTHEST:
            return -span if found[1] == "-" else span, ()
    return None, (f'its offset from UTC was ignored: "{said}"',)


def _from_satellites(tags: Tags) -> Iterator[datetime]:
    found = DATE.fullmatch(text(tags, "GPS GPSDate"))
    clock = numbers(tags, "GPS GPSTimeStamp")
    day = _date_and_time(*found.groups()) if found else None
    if day is None or len(clock) != 3:
        return
    hours, minutes, seconds = (Fraction(-1) if part is None else part for part in clock)
    if 0 <= hours < 24 and 0 <= minutes < 60 and 0 <= seconds < 61:
        span = timedelta(seconds=float(hours * 3600 + minutes * 60 + seconds))
        yield day.replace(tzinfo=UTC) + span


def _in_name(name: str) -> Iterator[tuple[datetime, str]]:
    for found in IN_NAME.finditer(name):
        year, _, month, day, hour, _, minute, second, fraction = found.groups()
        if hour and (at := _date_and_time(year, month, day, hour, minute, second)):
            yield at + _fraction(fraction or ""), "file name"
        elif not hour and (at := _date_and_time(year, month, day)):
            yield datetime.combine(at, time(12)), DAY_IN_NAME


def _in_zone(
    at: datetime, zone: ZoneInfo, source: str, trouble: tuple[str, ...]
) -> tuple[Moment, tuple[str, ...]]:
    first, second = at.replace(tzinfo=zone), at.replace(tzinfo=zone, fold=1)
    if source == DAY_IN_NAME:
        trouble += ("only the day is known, from its name; noon is made up",)
    if first.utcoffset() != second.utcoffset():
        trouble += ("it was taken as the clocks changed; it may be an hour off",)
    return Moment(first.astimezone(UTC), source), trouble
