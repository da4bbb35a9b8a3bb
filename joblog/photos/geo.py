"""Distances on the earth, the fence of a job, where its places lie. Pure.

Geodesics are those of the WGS 84 ellipsoid (geographiclib, after Karney 2013).
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from statistics import median

from geographiclib.geodesic import Geodesic

from joblog.model import BookEntry, Fence, Position, Tie, Track

UNKNOWN_ERROR = 20.0
"""Metres, of a position that states none: what telephones do beside a house (common practice)."""

TOO_VAGUE = 150.0
"""Metres. Nothing is learned from a position with a larger error."""

ENOUGH = 4
"""Photos that a fence is learned from at least; with fewer, one of another job would weigh."""

LEAST_RADIUS = 60.0
"""Metres: a house with its yard, as telephones see it."""

REACH = 4.0
"""Times the median distance: of positions that scatter normally around one point, one in 66,000
lies further out (the median is 1.177 standard deviations, and exp(-(4 * 1.177)^2 / 2) is that)."""

SURE = 2.0
"""Errors that a position may lie outside of a fence and still be taken to be within."""

LEAST_SPREAD = 3.0
"""Metres: no place is a point."""

WALK = 1.0
"""Square metres a second: how far one wanders between two points of a track. Between points a
minute apart the middle is known to 4 m, between points ten minutes apart to 12 m."""

LONGEST_GAP = 1800.0
"""Seconds between two points of a track that still tell anything of the time between."""

LONGEST_AFTER = 120.0
"""Seconds before the first point of a track, and after the last, in which it still holds."""

TRACK_ERROR = 8.0
"""Metres, of a point of a track that states none (common practice)."""


@lru_cache(maxsize=20_000)
def distance(one: Position, other: Position) -> float:
    """Metres along the ground, as if both lay at the height of the sea."""
    # Remembered, for thousands of photos are asked about again after every decision.
    found = Geodesic.WGS84.Inverse(
        one.latitude, one.longitude, other.latitude, other.longitude, Geodesic.DISTANCE
    )
    return float(found["s12"])


def from_here(here: Position, there: Position) -> tuple[float, float]:
    """How many metres east and north of `here` the other lies, by distance and direction."""
    found = Geodesic.WGS84.Inverse(here.latitude, here.longitude, there.latitude, there.longitude)
    towards = math.radians(found["azi1"])
    return found["s12"] * math.sin(towards), found["s12"] * math.cos(towards)


def middle(positions: Sequence[Position]) -> Position:
    """The median east and the median north of all, whatever fewer than half of them say.

    Raises ValueError for none.
    """
    if not positions:
        raise ValueError("nothing has no middle")
    here = positions[0]
    offsets = [from_here(here, one) for one in positions]
    return _moved(here, median(east for east, _ in offsets), median(north for _, north in offsets))


# --- fences -----------------------------------------------------------------------------------


def learned_fence(positions: Iterable[Position]) -> Fence | None:
    """A circle around where nearly all of a job's photos were taken; None for fewer than ENOUGH.

    Centre and radius are medians, so that photos of another job, while they are fewer than half,
    hardly move them.
    """
    known = [one for one in positions if error_of(one) <= TOO_VAGUE]
    if len(known) < ENOUGH:
        return None
    centre = middle(known)
    radius = max(LEAST_RADIUS, REACH * median(distance(centre, one) for one in known))
    return Fence(centre.latitude, centre.longitude, radius, f"learned from {len(known)} photos")


def beyond(position: Position, fence: Fence) -> float:
    """How many metres a position lies outside of a fence for certain; 0 for within, or perhaps."""
    apart = distance(position, centre_of(fence))
    return max(0.0, apart - fence.radius - SURE * error_of(position))


def fitting(position: Position, fences: Mapping[str, Fence]) -> str | None:
    """The job whose fence holds the position, the nearest for its size; None where none does."""
    within = [
        (apart / fence.radius, job)
        for job, fence in fences.items()
        if (apart := distance(position, centre_of(fence))) <= fence.radius
    ]
    return min(within)[1] if within else None


def centre_of(fence: Fence) -> Position:
    return Position(fence.latitude, fence.longitude)


# --- places -----------------------------------------------------------------------------------


def learned_places(
    positions: Mapping[str, Position], ties: Iterable[Tie], entries: Iterable[BookEntry]
) -> dict[str, Position]:
    """Where each place lies, by the photos of entries that a person confirmed; with an error.

    `positions` are those of the photos, by SHA-256. An entry counts that was accepted or typed, and
    names a place. The error is how far its photos scatter, and no less than one photo's own error
    shrinks by their number.
    """
    named = {
        one.id: one.entry.place
        for one in entries
        if one.standing == "accepted" and one.entry.place and one.entry.kind != "correction"
    }
    taken: dict[str, list[Position]] = {}
    for tie in ties:
        place, position = named.get(tie.entry), positions.get(tie.photo)
        if place and position and error_of(position) <= TOO_VAGUE:
            taken.setdefault(place, []).append(position)
    return {place: _spot(known) for place, known in sorted(taken.items())}


def place_fits(position: Position, places: Mapping[str, Position]) -> dict[str, float]:
    """Of each place the log-likelihood that a photo of it is at `position`.

    Both scatter normally, alike in all directions, with their errors as standard deviations;
    natural logarithms of a density for a square metre. Only differences between places matter.
    """
    return {
        name: _log_density(distance(position, place), error_of(position), error_of(place))
        for name, place in places.items()
    }


def error_of(position: Position) -> float:
    """Metres: the stated error, else UNKNOWN_ERROR."""
    return UNKNOWN_ERROR if position.error is None else position.error


def _spot(known: Sequence[Position]) -> Position:
    centre = middle(known)
    scatter = median(distance(centre, one) for one in known) / 1.177
    own = median(map(error_of, known)) / math.sqrt(len(known))
    error = max(LEAST_SPREAD, scatter, own)
    return Position(centre.latitude, centre.longitude, None, error)


def _log_density(apart: float, *errors: float) -> float:
    variance = sum(error * error for error in errors)
    return -math.log(2 * math.pi * variance) - apart * apart / (2 * variance)


# --- tracks -----------------------------------------------------------------------------------


def on_tracks(tracks: Iterable[Track], at: float) -> tuple[Position, Track] | None:
    """Where one was at a moment, in seconds since 1970 UTC, by the track that knows it best."""
    found = [(place, track) for track in tracks if (place := on_track(track, at))]
    return min(found, key=lambda one: error_of(one[0])) if found else None


def on_track(track: Track, at: float) -> Position | None:
    """The position on the way between the points before and after a moment.

    Its error grows with the time to the nearer point, as of one who wanders (WALK), and with a
    quarter of the way between them. None further than LONGEST_AFTER from both ends, and in a gap
    of more than LONGEST_GAP.
    """
    points = track.points
    after = bisect_left(points, at, key=lambda point: point.at)
    if after < len(points) and points[after].at == at:
        return _with_error(points[after].position, 0.0)
    if after in (0, len(points)):
        end = points[0 if after == 0 else -1] if points else None
        if end is None or abs(end.at - at) > LONGEST_AFTER:
            return None
        return _with_error(end.position, WALK * abs(end.at - at))
    before, behind = points[after - 1], points[after]
    gap = behind.at - before.at
    if gap > LONGEST_GAP:
        return None
    share = (at - before.at) / gap
    line = Geodesic.WGS84.InverseLine(
        before.position.latitude, before.position.longitude,
        behind.position.latitude, behind.position.longitude,
    )  # fmt: skip
    there = line.Position(share * line.s13)
    nearer = before if share < 0.5 else behind
    halfway = 4 * share * (1 - share)
    variance = WALK * gap * share * (1 - share) + (halfway * line.s13 / 4) ** 2
    position = Position(there["lat2"], there["lon2"], None, nearer.position.error)
    return _with_error(position, variance)


def _with_error(position: Position, variance: float) -> Position:
    own = TRACK_ERROR if position.error is None else position.error
    return Position(
        position.latitude, position.longitude, position.altitude, math.hypot(own, variance**0.5)
    )


def _moved(here: Position, east: float, north: float) -> Position:
    towards, apart = math.degrees(math.atan2(east, north)), math.hypot(east, north)
    found = Geodesic.WGS84.Direct(here.latitude, here.longitude, towards, apart)
    return Position(found["lat2"], found["lon2"])
