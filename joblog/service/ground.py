"""Where a job is, where its photos were taken, and where its places lie."""

from __future__ import annotations

from datetime import date

from joblog.book import decisions, ground
from joblog.model import Fence, Placed, Position
from joblog.service.desk import Desk
from joblog.service.errors import ServiceError, use_case
from joblog.service.record import corrected_moments

USUAL_RADIUS = 100.0
"""Metres of a fence that is set by hand."""


@use_case
def placed(desk: Desk, day: date | None = None) -> dict[str, Placed]:
    """Where each photo was taken, by SHA-256: as its camera says, else as a track log tells."""
    photos = desk.book.photos(desk.job.name, day)
    return ground.placed(desk.book, photos, corrected_moments(desk))


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
