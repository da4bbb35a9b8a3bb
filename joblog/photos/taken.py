"""When a picture was taken, and how we know."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import UTC, datetime, time, timedelta
from email.utils import parsedate_to_datetime
from fractions import Fraction
from pathlib import Path
from zoneinfo import ZoneInfo

from joblog.local import moment_written
from joblog.model import Moment
from joblog.photos.beside import Beside
from joblog.photos.exif import Tags, numbers, printable, text
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

EDITED = timedelta(seconds=10)
"""A camera is done with a picture, and with its file, by then."""

MOMENTS = timedelta(minutes=10)
"""Two clocks that are right may still differ by this."""

XMP_TIMES = ("exif:DateTimeOriginal", "photoshop:DateCreated", "xmp:CreateDate")
"""When it was taken, when its original was made, when the file was."""

PNG_TIMES = ("Creation Time", "date:create")
"""Keywords of a PNG's texts; the first is the specification's."""

IN_NAME = re.compile(
    r"(?<!\d)(20\d\d)([-_.]?)(\d\d)\2(\d\d)"
    r"(?:[-_ T.]*(?:\bat )?(\d\d|\d(?=[-_.:h]))([-_.:h]?)(\d\d)\6(\d\d)"
    r"(?:[-_.]?(\d{3}))?(?:\s?([AaPp])\.?[Mm]\b)?)?(?!\d)",
    re.ASCII,
)
"""Date, and if it follows, time to the second; each with one separator throughout or none."""

MILLISECONDS_IN_NAME = re.compile(r"(?<!\d)(1\d{12})(?!\d)", re.ASCII)
"""Since 1970 in UTC, as programs name what they pass on: 2001 to 2033."""


@dataclass(frozen=True, slots=True)
class Taken:
    """The moment in UTC, what else there is of it, and what a person should know, in words."""

    moment: Moment
    clock: datetime | None = None
    """What the camera's own clock said, without a zone."""
    satellites: datetime | None = None
    """What the satellites said, in UTC; as old as the last fix."""
    doubts: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()


def taken(
    path: Path,
    tags: Tags,
    zone: str,
    beside: Beside | None = None,
    now: datetime | None = None,
) -> Taken:
    """When the picture was taken, and how we know.

    The first of these that can be had: EXIF's original time with its offset ("EXIF with offset"),
    the satellites' date and time ("GPS"), the original time in the job's IANA zone ("EXIF in job
    zone"), the same two of the time when it was digitized ("EXIF digitized ..."), of XMP ("XMP
    ...") and of a PNG's text ("PNG text ..."), a date and time in the file's name ("file name"),
    its last change as EXIF or PNG tell it ("EXIF last change ...", "PNG last change"), a date in
    the name (noon is made up; "day in file name"), the file's modification time ("file time").
    What lies ahead of `now`, by this computer's clock unless given, is said.

    Raises PhotoError where the file's time is all there is and no calendar holds it.
    """
    found = _Reading(tags, ZoneInfo(zone), beside or Beside())
    satellites = next(_from_satellites(tags), None)
    moment = found.moment(path, satellites)
    ahead = _ahead(moment.at, ZoneInfo(zone), now or datetime.now(UTC))
    doubts = dict.fromkeys((*found.doubts, *ahead))
    return Taken(moment, found.clock, satellites, tuple(doubts), found.remarks())


@dataclass(frozen=True, slots=True)
class _Said:
    """A time as it is written: without a zone, and its offset from UTC where that is known."""

    at: datetime
    offset: timedelta | None = None


@dataclass(slots=True)
class _Reading:
    tags: Tags
    local: ZoneInfo
    beside: Beside
    doubts: list[str] = field(default_factory=list)
    original: _Said | None = None
    digitized: _Said | None = None
    changed: _Said | None = None

    def __post_init__(self) -> None:
        self.original = self._exif("EXIF DateTimeOriginal", "Original", "capture time")
        self.digitized = self._exif("EXIF DateTimeDigitized", "Digitized", "time of digitizing")
        self.changed = self._exif("Image DateTime", "", "time of change")
        self.original = self._with_an_offset_of_its_own(self.original)
        self.digitized = self._with_an_offset_of_its_own(self.digitized)

    @property
    def clock(self) -> datetime | None:
        said = self.original or self.digitized
        return said.at if said else None

    def moment(self, path: Path, satellites: datetime | None) -> Moment:
        if self.original and self.original.offset is not None:
            return self._in_utc(self.original, "EXIF")
        if satellites is not None:
            return Moment(satellites, "GPS")
        for said, source in self._told():
            return self._in_utc(said, source)
        return self._by_name_or_change(path)

    def remarks(self) -> tuple[str, ...]:
        taken, changed = self.original or self.digitized, self.changed
        if taken is None or changed is None or changed.at - taken.at <= EDITED:
            return ()
        at = moment_written(changed.at, year=True)
        return (f"changed after it was taken, {at}; the first time counts",)

    def _told(self) -> Iterator[tuple[_Said, str]]:
        if self.original:
            yield self.original, "EXIF"
        if self.digitized:
            yield self.digitized, "EXIF digitized"
        for name in XMP_TIMES:
            if said := _iso(self.beside.xmp.get(name, "")):
                yield said, "XMP"
        for name in PNG_TIMES:
            if said := _loosely(self.beside.texts.get(name, "")):
                yield said, "PNG text"

    def _by_name_or_change(self, path: Path) -> Moment:
        named = next(_in_name(path.stem), None)
        if named and named[1] != DAY_IN_NAME:
            return self._in_utc(*named)
        changed = self._change()
        changed_on = changed and changed.at.astimezone(self.local).date()
        if changed and (named is None or changed_on == named[0].at.date()):
            return changed
        if named:
            self.doubts.append("only the day is known, from its name; noon is made up")
            return self._in_utc(*named)
        return Moment(_file_time(path), "file time")

    def _change(self) -> Moment | None:
        if self.changed:
            return self._in_utc(self.changed, "EXIF last change")
        at = self.beside.changed
        return Moment(at, "PNG last change") if at and at.year in YEARS else None

    def _exif(self, name: str, which: str, called: str) -> _Said | None:
        """The tag with its own fraction of a second and its own offset; blanks mean unknown."""
        said = text(self.tags, name)
        if not said.strip(" :0"):
            return None
        found = DATE_TIME.fullmatch(said)
        at = _date_and_time(*found.groups()) if found else None
        if at is None:
            self.doubts.append(f'its {called} was ignored: "{said}"')
            return None
        at += _fraction(text(self.tags, f"EXIF SubSecTime{which}"))
        return _Said(at, self._offset(f"EXIF OffsetTime{which}"))

    def _offset(self, name: str) -> timedelta | None:
        said = text(self.tags, name)
        if not said.strip(" :"):
            return None
        offset = _as_span(said)
        if offset is None:
            self.doubts.append(f'its offset from UTC was ignored: "{said}"')
        return offset

    def _with_an_offset_of_its_own(self, said: _Said | None) -> _Said | None:
        """A time without an offset takes that of another which says the same moment."""
        if said is None or said.offset is not None:
            return said
        others = [self.original, self.digitized, self.changed]
        others += [_iso(self.beside.xmp.get(name, "")) for name in XMP_TIMES]
        for other in others:
            same = other is not None and abs(other.at - said.at) < timedelta(seconds=1)
            if other and same and other.offset is not None:
                return _Said(said.at, other.offset)
        return said

    def _in_utc(self, said: _Said, source: str) -> Moment:
        by_name = source in ("file name", DAY_IN_NAME)
        if said.offset is not None:
            at = (said.at - said.offset).replace(tzinfo=UTC)
            return Moment(at, source if by_name else f"{source} with offset")
        first = said.at.replace(tzinfo=self.local)
        if first.utcoffset() != said.at.replace(tzinfo=self.local, fold=1).utcoffset():
            self.doubts.append("it was taken as the clocks changed; it may be an hour off")
        return Moment(first.astimezone(UTC), source if by_name else f"{source} in job zone")


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


def _ahead(at: datetime, zone: ZoneInfo, now: datetime) -> tuple[str, ...]:
    if at <= now + MOMENTS:
        return ()
    shown = moment_written(at.astimezone(zone), year=True)
    return (
        f"is dated {shown}, which is still to come by this computer's clock;"
        " check that clock and the camera's",
    )


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


def _as_span(said: str) -> timedelta | None:
    """An offset such as "-04:00" as a time span."""
    found = OFFSET.fullmatch(said)
    if found is None or int(found[3]) > 59:
        return None
    span = timedelta(hours=int(found[2]), minutes=int(found[3]))
    if span > FURTHEST:
        return None
    return -span if found[1] == "-" else span


def _iso(said: str) -> _Said | None:
    """A date and time of XMP, with its zone where it has one; a day alone is none."""
    if "T" not in said:
        return None
    try:
        at = datetime.fromisoformat(said)
    except ValueError:
        return None
    return _plausible(at)


def _loosely(said: str) -> _Said | None:
    """A date and time as any program may write it: as ISO 8601, as EXIF, or as in mail."""
    if found := _iso(said):
        return found
    if written := DATE_TIME.match(said):
        at = _date_and_time(*written.groups())
        return _Said(at) if at else None
    try:
        return _plausible(parsedate_to_datetime(printable(said)))
    except (ValueError, TypeError, IndexError, OverflowError):
        return None


def _plausible(at: datetime) -> _Said | None:
    offset = at.utcoffset()
    if at.year not in YEARS or (offset is not None and abs(offset) > FURTHEST):
        return None
    return _Said(at.replace(tzinfo=None), offset)


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


def _in_name(name: str) -> Iterator[tuple[_Said, str]]:
    for found in IN_NAME.finditer(name):
        year, _, month, day, hour, _, minute, second, fraction, half = found.groups()
        if hour and half:
            hour = str(int(hour) % 12 + 12 * (half in "Pp")) if 1 <= int(hour) <= 12 else "99"
        if hour and (at := _date_and_time(year, month, day, hour, minute, second)):
            yield _Said(at + _fraction(fraction or "")), "file name"
        elif not hour and (at := _date_and_time(year, month, day)):
            yield _Said(datetime.combine(at, time(12))), DAY_IN_NAME
    for digits in MILLISECONDS_IN_NAME.findall(name):
        at = datetime.fromtimestamp(int(digits) / 1000, UTC)
        yield _Said(at.replace(tzinfo=None), timedelta()), "file name"
