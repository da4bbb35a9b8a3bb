"""Which photos of a day show the same thing, and which of them is the best to look at. Pure."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from datetime import date, timedelta
from zoneinfo import ZoneInfo

from joblog.model import Photo
from joblog.photos.taken import DAY_IN_NAME

SECONDS = timedelta(seconds=20)
"""Between two of a burst, or a second try at the same thing."""

BITS_IN_A_BURST = 14
"""Of 64 that may differ. Of made pictures that were moved by a fortieth, turned by a degree, made
lighter and noisy, 9 in 10 differ in no more; of those of different things, none in 780 pairs in
fewer than 18 (`tests/photos/test_alike.py` makes such pictures)."""

BITS_AT_ANY_TIME = 6
"""The same picture once more, smaller or saved anew, differs in 2; another wall that looks much the
same must not count."""

FLAT = 1.0
"""Sharpness of a picture that shows next to nothing, such as a thumb: all of them look alike."""

WELL_EXPOSED = (0.08, 0.92)
"""Brightness; outside of it a picture hardly shows anything, however sharp its noise."""

Group = tuple[str, ...]
"""SHA-256 of photos that are alike, the best one first."""

_Seen = tuple[Photo, int]
"""A photo and its likeness as bits."""

_Related = Callable[[_Seen, _Seen], bool]


def groups(photos: Iterable[Photo], zone: str) -> tuple[Group, ...]:
    """The groups of two and more alike photos, each of one day in the job's zone.

    Two are alike that were taken by one camera within SECONDS and differ in BITS_IN_A_BURST at
    most, or at any time of the day and differ in BITS_AT_ANY_TIME; and what is alike to one of a
    group belongs to it. The best one is well exposed and the sharpest. By the time of the first.
    """
    return _grouped(photos, zone, _alike)


def bursts(photos: Iterable[Photo], zone: str) -> tuple[Group, ...]:
    """The same, of those only that one camera took within SECONDS of each other."""
    return _grouped(photos, zone, _of_a_burst)


def rank(found: Iterable[Sequence[str]]) -> dict[str, tuple[int, int]]:
    """Of each photo of a group its place in it, 1 for the best, and how many there are."""
    return {one: (at, len(group)) for group in found for at, one in enumerate(group, 1)}


def best_first(photos: Iterable[Photo]) -> list[Photo]:
    """Well exposed before badly exposed, then the sharpest, then the earliest."""
    return sorted(photos, key=_worth)


def _worth(photo: Photo) -> tuple[object, ...]:
    look = photo.look
    badly = look is None or not WELL_EXPOSED[0] <= look.brightness <= WELL_EXPOSED[1]
    return badly, -look.sharpness if look else 0.0, photo.taken.at, photo.sha256


def _grouped(photos: Iterable[Photo], zone: str, related: _Related) -> tuple[Group, ...]:
    local = ZoneInfo(zone)
    days: dict[date, list[_Seen]] = defaultdict(list)
    for photo in sorted(photos, key=lambda one: (one.taken.at, one.sha256)):
        if photo.look is not None:
            seen = (photo, int(photo.look.likeness, 16))
            days[photo.taken.at.astimezone(local).date()].append(seen)
    return tuple(
        tuple(photo.sha256 for photo in best_first(members))
        for seen in days.values()
        for members in _joined(seen, related)
    )


def _alike(one: _Seen, other: _Seen) -> bool:
    apart = (one[1] ^ other[1]).bit_count()
    if apart > BITS_IN_A_BURST:
        return False
    shown = apart <= BITS_AT_ANY_TIME and not (_flat(one[0]) or _flat(other[0]))
    return shown or _of_one_moment(one[0], other[0])


def _flat(photo: Photo) -> bool:
    return photo.look is None or photo.look.sharpness <= FLAT


def _of_a_burst(one: _Seen, other: _Seen) -> bool:
    apart = (one[1] ^ other[1]).bit_count()
    return apart <= BITS_IN_A_BURST and _of_one_moment(one[0], other[0])


def _of_one_moment(one: Photo, other: Photo) -> bool:
    apart = abs(one.taken.at - other.taken.at)
    return one.camera == other.camera and apart <= SECONDS and one.taken.source != DAY_IN_NAME


def _joined(seen: Sequence[_Seen], related: _Related) -> Iterator[list[Photo]]:
    """Whatever hangs together, in the order of the first."""
    of = list(range(len(seen)))
    members = {one: [one] for one in of}
    for one, other in _near(seen):
        if of[one] != of[other] and related(seen[one], seen[other]):
            new, old = sorted((of[one], of[other]))
            for joining in members[old]:
                of[joining] = new
            members[new] += members.pop(old)
    for group in members.values():
        if len(group) > 1:
            yield [seen[one][0] for one in sorted(group)]


def _near(seen: Sequence[_Seen]) -> Iterator[tuple[int, int]]:
    """The pairs that differ in no more bits than any two alike ones do, of two million in a fifth
    of a second."""
    every = [likeness for _, likeness in seen]
    for one, likeness in enumerate(every):
        for other, its in enumerate(every[one + 1 :], one + 1):
            if (likeness ^ its).bit_count() <= BITS_IN_A_BURST:
                yield one, other
