"""Where a job is, where its photos were taken, and where its places lie."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from zoneinfo import ZoneInfo

from joblog.book import decisions, ground
from joblog.local import moment_written
from joblog.model import Fence, Photo, Placed, Position, Sketch, Spot
from joblog.service.desk import Desk
from joblog.service.errors import ServiceError, use_case
from joblog.service.record import alike, corrected_moments

USUAL_RADIUS = 100.0
"""Metres of a fence that is set by hand."""


@use_case
def placed(desk: Desk, day: date | None = None) -> dict[str, Placed]:
    """Where each photo was taken, by SHA-256: as its camera says, else as a track log tells."""
    photos = desk.book.photos(desk.job.name, day)
    return ground.placed(desk.book, photos, corrected_moments(desk))


@use_case
def placed_recordings(desk: Desk) -> dict[str, Placed]:
    """Where each recording was begun, by SHA-256, as far as a track log tells."""
    return ground.placed_recordings(desk.book, desk.book.recordings(desk.job.name))


@use_case
def astray(desk: Desk, day: date | None = None) -> dict[str, str]:
    """What to tell of each photo that was taken outside of the job's fence, by SHA-256."""
    return ground.astray(desk.book, desk.job.name, desk.book.photos(desk.job.name, day))


@use_case
def fence(desk: Desk) -> Fence | None:
    """The fence of the job; None while it has too few photos with a position, and none is set."""
    return ground.fence(desk.book, desk.job.name)


@use_case
def set_fence(desk: Desk, latitude: float, longitude: float, radius: float) -> Fence:
    """Sets the fence around a point in degrees, with a radius in metres.

    Raises `ServiceError` for what is no place on earth, or no size of a job.
    """
    if not (abs(latitude) <= 90 and abs(longitude) <= 180):
        raise ServiceError(
            f"{latitude:g} {longitude:g} is no place on earth; write degrees, as 41.52 -70.66"
        )
    if not 5 <= radius <= 50_000:
        raise ServiceError(f"{radius:g} m is no radius of a job; write 5 to 50000 metres")
    wanted = Fence(latitude, longitude, radius, ground.BY_HAND)
    decisions.set_fence(desk.book, desk.job.name, wanted)
    return wanted


@use_case
def learn_fence(desk: Desk) -> Fence | None:
    """Forgets the fence that was set by hand; the one that the photos teach, if they do."""
    decisions.set_fence(desk.book, desk.job.name, None)
    return ground.fence(desk.book, desk.job.name)


@use_case
def places(desk: Desk) -> dict[str, Position]:
    """Where places of the job lie, with an error, as far as confirmed entries with photos tell."""
    return ground.places(desk.book, desk.job.name)


@use_case
def sketch(desk: Desk, day: date | None = None) -> Sketch | None:
    """The site in metres, with the places and the photos of the job or of one day.

    Of alike photos the best one with a position stands for all. None where nothing has a position.
    """
    photos = desk.book.photos(desk.job.name, day)
    where, lies = placed(desk, day), places(desk)
    known = [one.position for one in where.values()]
    if not (known or lies):
        return None
    from joblog.photos.geo import centre_of, error_of, from_here, middle

    own = fence(desk)
    here = middle(known or list(lies.values()))
    spots = [
        Spot("place", name, *from_here(here, position), error_of(position))
        for name, position in lies.items()
    ]
    for photo, note in _noted(desk, photos, where, day):
        position = where[photo.sha256].position
        spots.append(
            Spot("photo", photo.name, *from_here(here, position), error_of(position), note)
        )
    circle = None if own is None else (*from_here(here, centre_of(own)), own.radius)
    return Sketch(here, tuple(spots), circle, len(photos) - len(known))


def _noted(
    desk: Desk, photos: Sequence[Photo], where: dict[str, Placed], day: date | None
) -> list[tuple[Photo, str]]:
    """The photos that are drawn, each with when it was taken and how many it stands for."""
    zone, moments = ZoneInfo(desk.job.zone), corrected_moments(desk)
    stands_for: dict[str, int] = {}
    behind: set[str] = set()
    for group in alike(desk, day):
        drawn = [one for one in group if one in where]
        if drawn:
            stands_for[drawn[0]] = len(group)
            behind |= set(drawn[1:])
    return [
        (
            photo,
            moment_written(moments[photo.sha256].astimezone(zone), seconds=True)
            + (f", {stands_for[photo.sha256]} alike" if photo.sha256 in stands_for else ""),
        )
        for photo in photos
        if photo.sha256 in where and photo.sha256 not in behind
    ]
