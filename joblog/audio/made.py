"""When a recording was begun: what its container says, else its name, else the file's own time."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from contextlib import suppress
from datetime import UTC, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

from joblog.audio.decode import AudioError, opened
from joblog.model import Moment

EARLIEST, LATEST = 2005, 9000
"""Clocks that nobody set begin in 1904, 1970, 1980, 2000 or 2001; no recording is that old.
The other end only keeps reckoning inside what a calendar can hold."""

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


def made_at(path: Path, zone: str, seconds: float) -> Moment:
    """When the recording began, in the job's zone, and where that was found.

    `zone` is the job's IANA zone, in which a time without a zone is read; a time that a clock
    change skips is read as before the change, one that it repeats as the first. `seconds` is the
    recording's length. `source` is "container", "file name" or "file time".
    Raises `OSError` when the file is gone.
    """
    local = ZoneInfo(zone)
    for source, found in (("container", _in_container(path)), ("file name", _in_name(path.stem))):
        for at in found:
            if not EARLIEST <= at.year < LATEST:
                continue
            # Through UTC, so that a time that never was becomes the one the clocks showed.
            aware = (at if at.tzinfo else at.replace(tzinfo=local)).astimezone(UTC)
            if aware <= datetime.now(UTC) + timedelta(days=1):
                return Moment(aware.astimezone(local), source)
    written = datetime.fromtimestamp(path.stat().st_mtime, UTC)
    return Moment((written - timedelta(seconds=seconds)).astimezone(local), "file time")


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
