"""Where something was said or photographed, and how that is known."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from zoneinfo import ZoneInfo

from joblog.book import ground
from joblog.form import plain
from joblog.model import BookEntry, Photo, Position
from joblog.service.desk import Desk
from joblog.service.errors import ServiceError, use_case
from joblog.service.ground import placed
from joblog.service.record import corrected_moments, local_day


@dataclass(frozen=True, slots=True)
class Whereabouts:
    position: Position
    how: str
    """In words: "by its camera", or "it has no place of its own; nearest is photo eave.jpg, 4 min
    earlier"."""

    @property
    def text(self) -> str:
        """Latitude and longitude, to a tenth of a metre, as maps read them."""
        return f"{self.position.latitude:.6f}, {self.position.longitude:.6f}"


@use_case
def where_said(desk: Desk, entry: BookEntry) -> Whereabouts:
    """Where an entry was said: by a track, else by what is nearest in time on its day.

    A recording has no position of its own. Raises `ServiceError` where nothing of the day has one.
    """
    return _by_track(desk, entry.at) or _nearest(desk, entry.at)


@use_case
def where_taken(desk: Desk, photo: Photo) -> Whereabouts:
    """Where a photo was taken: by its camera or a track, else by what is nearest in time."""
    if photo.position is not None:
        return Whereabouts(photo.position, "by its camera")
    at = corrected_moments(desk).get(photo.sha256, photo.taken.at)
    return _by_track(desk, at) or _nearest(desk, at)


def _by_track(desk: Desk, at: datetime) -> Whereabouts | None:
    tracks = ground.tracks(desk.book, [at])
    if not tracks:
        return None
    from joblog.photos.geo import on_tracks

    found = on_tracks(tracks, at.timestamp())
    return Whereabouts(found[0], f"by the track {plain(found[1].name)}") if found else None


def _nearest(desk: Desk, at: datetime) -> Whereabouts:
    known = sorted((*_photos(desk, at), *_points(desk, at)), key=lambda one: abs(one[0]))
    if not known:
        raise ServiceError("no photo and no track of this day says where it was")
    seconds, position, name = known[0]
    return Whereabouts(
        position, f"it has no place of its own; nearest is {name}, {_apart(seconds)}"
    )


_Known = tuple[float, Position, str]
"""How many seconds after the moment, where, and by what."""


def _photos(desk: Desk, at: datetime) -> Iterator[_Known]:
    day = local_day(at, ZoneInfo(desk.job.zone))
    where, moments = placed(desk, day), corrected_moments(desk)
    for photo in desk.book.photos(desk.job.name, day):
        if photo.sha256 in where:
            seconds = (moments.get(photo.sha256, photo.taken.at) - at).total_seconds()
            yield seconds, where[photo.sha256].position, f"photo {plain(photo.name)}"


def _points(desk: Desk, at: datetime) -> Iterator[_Known]:
    zone = ZoneInfo(desk.job.zone)
    begins = datetime.combine(local_day(at, zone), time(), zone)
    first, last = begins.timestamp(), (begins + timedelta(days=1)).timestamp()
    for track in ground.tracks(desk.book, [begins, begins + timedelta(days=1)]):
        for point in track.points:
            if first <= point.at < last:
                yield point.at - at.timestamp(), point.position, f"track {plain(track.name)}"


def _apart(seconds: float) -> str:
    size, unit = next(
        (size, unit) for size, unit in _UNITS if abs(seconds) >= 2 * size or size == 1
    )
    return f"{abs(seconds) / size:.0f} {unit} {'later' if seconds > 0 else 'earlier'}"


_UNITS = ((3600, "h"), (60, "min"), (1, "s"))
