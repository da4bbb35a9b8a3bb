"""Which words a photo belongs to. Pure."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from datetime import datetime, timedelta

from joblog.model import BookEntry, Photo, Tie
from joblog.photos.taken import DAY_IN_NAME

CUE_LIMIT = timedelta(minutes=3)
"""Who says "photo" takes it at once, or after climbing down and wiping a hand, or has just taken
it. Telephones set their clocks by the network, so that the gap is the person's, not the clock's."""

AROUND_LIMIT = timedelta(minutes=10)
"""Further apart than this, the talk was most likely about other work."""


def tie(photos: Sequence[Photo], entries: Sequence[BookEntry]) -> tuple[Tie, ...]:
    """One tie for each photo that belongs to some words, in the order the photos were taken.

    A photo belongs to the entry of kind "photo" nearest in time if that is within CUE_LIMIT,
    however near other words are; else to the nearest entry of any kind within AROUND_LIMIT; else
    to nothing. Of two equally near the one said before the photo counts, of two said at once the
    one with the lower id. Dropped entries and corrections are passed over, and so are photos of
    which only the day is known. The order of the arguments does not matter.
    """
    spoken = [entry for entry in entries if _counts(entry)]
    cues = _by_moment(entry for entry in spoken if entry.entry.kind == "photo")
    words = _by_moment(spoken)
    timed = [photo for photo in photos if photo.taken.source != DAY_IN_NAME]
    ties: list[Tie] = []
    for photo in sorted(timed, key=lambda photo: (photo.taken.at, photo.sha256)):
        found = _nearest(photo, cues, CUE_LIMIT, "said 'photo'")
        found = found or _nearest(photo, words, AROUND_LIMIT, "said nearest,")
        ties.extend([found] if found else [])
    return tuple(ties)


def _counts(entry: BookEntry) -> bool:
    return entry.standing != "dropped" and entry.entry.kind != "correction"


def _by_moment(entries: Iterable[BookEntry]) -> tuple[tuple[datetime, int], ...]:
    """Each moment at which something was said, in order, with the lowest id said then."""
    first: dict[datetime, int] = {}
    for entry in entries:
        first[entry.at] = min(entry.id, first.get(entry.at, entry.id))
    return tuple(sorted(first.items()))


def _nearest(
    photo: Photo, said: tuple[tuple[datetime, int], ...], limit: timedelta, how: str
) -> Tie | None:
    """The tie to the nearest of `said` within `limit`."""
    taken = photo.taken.at
    after = bisect_right(said, taken, key=lambda moment: moment[0])
    beside = [(abs(taken - at), at, entry) for at, entry in said[max(0, after - 1) : after + 1]]
    if not beside or min(beside)[0] > limit:
        return None
    _, at, entry = min(beside)
    apart = (taken - at).total_seconds()
    return Tie(photo.sha256, entry, f"{how} {_in_words(apart)}{_by(photo)}", apart)


def _in_words(apart: float) -> str:
    seconds = round(abs(apart))
    if seconds == 0:
        return "at the same moment"
    minutes, rest = divmod(seconds, 60)
    parts = ((minutes, "min"), (rest, "s"))
    span = " ".join(f"{count} {unit}" for count, unit in parts if count)
    return f"{span} {'before' if apart > 0 else 'after'}"


def _by(photo: Photo) -> str:
    """A word of warning where the photo's moment is not the camera's own."""
    camera = photo.taken.source.startswith(("EXIF", "GPS"))
    return "" if camera else f" (by the {photo.taken.source})"
