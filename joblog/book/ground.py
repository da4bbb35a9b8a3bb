"""Where things are: fences of jobs, logs of tracks, and where that puts the photos of a job."""

from __future__ import annotations

import json
import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from functools import lru_cache

from joblog.book import rows
from joblog.book.rows import Row
from joblog.book.store import Book
from joblog.model import Fence, Photo, Placed, Position, Problem, Recording, Track, TrackPoint

BY_HAND = "set by hand"


def placed(
    book: Book, photos: Iterable[Photo], moments: Mapping[str, datetime] | None = None
) -> dict[str, Placed]:
    """The position of each photo that has one, by SHA-256: its own, else by a track.

    `moments` are corrected ones; else each photo's own. Only a moment that is better known than to
    the day is looked up.
    """
    found: dict[str, Placed] = {}
    unplaced: dict[str, datetime] = {}
    for photo in photos:
        if photo.position is not None:
            found[photo.sha256] = Placed(photo.position, "camera")
        elif not photo.taken.source.startswith("day "):
            unplaced[photo.sha256] = (moments or {}).get(photo.sha256, photo.taken.at)
    return found | _by_tracks(book, unplaced)


def placed_recordings(book: Book, recordings: Iterable[Recording]) -> dict[str, Placed]:
    """Where each recording was begun, by SHA-256, as far as a track log tells."""
    return _by_tracks(book, {one.sha256: one.made.at for one in recordings})


def _by_tracks(book: Book, moments: Mapping[str, datetime]) -> dict[str, Placed]:
    logs = tracks(book, list(moments.values())) if moments else ()
    if not logs:
        return {}
    from joblog.photos.geo import on_tracks

    there = ((name, on_tracks(logs, at.timestamp())) for name, at in moments.items())
    return {name: Placed(on[0], on[1].name) for name, on in there if on}


def fence(book: Book, job: str) -> Fence | None:
    """The job's fence: set by hand, else learned from its photos; None while they are too few."""
    return _by_hand(book, job) or _learned(book, job)


def fences(book: Book) -> dict[str, Fence]:
    """The fences of all jobs that have one."""
    return {job.name: one for job in book.jobs() if (one := fence(book, job.name))}


def astray(
    book: Book, job: str, photos: Iterable[Photo], known: Mapping[str, Fence] | None = None
) -> dict[str, str]:
    """What to tell of each photo that was certainly taken outside of the job's fence, by SHA-256.

    It names the job that it fits, if one does. Nothing is moved. One that a person tied to an entry
    by hand is where it belongs.
    """
    from joblog.photos.geo import beyond, fitting

    every = fences(book) if known is None else known
    own = every.get(job)
    if own is None:
        return {}
    settled = {row["photo"] for row in book._rows("SELECT photo FROM hand_tie WHERE tied = 1")}
    others = {name: one for name, one in every.items() if name != job}
    told = {}
    for photo in photos:
        if photo.position is None or photo.sha256 in settled:
            continue
        apart = beyond(photo.position, own)
        if apart > 0:
            fits = fitting(photo.position, others)
            told[photo.sha256] = _told(photo, apart, fits)
    return told


def notes(book: Book, job: str, sha256s: Iterable[str]) -> list[Problem]:
    """`astray` of some photos, as intake tells it."""
    wanted = set(sha256s)
    photos = [photo for photo in book.photos(job) if photo.sha256 in wanted]
    told = astray(book, job, photos)
    return [Problem(one.name, told[one.sha256]) for one in photos if one.sha256 in told]


def places(book: Book, job: str) -> dict[str, Position]:
    """Where places lie, with an error, by the photos of the entries that a person confirmed."""
    known = {sha256: one.position for sha256, one in placed(book, book.photos(job)).items()}
    if not known:
        return {}
    from joblog.photos.geo import learned_places

    return learned_places(known, book.ties(job), book.entries(job))


# --- tracks -----------------------------------------------------------------------------------


def tracks(book: Book, moments: Sequence[datetime] | None = None) -> tuple[Track, ...]:
    """The logs of all jobs, for one person carries one; in the order of their first points.

    With `moments`, only those that may tell of any of them.
    """
    first, last = -math.inf, math.inf
    if moments is not None:
        from joblog.photos.geo import LONGEST_AFTER

        known = [at.timestamp() for at in moments]
        first = min(known, default=math.inf) - LONGEST_AFTER
        last = max(known, default=-math.inf) + LONGEST_AFTER
    where = "began <= ? AND ended >= ? ORDER BY began, sha256"
    found = book._kept("track", f"SELECT * FROM track WHERE {where}", last, first)
    return tuple(map(_track_from, found))


def track_row(track: Track) -> Row:
    points = [
        [one.at, one.position.latitude, one.position.longitude, one.position.altitude,
         one.position.error]
        for one in track.points
    ]  # fmt: skip
    return {
        "sha256": track.sha256,
        "name": rows.readable(track.name),
        "began": track.points[0].at,
        "ended": track.points[-1].at,
        "points": json.dumps(points, allow_nan=False),
        "trouble": track.trouble,
    }


def _track_from(row: Row) -> Track:
    points = tuple(
        TrackPoint(at, Position(latitude, longitude, altitude, error))
        for at, latitude, longitude, altitude, error in json.loads(row["points"])
    )
    return Track(row["sha256"], row["name"], points, row["trouble"])


def _by_hand(book: Book, job: str) -> Fence | None:
    number = book._job(job)["id"]
    found = book._kept("fence", "SELECT * FROM fence WHERE job = ?", number)
    return next(
        (Fence(row["latitude"], row["longitude"], row["radius"], BY_HAND) for row in found), None
    )


def _learned(book: Book, job: str) -> Fence | None:
    positions = tuple(photo.position for photo in book.photos(job) if photo.position)
    return _around(positions) if positions else None


@lru_cache(maxsize=32)
def _around(positions: tuple[Position, ...]) -> Fence | None:
    """Kept, because every decision asks for it and hundreds of geodesics take a while."""
    from joblog.photos.geo import learned_fence

    found = learned_fence(positions)
    return found and replace(found, radius=round(found.radius, 1))


def _told(photo: Photo, apart: float, fits: str | None) -> str:
    far = f"{apart:,.0f} m" if apart < 10_000 else f"{apart / 1000:,.0f} km"
    told = f"was taken {far} outside of this job's fence"
    if fits is None:
        return told
    return f'{told}, and fits {fits}; if so: joblog move "{photo.name}" --to "{fits}"'
