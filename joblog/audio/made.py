"""When a recording was begun: what its container says, else its name, else the file's own time."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from contextlib import suppress
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from joblog.audio.decode import AudioError, opened
from joblog.local import clock_written, day_written, moment_written
from joblog.model import Moment

EARLIEST = 2005
"""Clocks that nobody set begin in 1904, 1970, 1980, 2000 or 2001; no recording is that old."""
WRITTEN = datetime(2026, 1, 1, tzinfo=UTC)
"""A clock that shows less is wrong, for this program was written later: it is no reason to
disbelieve a recording."""
AHEAD = timedelta(days=3650)
"""Further in the future than this is no date at all, but digits that look like one."""
LAST_YEAR = 9000
"""Keeps reckoning inside what a calendar can hold."""
FAR = timedelta(days=60)
"""Further from every other recording of its job, one is likelier misdated than made."""
MOMENTS = timedelta(minutes=10)
"""Two clocks that are right may still differ by this."""

TIME_KEYS = ("com.apple.quicktime.creationdate", "creation_time", "date")
"""Where containers keep it, the one that has a zone of its own first."""

TIME_IN_NAME = re.compile(
    r"""(?<![0-9])
    (?P<year>20[0-9]{2})(?P<dash>[-._]?)(?P<month>[0-9]{2})(?P=dash)(?P<day>[0-9]{2})
    (?:\s*(?:[-_.,T]|at)?\s*)
    (?P<hour>[0-9]{2}|[0-9](?=[-._:h]))(?P<colon>[-._:h]?)(?P<minute>[0-9]{2})
    (?:(?P=colon)(?P<second>[0-9]{2})(?:[0-9]{3})?)?
    (?P<half>\s?[AaPp]\.?[Mm])?(?P<utc>Z)?
    (?![0-9])""",
    re.VERBOSE,
)


def dated(path: Path, zone: str, seconds: float) -> tuple[Moment, tuple[str, ...]]:
    """When the recording began, in the job's zone, where that was found, and what is odd about it.

    `zone` is the job's IANA zone, in which a time without a zone is read; a time that a clock
    change skips is read as before the change, one that it repeats as the first. `seconds` is the
    recording's length. `source` is "container", "file name" or "file time".
    Raises `AudioError` when nothing tells a time that a calendar holds, `OSError` when the file is
    gone.
    """
    local = ZoneInfo(zone)
    now = datetime.now(UTC)
    to_come: tuple[Moment, tuple[str, ...]] | None = None
    for source, found in (("container", _in_container(path)), ("file name", _in_name(path.stem))):
        for at in found:
            if not EARLIEST <= at.year <= LAST_YEAR:
                continue
            # Through UTC, so that a time that never was becomes the one the clocks showed.
            aware = (at if at.tzinfo else at.replace(tzinfo=local)).astimezone(UTC)
            ahead = _ahead(aware, local, now)
            dated = Moment(aware.astimezone(local), source), ahead + _at_a_clock_change(at, local)
            if not ahead:
                return dated
            if aware <= max(now, WRITTEN) + AHEAD:
                to_come = to_come or dated
    # It may be this computer's clock that is wrong, and then the file's time is too.
    if to_come is not None:
        return to_come
    written = _file_time(path) - timedelta(seconds=seconds)
    return Moment(written.astimezone(local), "file time"), _ahead(written, local, now)


def far_off(made: Moment, zone: str, days: Collection[date]) -> str | None:
    """Why a recording's day is hard to believe beside the others of its job, None when it is not.

    `days` are those on which the others were made.
    """
    day = made.at.astimezone(ZoneInfo(zone)).date()
    if not days or day in days:
        return None
    apart = min(abs(day - other) for other in days).days
    if apart <= FAR.days:
        return None
    weak = ", known only from its file's own time" if made.source == "file time" else ""
    return (
        f"is dated {day_written(day)}{weak}, {apart:,} days from the job's other recordings; if a "
        "clock was wrong, its entries stand on the wrong day"
    )


def _ahead(at: datetime, zone: ZoneInfo, now: datetime) -> tuple[str, ...]:
    if at <= now + MOMENTS:
        return ()
    shown = moment_written(at.astimezone(zone), year=True)
    return (
        f"is dated {shown}, which is still to come by this computer's clock;"
        " check that clock and the recorder's",
    )


def _at_a_clock_change(at: datetime, zone: ZoneInfo) -> tuple[str, ...]:
    if at.tzinfo is not None:
        return ()
    first, second = at.replace(tzinfo=zone), at.replace(tzinfo=zone, fold=1)
    if first.utcoffset() == second.utcoffset():
        return ()
    happened = first.astimezone(UTC).astimezone(zone).replace(tzinfo=None) == at
    how = "showed twice that day; taken as the first, it" if happened else "skipped that day; it"
    return (f"was made at {clock_written(at)}, which the clocks {how} may be an hour off",)


def _file_time(path: Path) -> datetime:
    try:
        written = datetime.fromtimestamp(path.stat().st_mtime, UTC)
    except (ValueError, OverflowError):  # Windows says OSError, as for a file that is gone.
        written = None
    if written is None or not 1970 <= written.year <= LAST_YEAR:
        raise AudioError(
            path,
            "does not tell when it was made, and its file's time is in no calendar; put the time"
            " into its name, like 2026-10-05 07.32.10, and add it again",
        )
    return written


def _in_container(path: Path) -> Iterator[datetime]:
    try:
        with opened(path) as (_, container):
            tags = [container.metadata, *(stream.metadata for stream in container.streams)]
    except AudioError:
        return
    for tag in tags:
        yield from _in_tags({key.lower(): text for key, text in tag.items()})


def _in_tags(tags: Mapping[str, str]) -> Iterator[datetime]:
    """Every full date and time among the tags, naive where it comes without a zone."""
    # A broadcast wave keeps its date in one field and its time of day in another.
    apart = f"{tags.get('date', '')} {tags.get('creation_time', '')}"
    for text in (*(tags.get(key, "") for key in TIME_KEYS), apart):
        if re.search(r"[0-9]:[0-9]", text) or re.fullmatch(r"[0-9]{8}T[0-9]{4,6}Z?", text):
            with suppress(ValueError):
                yield datetime.fromisoformat(text.strip())


def _in_name(name: str) -> Iterator[datetime]:
    """Every date with a time of day in the name, in the ways phones and recorders write them."""
    for found in TIME_IN_NAME.finditer(name):
        year, month, day, hour, minute, second = (
            int(found[part] or 0) for part in ("year", "month", "day", "hour", "minute", "second")
        )
        if not found["colon"] and not found["second"] and hour == 0:
            continue  # 20261005_0003 is the day's third recording, not three past midnight
        if found["half"]:
            if not 1 <= hour <= 12:
                continue
            hour = hour % 12 + 12 * ("p" in found["half"].lower())
        with suppress(ValueError):
            yield datetime(
                year, month, day, hour, minute, second, tzinfo=UTC if found["utc"] else None
            )
