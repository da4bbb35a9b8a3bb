"""How far the clock of each camera was off, day by day. Pure.

Who says "photo of the gable" takes it some seconds later, or just took it. Laid over each other at
the right offset, shutter times and spoken cues of a day fit at many places; at a wrong one only by
chance. The posterior over all offsets within fourteen hours says which offset it is, and how sure
that is; what it is not sure of is not applied.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from functools import lru_cache
from zoneinfo import ZoneInfo

import numpy as np

from joblog.model import BookEntry, ClockCorrection, ClockSource, Photo
from joblog.photos.cues import WEIGHTS, spoken_cues
from joblog.photos.offsets import (
    A_DAY,
    EARLIEST,
    LATEST,
    OFFSETS,
    REACH,
    SPOKEN,
    Floats,
    bell,
    delay_density,
    evidence,
    prior,
)

Clock = tuple[str, date]
"""A camera, and a day by its own clock where the job is."""

NAMELESS = "unnamed camera"

OWN_CLOCK = ("EXIF", "XMP", "PNG text", "file name")
"""How the sources of moments begin that a camera's own clock gave."""

SURE = ClockCorrection.SURE

BURST = timedelta(seconds=2.5)
"""Shots of one camera that follow each other as fast are one moment."""

HALF_AN_HOUR = 1800.0
"""Seconds; zones differ by multiples of it, all but a few."""

AROUND = 3600.0
"""Seconds before a camera's first photo of a day and after its last in which cues are counted."""
SAME = 20
"""Seconds. Offsets so near are one and the same, told by fewer or more cues."""
NEGLIGIBLE = 5.0
"""Seconds. Less is the person's delay as likely as the clock's error."""
KEEPS_ITS_CLOCK = 0.97
"""The chance that nobody set a camera's clock from one of its days to the next."""
WANDERS = 2.0
"""Seconds a day; a cheap clock."""
DRIFTS = 0.3
"""Seconds an hour, the same."""
STALE = 10.0
"""Seconds. A satellites' time may be as old as the last fix, mostly less than this."""
APART = timedelta(minutes=1)
"""Moments further apart than this have each a fix of their own."""


def clocks(
    photos: Iterable[Photo],
    entries: Iterable[BookEntry],
    zone: str,
    by_hand: Mapping[Clock, float] | None = None,
) -> tuple[ClockCorrection, ...]:
    """What each camera's clock was off by, for every day of it, by camera and day.

    `zone` is the job's; `by_hand` holds the seconds that a person set, which stand. Then the
    satellites' time counts, where a photo has it; then the posterior over offsets, from the spoken
    cues of this day and what the camera's neighbouring days say. Photos that take their time from
    the satellites, from their file or from a day alone need no clock and have none.
    """
    settled = dict(by_hand or {})
    cues = _cues(entries)
    days = _days(photos, ZoneInfo(zone))
    beliefs = {
        clock: _known(settled[clock], "by hand")
        if clock in settled
        else _by_satellites(taken) or _hinted(_by_cues(_moments(taken), _near(cues, taken)), taken)
        for clock, taken in days.items()
    }
    beliefs = _explained_away(beliefs, days, cues)
    return tuple(
        _correction(clock, days[clock], _beside(clock, beliefs), _near(cues, days[clock]))
        for clock in sorted(days)
    )


def clock_of(photo: Photo, zone: ZoneInfo) -> Clock | None:
    """The camera whose clock is in a photo, and the day it showed; None where none is."""
    at = shown(photo, zone)
    if at is None:
        return None
    name = photo.camera or NAMELESS
    if photo.taken.source == "file name":
        name += ", by its file names"
    return name, at.astimezone(zone).date()


def shown(photo: Photo, zone: ZoneInfo) -> datetime | None:
    """The moment by the camera's own clock; None where the photo does not tell it."""
    source = photo.taken.source
    if source == "GPS":
        return photo.clock.replace(tzinfo=zone).astimezone(UTC) if photo.clock else None
    own = source.startswith(OWN_CLOCK) and "last change" not in source
    return photo.taken.at if own else None


def put_right(
    photo: Photo, found: Mapping[Clock, ClockCorrection], zone: ZoneInfo, least: float = SURE
) -> tuple[datetime, ClockCorrection | None]:
    """When a photo was taken, its camera's clock put right, and by what; None where by nothing.

    Corrections of less confidence than `least` are not made. Where one is, it counts for more than
    the satellites' time in the photo itself, which may be of an old fix.
    """
    at, clock = shown(photo, zone), clock_of(photo, zone)
    correction = found.get(clock) if clock is not None else None
    if at is None or correction is None or not correction.seconds or correction.confidence < least:
        return photo.taken.at, None
    hours = (at - correction.around).total_seconds() / 3600
    return at + timedelta(seconds=correction.seconds + correction.drift * hours), correction


def by_clock(found: Iterable[ClockCorrection]) -> dict[Clock, ClockCorrection]:
    """The corrections by the camera and day that they are for."""
    return {(one.camera, one.day): one for one in found}


# --- what there is to go by -------------------------------------------------------------------

Cues = tuple[tuple[float, float], ...]
"""Moment in seconds and weight of each, in order."""


@dataclass(frozen=True, slots=True)
class _Belief:
    """The posterior over OFFSETS, and what it rests on."""

    posterior: Floats
    source: ClockSource
    moments: tuple[float, ...] = ()
    cues: Cues = ()
    exact: float | None = None
    """Seconds, where they are known otherwise than by cues."""
    confidence: float = 0.0
    readings: int = 0


@dataclass(frozen=True, slots=True)
class _Shown:
    """What a camera's clock showed, and what the satellites said beside it."""

    at: datetime
    satellites: datetime | None


def _days(photos: Iterable[Photo], zone: ZoneInfo) -> dict[Clock, list[_Shown]]:
    days: dict[Clock, list[_Shown]] = {}
    for photo in photos:
        at, clock = shown(photo, zone), clock_of(photo, zone)
        if at is not None and clock is not None:
            days.setdefault(clock, []).append(_Shown(at, photo.satellites))
    for taken in days.values():
        taken.sort(key=lambda one: one.at)
    return days


def _cues(entries: Iterable[BookEntry]) -> Cues:
    said = spoken_cues(sorted(entries, key=lambda entry: (entry.at, entry.id)))
    return tuple((entry.at.timestamp(), WEIGHTS[entry.entry.kind]) for entry in said)


def _near(cues: Cues, taken: Sequence[_Shown]) -> Cues:
    first, last = (taken[at].at.timestamp() for at in (0, -1))
    return tuple(cue for cue in cues if first - REACH - 60 <= cue[0] <= last + REACH + 60)


def _moments(taken: Sequence[_Shown]) -> tuple[float, ...]:
    """The shutter times, a burst counted once."""
    found: list[float] = []
    before: _Shown | None = None
    for photo in taken:
        apart = None if before is None else photo.at - before.at
        if apart is None or apart > BURST:
            found.append(photo.at.timestamp())
        before = photo
    return tuple(found)


# --- the posterior ----------------------------------------------------------------------------


def _known(seconds: float, source: ClockSource, confidence: float = 1.0, n: int = 0) -> _Belief:
    posterior = bell(seconds, 1.0)
    return _Belief(posterior, source, exact=seconds, confidence=confidence, readings=n)


def _by_satellites(taken: Sequence[_Shown]) -> _Belief | None:
    """By fixes of several moments that agree; None where they do not.

    A fix is as old as it is, never from the future: the largest differences are the freshest. A
    single one, or one that a camera wrote again and again, may be hours old.
    """
    read = sorted(_satellites(taken))
    if not read:
        return None
    apart = [seconds for seconds, _ in read]
    freshest = float(np.quantile(apart, 0.8)) if len(apart) > 4 else apart[-1]
    agreeing = [at for seconds, at in read if abs(seconds - freshest) <= STALE]
    if len(agreeing) * 2 < len(read) or max(agreeing) - min(agreeing) < APART:
        return None
    return _known(freshest, "satellites", 0.99, len(agreeing))


def _satellites(taken: Sequence[_Shown]) -> list[tuple[float, datetime]]:
    """What has to be added to each moment by the satellites, and the moment."""
    return [
        ((photo.satellites - photo.at).total_seconds(), photo.at)
        for photo in taken
        if photo.satellites is not None
    ]


def _hinted(belief: _Belief, taken: Sequence[_Shown]) -> _Belief:
    """A belief by cues, with what fixes say that alone are not enough."""
    read = _satellites(taken)
    if not read:
        return belief
    hint = 0.3 + 0.7 * bell(max(read)[0] + 2.0, 3.0) / prior()
    posterior = belief.posterior * hint
    return replace(belief, posterior=posterior / posterior.sum())


@lru_cache(maxsize=64)
def _by_cues(moments: tuple[float, ...], cues: Cues) -> _Belief:
    before = prior()
    if not moments or not cues:
        return _Belief(before, "nothing", moments, cues)
    score = np.log(before) + evidence(np.array(moments), np.array(cues))
    posterior = np.exp(score - score.max())
    return _Belief(posterior / posterior.sum(), "spoken cues", moments, cues)


# --- cameras and days beside each other -------------------------------------------------------


def _explained_away(
    beliefs: Mapping[Clock, _Belief], days: Mapping[Clock, Sequence[_Shown]], cues: Cues
) -> dict[Clock, _Belief]:
    """The beliefs anew, where a cue that another camera surely answered counts for less."""
    answered: dict[Clock, Floats] = {}
    for clock, belief in beliefs.items():
        seconds, confidence, _ = _chosen(belief)
        if confidence >= SURE:
            answered[clock] = _answers(np.array(_moments(days[clock])) + seconds, cues)
    found = dict(beliefs)
    for clock, belief in beliefs.items():
        others = [share for one, share in answered.items() if one[0] != clock[0]]
        if belief.exact is not None or not others:
            continue
        left = np.prod([1 - 0.9 * share for share in others], axis=0)
        weighed = tuple(
            (at, max(0.01, round(float(weight * part), 2)))
            for (at, weight), part in zip(cues, left, strict=True)
        )
        again = _by_cues(belief.moments, _near(weighed, days[clock]))
        found[clock] = _hinted(again, days[clock])
    return found


def _answers(moments: Floats, cues: Cues) -> Floats:
    """The chance for each cue that one of these moments is its photo."""
    said = np.array([at for at, _ in cues])
    if not said.size or not moments.size:
        return np.zeros(said.size)
    apart = moments[None, :] - said[:, None]
    near = (apart >= EARLIEST) & (apart <= LATEST)
    density = np.where(near, delay_density(np.where(near, apart, 0.0)), 0.0).max(axis=1)
    odds = SPOKEN / (1 - SPOKEN) * A_DAY / len(moments) * density
    chance: Floats = odds / (1 + odds)
    return chance


def _beside(clock: Clock, beliefs: Mapping[Clock, _Belief]) -> _Belief:
    """A day's belief, with what the camera's day before and its day after say."""
    belief = beliefs[clock]
    if belief.exact is not None:
        return belief
    own = [day for camera, day in sorted(beliefs) if camera == clock[0]]
    at = own.index(clock[1])
    posterior = belief.posterior
    for day in (*own[max(0, at - 1) : at], *own[at + 1 : at + 2]):
        posterior = posterior * _carried(beliefs[clock[0], day], abs((day - clock[1]).days))
    if posterior is belief.posterior:
        return belief
    return replace(belief, posterior=posterior / posterior.sum())


def _carried(neighbour: _Belief, days: int) -> Floats:
    """By how much a neighbouring day makes each offset more likely, or less."""
    from scipy.ndimage import gaussian_filter1d

    width = 1.0 + WANDERS * min(days, 30)
    smooth = gaussian_filter1d(neighbour.posterior, width, mode="constant")
    usual = gaussian_filter1d(prior(), width, mode="constant")
    message: Floats = 1 - KEEPS_ITS_CLOCK + KEEPS_ITS_CLOCK * smooth / usual
    return message


# --- what is made of it -----------------------------------------------------------------------


def _chosen(belief: _Belief) -> tuple[float, float, slice]:
    """The likeliest offset in seconds, how likely it or one as near is, and where those lie."""
    if belief.exact is not None:
        return belief.exact, belief.confidence, slice(0, 0)
    from scipy.ndimage import uniform_filter1d

    mass = uniform_filter1d(belief.posterior, 2 * SAME + 1, mode="constant") * (2 * SAME + 1)
    middle = int(np.argmax(mass))
    # Around the mean, not where the window happened to lie.
    for _ in range(3):
        window = slice(max(0, middle - SAME), middle + SAME + 1)
        part = belief.posterior[window]
        mean = float((part * OFFSETS[window]).sum() / part.sum())
        middle = round(mean) + REACH
    return mean, min(1.0, float(part.sum())), window


def _correction(
    clock: Clock, taken: Sequence[_Shown], belief: _Belief, cues: Cues
) -> ClockCorrection:
    seconds, confidence, _ = _chosen(belief)
    moments = np.array(_moments(taken))
    answered = _answers(moments + seconds, cues)
    around = taken[len(taken) // 2].at
    drift = 0.0
    if belief.exact is None:
        drift = _drift(moments, seconds, cues, around.timestamp())
    own = belief.source
    if own == "spoken cues" and answered.sum() < 1.5:
        own = "nothing"
    if own == "nothing" and confidence >= SURE:
        own = "neighbouring day"
    usual = HALF_AN_HOUR * round(seconds / HALF_AN_HOUR)
    if own != "by hand" and _may_be(belief, seconds, usual):
        seconds, drift = usual, drift if usual else 0.0
    fitting = int((answered > 0.5).sum())
    first, last = moments.min() + seconds - AROUND, moments.max() + seconds + AROUND
    there = sum(first <= at <= last for at, _ in cues)
    reason = _reason(own, seconds, confidence, fitting, there, belief.readings)
    return ClockCorrection(*clock, seconds, drift, around, confidence, reason, fitting, own)


def _may_be(belief: _Belief, seconds: float, usual: float) -> bool:
    """Whether a clock that is right, or only in a wrong zone, and a slow hand explain as much."""
    if belief.exact is not None:
        return abs(seconds - usual) < NEGLIGIBLE
    near = belief.posterior[np.abs(OFFSETS - seconds) <= SAME].sum()
    usually = belief.posterior[np.abs(OFFSETS - usual) <= NEGLIGIBLE].sum()
    return abs(seconds - usual) <= SAME and bool(usually > 0.002 * near)


def _drift(moments: Floats, seconds: float, cues: Cues, around: float) -> float:
    """Seconds an hour to add, as far as the delays grow or shrink over the day; cautious."""
    said = np.array([at for at, _ in cues])
    if said.size == 0:
        return 0.0
    apart = moments[:, None] + seconds - said[None, :]
    near = (apart > 0) & (apart < 25)
    if near.sum() < 4:
        return 0.0
    hours = np.broadcast_to((moments - around)[:, None] / 3600, apart.shape)[near]
    delays = apart[near]
    hours, delays = hours - hours.mean(), delays - delays.mean()
    # The ridge of a prior of DRIFTS an hour against delays that scatter by some four seconds.
    return -float((hours * delays).sum() / ((hours**2).sum() + (4.0 / DRIFTS) ** 2))


def _reason(
    source: ClockSource, seconds: float, confidence: float, fitting: int, cues: int, readings: int
) -> str:
    off = off_by(seconds, source)
    if source == "by hand":
        return f"{off}, set by hand"
    if source == "satellites":
        return f"{off}, by the satellites' time in {_count(readings, 'photo')}"
    if confidence < SURE:
        if not cues:
            return "not sure: no photo was spoken of; left as it is"
        return f"not sure: {fitting} of {_count(cues, 'spoken cue')} would fit; left as it is"
    if source == "neighbouring day":
        return f"{off}, as on its neighbouring day"
    return f"{off}: {fitting} of {_count(cues, 'spoken cue')} fit{_zone(seconds)}"


def _zone(seconds: float) -> str:
    half_hours = round(seconds / HALF_AN_HOUR)
    if not half_hours or seconds != HALF_AN_HOUR * half_hours:
        return ""
    return " (a wrong zone, or daylight saving)"


def off_by(seconds: float, source: ClockSource) -> str:
    """The same as `in_words`, no more exactly than it is known: from words to the minute."""
    if source in ("by hand", "satellites") or abs(seconds) < 600 or seconds % HALF_AN_HOUR == 0:
        return in_words(seconds)
    return f"about {in_words(60 * round(seconds / 60))}"


def in_words(seconds: float) -> str:
    """What a clock is off by, such as "47 min 3 s slow": so much is added to its times."""
    whole = round(abs(seconds))
    if not whole:
        return "right"
    return f"{span(whole)} {'slow' if seconds > 0 else 'fast'}"


def span(whole: int) -> str:
    """Seconds as a person says them: "1 h 2 min", "47 min 3 s", "8 s"."""
    minutes, seconds = divmod(whole, 60)
    hours, minutes = divmod(minutes, 60)
    parts = ((hours, "h"), (minutes, "min"), (seconds, "s"))
    return " ".join(f"{count} {unit}" for count, unit in parts if count)


def _count(number: int, one: str) -> str:
    return f"{number} {one}{'' if number == 1 else 's'}"
