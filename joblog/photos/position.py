"""Where a picture was taken."""

from __future__ import annotations

from fractions import Fraction

from joblog.model import Direction, Position
from joblog.photos.exif import Tags, numbers, text

LOWEST, HIGHEST = -500, 9000
"""Metres. Nobody puts up soffit below the Dead Sea or above Everest."""

WORST = 100_000
"""Metres. An error of more says nothing, or that there was no fix."""

ERROR = ("GPS GPSHPositioningError", "GPS Tag 0x001F")
"""The second is what exifread calls what it has no name for."""


def position(tags: Tags) -> tuple[Position | None, str | None]:
    """The position in WGS 84 degrees, and what had to be ignored, in words.

    GPSLatitude and GPSLongitude are degrees, minutes and seconds as three rationals, each with
    its reference, GPSHPositioningError is metres (CIPA DC-008, Exif 2.32, GPS tags). An absurd
    altitude costs only the altitude, an absurd error only the error.
    """
    if "GPS GPSLatitude" not in tags and "GPS GPSLongitude" not in tags:
        return None, None
    try:
        latitude = _degrees(tags, "latitude", "NS", 90)
        longitude = _degrees(tags, "longitude", "EW", 180)
    except AbsurdError as absurd:
        return None, f"its position was ignored: {absurd}"
    if latitude == longitude == 0:
        return None, "its position was ignored: it is 0, 0, what a camera writes that has none"
    error = _error(tags)
    try:
        return Position(latitude, longitude, _altitude(tags), error), None
    except AbsurdError as absurd:
        return Position(latitude, longitude, None, error), f"its altitude was ignored: {absurd}"


def direction(tags: Tags) -> Direction | None:
    """Where the camera looked, GPSImgDirection; without a reference it is from true north."""
    known = [part for part in numbers(tags, "GPS GPSImgDirection") if part is not None]
    if len(known) != 1 or not 0 <= known[0] <= 360:
        return None
    magnetic = text(tags, "GPS GPSImgDirectionRef").upper().startswith("M")
    return Direction(float(known[0] % 360), "magnetic" if magnetic else "true")


class AbsurdError(Exception):
    """What is absurd, in words."""


def _degrees(tags: Tags, name: str, references: str, most: int) -> float:
    parts = numbers(tags, f"GPS GPS{name.title()}")
    known = [part for part in parts if part is not None]
    if len(parts) != 3 or len(known) != 3:
        raise AbsurdError(f"the {name} is not three numbers")
    degrees, minutes, seconds = known
    size = degrees + minutes / 60 + seconds / 3600
    if min(known) < 0 or minutes > 60 or seconds > 60 or size > most:
        raise AbsurdError(f"the {name} says {_shown(known)}")
    reference = text(tags, f"GPS GPS{name.title()}Ref").upper()[:1]
    if not reference or reference not in references:
        raise AbsurdError(f"the {name} does not say {' or '.join(references)}")
    return float(size if reference == references[0] else -size)


def _altitude(tags: Tags) -> float | None:
    if "GPS GPSAltitude" not in tags:
        return None
    known = [part for part in numbers(tags, "GPS GPSAltitude") if part is not None]
    if len(known) != 1:
        raise AbsurdError("it is no number")
    below_the_sea = 1 in numbers(tags, "GPS GPSAltitudeRef")
    metres = -known[0] if below_the_sea else known[0]
    if not LOWEST <= metres <= HIGHEST:
        raise AbsurdError(f"it says {float(metres):.0f} m")
    return float(metres)


def _error(tags: Tags) -> float | None:
    found = next((name for name in ERROR if name in tags), ERROR[0])
    known = [part for part in numbers(tags, found) if part is not None]
    return float(known[0]) if len(known) == 1 and 0 < known[0] < WORST else None


def _shown(parts: list[Fraction]) -> str:
    return " ".join(f"{float(part):g}" for part in parts)
