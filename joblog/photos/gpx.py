"""A track log, GPX 1.1 or 1.0, as a Track."""

from __future__ import annotations

import hashlib
import logging
import math
from collections.abc import Iterator
from datetime import UTC
from pathlib import Path
from typing import Any, TypeGuard
from xml.parsers import expat

import gpxpy
import gpxpy.gpx

from joblog.model import Position, Track, TrackPoint
from joblog.photos.picture import PhotoError

LONGEST = 15_000_000
"""Bytes: three days of points a second apart. Reading takes some fifteen times as much memory."""

DEEPEST = 40
"""Elements within each other; a point lies four deep, what programs add to it a few more."""

MOST_NAMESPACES = 100
"""gpxpy searches for them in a time that grows with their square."""

RANGING = 5.0
"""Metres of error for a dilution of one (common practice)."""

YEARS = range(2000, 2100)

AGAIN = "write it anew with the program that recorded it, as GPX 1.1, and add that"

logging.getLogger("gpxpy").setLevel(logging.CRITICAL)


def read_track(path: Path) -> Track:
    """The points of all tracks in it that tell a time and a place, in the order of time.

    A time without a zone is UTC, as the schema of GPX 1.1 says. Of two points at one moment the
    first counts. Raises PhotoError for what is no GPX, holds no such point, or brings a document
    type along: entities could make a small file fill the memory.
    """
    content = _content(path)
    points: dict[float, TrackPoint] = {}
    passed_over = 0
    for point in _points(path, content):
        read = _read(point)
        if read is None:
            passed_over += 1
        else:
            points.setdefault(read.at, read)
    if not points:
        raise PhotoError(path, f"holds no point of a track with a time; {AGAIN}")
    trouble = f"{passed_over} of its points tell no time or no place on earth, and were passed over"
    return Track(
        hashlib.sha256(content).hexdigest(),
        path.name,
        tuple(points[at] for at in sorted(points)),
        trouble if passed_over else None,
    )


def _content(path: Path) -> bytes:
    try:
        with path.open("rb") as stream:
            content = stream.read(LONGEST + 1)
    except OSError as error:
        reason = error.strerror or "the disk gave an error"
        raise PhotoError(path, f"cannot be read ({reason}); copy it again") from None
    if len(content) > LONGEST:
        why = f"is too large for a track log (over {LONGEST // 1_000_000} MB); add it day by day"
        raise PhotoError(path, why)
    return content


def _points(path: Path, content: bytes) -> Iterator[gpxpy.gpx.GPXTrackPoint]:
    # Nothing but UTF-8, for entities could hide in another coding.
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise PhotoError(path, f"is no GPX in UTF-8; {AGAIN}") from None
    if "<!DOCTYPE" in text or "<!ENTITY" in text:
        raise PhotoError(path, f"brings a document type along, which no track log needs; {AGAIN}")
    if text.count("xmlns") > MOST_NAMESPACES or _deeper_than(DEEPEST, text):
        raise PhotoError(path, f"is made otherwise than any track log; {AGAIN}")
    try:
        found = gpxpy.parse(text)
    except Exception:  # a damaged file makes it raise almost anything
        raise PhotoError(path, f"is damaged, or no GPX; {AGAIN}") from None
    for track in found.tracks:
        for segment in track.segments:
            yield from segment.points


def _deeper_than(most: int, text: str) -> bool:
    """Whether more elements than that lie within each other, as far as the text can be read."""
    depth, deepest = 0, 0

    def begin(_name: str, _attributes: object) -> None:
        nonlocal depth, deepest
        depth += 1
        deepest = max(deepest, depth)
        if deepest > most:
            raise _TooDeepError

    def end(_name: str) -> None:
        nonlocal depth
        depth -= 1

    parser = expat.ParserCreate()
    parser.StartElementHandler, parser.EndElementHandler = begin, end
    try:
        parser.Parse(text, True)
    except _TooDeepError:
        return True
    except (expat.ExpatError, ValueError):
        return False  # gpxpy will say so too.
    return False


class _TooDeepError(Exception):
    pass


def _read(point: gpxpy.gpx.GPXTrackPoint) -> TrackPoint | None:
    latitude, longitude, at = point.latitude, point.longitude, point.time
    if at is None or at.year not in YEARS or not (_is_number(latitude) and _is_number(longitude)):
        return None
    if not (-90 <= latitude <= 90 and -180 <= longitude <= 180):
        return None
    utc = at if at.tzinfo else at.replace(tzinfo=UTC)
    height = point.elevation if _is_number(point.elevation) else None
    dilution = point.horizontal_dilution
    error = RANGING * dilution if _is_number(dilution) and dilution > 0 else None
    place = Position(float(latitude), float(longitude), height, error)
    return TrackPoint(utc.timestamp(), place)


def _is_number(value: Any) -> TypeGuard[float]:
    return isinstance(value, int | float) and math.isfinite(value)
