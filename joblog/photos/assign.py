"""Which words the photos of a job belong to: all of them at once, as one assignment problem. Pure.

A spoken cue takes one photo, or as many as were said, and a photo answers one cue or none. What
each pair gains is how much likelier it is than that nobody spoke of the photo: by the delay from
word to shutter once the camera's clock is put right, and by place. The sum over all pairs is made
largest, and a tie's margin is what the best total without it would lack.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from functools import lru_cache
from itertools import pairwise
from math import exp, log, pi
from typing import Any, Literal
from zoneinfo import ZoneInfo

import numpy as np

from joblog.model import BookEntry, ClockCorrection, Fence, Photo, Position, Tie
from joblog.photos.alike import bursts
from joblog.photos.clock import (
    BURST,
    by_clock,
    clock_of,
    off_by,
    put_right,
    span,
)
from joblog.photos.cues import Cue, cue_of, spoken_cues
from joblog.photos.geo import beyond, learned_fence, place_fits
from joblog.photos.offsets import A_DAY, delay_density
from joblog.photos.taken import DAY_IN_NAME

CUE_LIMIT = timedelta(minutes=3)
"""Who says "photo" takes it at once, or after climbing down and wiping a hand, or has just taken
it."""
AROUND_LIMIT = timedelta(minutes=10)
"""Further apart than this, the talk was most likely about other work."""
Part = Literal["first", "announced", "extra", "unspoken"]
"""What a photo is to a cue: its first, a further one that was said ("two photos"), one more that
was not; or nothing to any cue."""

SURE: Mapping[Part, float] = {"first": 3.0, "announced": 1.5, "extra": 3.0, "unspoken": 1.5}
"""The margin from which on a tie is no question, by what the photo is. At 3 the next best is twenty
times less likely; what was announced, and what no word is near, goes wrong more seldom. Found on
the open days of `tests/bench/photo_days.py`."""
GUESS = 0.3
"""The confidence from which on a correction is good enough to ask about the ties it would make."""

ANSWERED = {"photo": 0.85, "covered": 0.6}
"""How often a photo follows the words."""
EXTRA = 0.15
"""How often another one follows that was not announced."""
CLUSTERED = 4.0
"""Photos that nobody speaks of come in clusters: so many times denser there than in the mean."""
FEWEST, MOST = 1 / 5000, 1 / 1000
"""Photos a second that nobody speaks of, whatever the day's own say."""
TURNED_ROUND = 8.0
"""Seconds; of a second photo that was taken before the likelier first."""
ANYWHERE = 0.01
"""The share of spoken photos that come at any time around the word."""
CLOCK_LEAVES = 2.0
"""Seconds that a clock may still be off when it was put right."""
MOST_EXTRA = 3
MOST_ROUNDS = 4
"""Which photo is a cue's first is settled in two rounds; more only where two are as good."""
SECOND_PHOTO = 12.0
"""Seconds, the mean until the next photo of the same thing."""

AGAIN = timedelta(seconds=8)
"""Photos of one camera that look alike and follow each other so fast are tries at one thing."""
SITE = 30.0
"""Metres, as a standard deviation, over which the photos of a house lie anywhere."""
OUTSIDE = -6.0
"""What a photo outside of the fence gains for a cue of this job: at the likeliest delay nothing."""
AT_LEAST = -3.0
"""A place learned from a few photos speaks no louder against a pair."""

PLACE_WORTH = 60.0
"""Seconds that the words may lie further off where the place is e times as likely."""

Matrix = np.ndarray[Any, np.dtype[np.float64]]
Pair = tuple[str, int]
"""A photo and an entry."""


def assign(
    photos: Sequence[Photo],
    entries: Sequence[BookEntry],
    clocks: Iterable[ClockCorrection],
    zone: str,
    *,
    spots: Mapping[str, Position] | None = None,
    fence: Fence | None = None,
    tied: Collection[Pair] = (),
    apart: Collection[Pair] = (),
) -> tuple[Tie, ...]:
    """One tie for each photo that belongs to some words, in the order the photos were taken.

    A photo belongs to the spoken cue that it answers, by the assignment; else to what was said
    nearest to it within AROUND_LIMIT; else to nothing. Shots of a burst go together. `spots` are
    where the places of the job are, `fence` is around the job, learned from the photos if None.
    Photos in `tied` are left out, and the cues there have them; pairs in `apart` are never made,
    nor is a photo of them tied to what was merely said nearest. Dropped entries and corrections are
    passed over, and so are photos of which only the day is known. The order of the arguments does
    not matter.
    """
    by_hand = {photo for photo, _ in tied}
    found = by_clock(clocks)
    shots = [
        _shot(photo, found, ZoneInfo(zone))
        for photo in photos
        if photo.taken.source != DAY_IN_NAME and photo.sha256 not in by_hand
    ]
    told = sorted(filter(_counts, entries), key=lambda entry: (entry.at, entry.id))
    cues = [cue_of(entry, told, tied) for entry in spoken_cues(told)]
    around = fence or learned_fence(one.photo.position for one in shots if one.photo.position)
    units = _units(shots, zone)
    unspoken = _unspoken(units, cues, ZoneInfo(zone))
    day = _Day(
        units, cues, _Ground(spots or {}, _outside(units, around)), frozenset(apart), unspoken
    )
    answers: dict[int, _Answer] = {}
    for some, near in _chunks(day):
        answers |= _solved(day, some, near)
    answers = _in_order(day, answers)
    barred = {photo for photo, _ in apart}
    ties: list[tuple[datetime, Tie]] = []
    for number, unit in enumerate(day.units):
        lost = bool(cues) and not unit[0].clock_sure
        answer = answers.get(number, _Answer(sure=not lost))
        for shot in unit:
            made = _tie(shot, answer, day, told, barred)
            ties += [(shot.photo.taken.at, made)] if made else []
    return tuple(tie for _, tie in sorted(ties, key=lambda pair: (pair[0], pair[1].photo)))


@dataclass(frozen=True, slots=True)
class _Shot:
    photo: Photo
    at: datetime
    """Its camera's clock put right."""
    moved: ClockCorrection | None
    """By what it was put right."""
    clock_sure: bool


@dataclass(frozen=True, slots=True)
class _Answer:
    """What a unit was found to answer, and what it would answer else."""

    cue: int | None = None
    margin: float | None = None
    other: int | None = None
    sure: bool = True
    part: Part = "unspoken"


@dataclass(frozen=True, slots=True)
class _Ground:
    spots: Mapping[str, Position]
    outside: frozenset[str]
    """Photos that were certainly taken outside of the job's fence."""


@dataclass(frozen=True, slots=True)
class _Day:
    units: Sequence[Sequence[_Shot]]
    cues: Sequence[Cue]
    ground: _Ground
    apart: frozenset[Pair]
    unspoken: Sequence[float]
    """Of each unit, the photos a second on its day that nobody speaks of."""


# --- photos and cues --------------------------------------------------------------------------


def _shot(photo: Photo, found: Mapping[Any, ClockCorrection], zone: ZoneInfo) -> _Shot:
    at, moved = put_right(photo, found, zone, GUESS)
    clock = clock_of(photo, zone)
    known = found.get(clock) if clock is not None else None
    return _Shot(photo, at, moved, known is None or known.sure)


def _units(shots: Sequence[_Shot], zone: str) -> list[list[_Shot]]:
    """Bursts, and single shots, in the order in which they were taken."""
    ordered = sorted(shots, key=lambda shot: (shot.at, shot.photo.sha256))
    alike = _alike(ordered, zone)
    units: list[list[_Shot]] = []
    newest: dict[str | None, list[_Shot]] = {}
    for shot in ordered:
        last = newest.get(shot.photo.camera)
        if last is not None and _of_a_burst(last[-1], shot, alike):
            last.append(shot)
            continue
        newest[shot.photo.camera] = [shot]
        units.append(newest[shot.photo.camera])
    return units


def _alike(ordered: Sequence[_Shot], zone: str) -> dict[str, int]:
    """The group of alike photos that each belongs to, of those that others follow quickly."""
    quick = {
        shot.photo.sha256: shot.photo
        for pair in pairwise(ordered)
        if pair[1].at - pair[0].at <= AGAIN
        for shot in pair
    }
    return {
        sha256: number
        for number, group in enumerate(bursts(quick.values(), zone))
        for sha256 in group
    }


def _of_a_burst(last: _Shot, shot: _Shot, alike: Mapping[str, int]) -> bool:
    group = alike.get(shot.photo.sha256)
    same = group is not None and group == alike.get(last.photo.sha256)
    return shot.at - last.at <= (AGAIN if same else BURST)


def _unspoken(units: Sequence[Sequence[_Shot]], cues: Sequence[Cue], zone: ZoneInfo) -> list[float]:
    """For each unit, how many photos a second of its day nobody speaks of.

    Told by those of the day that no cue is near.
    """
    said = [cue.entry.at for cue in cues]
    days = [unit[0].at.astimezone(zone).date() for unit in units]
    far = Counter(
        day
        for day, unit in zip(days, units, strict=True)
        if bisect_left(said, unit[0].at - CUE_LIMIT) == bisect_right(said, unit[0].at + CUE_LIMIT)
    )
    return [min(MOST, max(FEWEST, CLUSTERED * (far[day] + 1) / A_DAY)) for day in days]


def _counts(entry: BookEntry) -> bool:
    return entry.standing != "dropped" and entry.entry.kind != "correction"


# --- the assignment ---------------------------------------------------------------------------


def _chunks(day: _Day) -> list[tuple[list[int], list[int]]]:
    """Units and cues that can have to do with each other: those with no longer gap between them."""
    events = [(unit[0].at, 0, number) for number, unit in enumerate(day.units)]
    events += [(cue.entry.at, 1, number) for number, cue in enumerate(day.cues)]
    chunks: list[tuple[list[int], list[int]]] = []
    before: datetime | None = None
    for at, sort, number in sorted(events):
        if before is None or at - before > CUE_LIMIT:
            chunks.append(([], []))
        chunks[-1][sort].append(number)
        before = at
    return [chunk for chunk in chunks if all(chunk)]


def _solved(day: _Day, units: Sequence[int], near: Sequence[int]) -> dict[int, _Answer]:
    """The answers of the units of a chunk, each with its margin over the next best."""
    slots = [
        (cue, place)
        for cue in near
        for place in range(day.cues[cue].has, day.cues[cue].count + MOST_EXTRA)
    ]
    # A second photo follows the first, however late that one was; and without one there is none.
    firsts: dict[int, int] = {}
    for _ in range(MOST_ROUNDS):
        gains = np.array(
            [[_gain(day, unit, *slot, firsts.get(slot[0])) for slot in slots] for unit in units]
        )
        best, chosen = _best(gains)
        before, firsts = (
            firsts,
            {slots[at][0]: units[row] for row, at in chosen.items() if slots[at][1] == 0},
        )
        if firsts == before:
            break
    found: dict[int, _Answer] = {}
    for row, number in enumerate(units):
        if not np.isfinite(gains[row]).any():
            continue
        at = chosen.get(row)
        cue = None if at is None else slots[at][0]
        changed = gains.copy()
        if cue is None:
            changed[row] += FORCED
            second, other = _best(changed)
            second -= FORCED
        else:
            changed[row, [number for number, slot in enumerate(slots) if slot[0] == cue]] = -np.inf
            second, other = _best(changed)
        instead = other.get(row)
        part = _part(day, None if at is None else slots[at])
        margin = best - second
        found[number] = _Answer(
            cue,
            margin,
            None if instead is None else slots[instead][0],
            margin >= SURE[part] and day.units[number][0].clock_sure,
            part,
        )
    return _no_surer_than_the_first(found, {units[row]: slots[at] for row, at in chosen.items()})


def _no_surer_than_the_first(
    found: Mapping[int, _Answer], chosen: Mapping[int, tuple[int, int]]
) -> dict[int, _Answer]:
    """Where the first photo of a cue is a question, so are those that only follow it."""
    firsts = {cue: found[unit] for unit, (cue, place) in chosen.items() if place == 0}
    held = dict(found)
    for unit, (cue, place) in chosen.items():
        first = firsts.get(cue)
        own = held[unit]
        if place and first and None not in (first.margin, own.margin):
            margin = min(first.margin or 0.0, own.margin or 0.0)
            held[unit] = replace(own, margin=margin, sure=own.sure and margin >= SURE[own.part])
    return held


def _part(day: _Day, slot: tuple[int, int] | None) -> Part:
    if slot is None:
        return "unspoken"
    cue, place = slot
    return "extra" if place >= day.cues[cue].count else "announced" if place else "first"


FORCED = 1000.0
"""More than any gain; what makes a unit take a slot in spite of everything."""


def _best(gains: Matrix) -> tuple[float, dict[int, int]]:
    """The largest sum of gains, and the slot of each row that has one. No slot gains 0."""
    from scipy.optimize import linear_sum_assignment

    worth = np.where(gains > 0, gains, 0.0)
    rows, columns = linear_sum_assignment(worth, maximize=True)
    chosen = {
        int(row): int(column)
        for row, column in zip(rows, columns, strict=True)
        if worth[row, column] > 0
    }
    return float(worth[rows, columns].sum()), chosen


def _gain(day: _Day, number: int, which: int, place: int, first: int | None) -> float:
    """How much likelier it is that the unit answers the cue than that nobody spoke of it.

    `place` counts the photos that the cue has before it; `first` is the unit that is its first.
    """
    unit, cue = day.units[number], day.cues[which]
    if any(
        (shot.photo.sha256, one.id) in day.apart for shot in unit for one in (cue.entry, cue.to)
    ):
        return -np.inf
    delay = (unit[0].at - cue.entry.at).total_seconds()
    if abs(delay) > CUE_LIMIT.total_seconds():
        return -np.inf
    if place == 0:
        answered = ANSWERED[cue.entry.entry.kind]
        gain = log(answered / (1 - answered) * _density(delay) / day.unspoken[number])
    else:
        if first == number or (first is None and not cue.has):
            return -np.inf
        often = 0.9 if place < cue.count else EXTRA
        begun = cue.entry.at if first is None else day.units[first][0].at
        later = (unit[0].at - begun).total_seconds()
        mean = SECOND_PHOTO * place if later > 0 else TURNED_ROUND
        gain = log(often * exp(-abs(later) / mean) / mean / day.unspoken[number])
    return gain + _by_place(unit, cue.to, day.ground)


def _density(delay: float) -> float:
    """How likely the shutter follows the word by so many seconds, with what a clock leaves open."""
    return float(np.interp(delay, *_smoothed()))


@lru_cache(maxsize=1)
def _smoothed() -> tuple[Matrix, Matrix]:
    from scipy.ndimage import gaussian_filter1d

    most = CUE_LIMIT.total_seconds()
    delays = np.arange(-most, most + 0.5, 0.5)
    smooth = gaussian_filter1d(delay_density(delays), 2 * CLOCK_LEAVES, mode="nearest")
    return delays, (1 - ANYWHERE) * smooth + ANYWHERE / (2 * most)


def _by_place(unit: Sequence[_Shot], entry: BookEntry, ground: _Ground) -> float:
    """What the position says for the pair, in the same measure; 0 where it says nothing."""
    position = unit[0].photo.position
    if position is None:
        return 0.0
    if unit[0].photo.sha256 in ground.outside:
        return OUTSIDE
    place = entry.entry.place
    if place is None or place not in ground.spots:
        return 0.0
    return _fits(position, ground.spots[place])


@lru_cache(maxsize=10_000)
def _fits(position: Position, spot: Position) -> float:
    likely = place_fits(position, {"": spot})[""]
    return max(AT_LEAST, likely + log(2 * pi * SITE**2))


def _outside(units: Sequence[Sequence[_Shot]], fence: Fence | None) -> frozenset[str]:
    """The photos that were certainly taken outside of the fence; a burst goes by its first."""
    if fence is None:
        return frozenset()
    firsts = [unit[0].photo for unit in units]
    return frozenset(
        photo.sha256
        for photo in firsts
        if photo.position is not None and beyond(photo.position, fence) > 0
    )


def _in_order(day: _Day, answers: Mapping[int, _Answer]) -> dict[int, _Answer]:
    """Photos of one camera that answer cues the other way round than they were said: questions."""
    found = dict(answers)
    spoken = sorted(
        (day.units[number][0].at, number) for number, one in answers.items() if one.cue is not None
    )
    for (_, first), (_, second) in pairwise(spoken):
        one, other = answers[first].cue, answers[second].cue
        assert one is not None and other is not None
        same = day.units[first][0].photo.camera == day.units[second][0].photo.camera
        if same and day.cues[one].entry.at > day.cues[other].entry.at:
            found |= {number: replace(found[number], sure=False) for number in (first, second)}
    return found


# --- what is said of it -----------------------------------------------------------------------


def _tie(
    shot: _Shot,
    answer: _Answer,
    day: _Day,
    told: Sequence[BookEntry],
    barred: Collection[str],
) -> Tie | None:
    photo = shot.photo
    if answer.cue is not None:
        cue = day.cues[answer.cue]
        entry, cue_id = cue.to, cue.entry.id
        how, beside = f"said {cue.entry.entry.kind!r}", cue.entry
    elif photo.sha256 in barred:
        return None
    else:
        nearest = _nearest(shot, told, day.ground.spots)
        if nearest is None:
            return None
        entry, cue_id, how, beside = nearest, None, "said nearest,", nearest
        if answer.other is not None and day.cues[answer.other].to == nearest:
            answer = replace(answer, sure=shot.clock_sure)  # Either way it is of this entry.
    apart = (shot.at - beside.at).total_seconds()
    reason = f"{how} {_when(apart)}{_by(shot)}"
    if entry is not beside:
        reason += ", of what was told before it"
    if not answer.sure:
        reason += f"; not sure: {_instead(shot, answer, day)}"
    seconds = (shot.at - entry.at).total_seconds()
    return Tie(photo.sha256, entry.id, reason, seconds, answer.margin, answer.sure, cue_id)


def _nearest(
    shot: _Shot, told: Sequence[BookEntry], spots: Mapping[str, Position]
) -> BookEntry | None:
    """What was said nearest in time, or a little further off at a place that fits much better.

    Of two equally near the one said before the photo, of two said at once the lower id.
    """
    first = bisect_left(told, shot.at - AROUND_LIMIT, key=lambda entry: entry.at)
    after = bisect_right(told, shot.at + AROUND_LIMIT, key=lambda entry: entry.at)

    def far(entry: BookEntry) -> tuple[float, datetime, int]:
        apart = abs((shot.at - entry.at).total_seconds())
        spot = spots.get(entry.entry.place or "")
        if shot.photo.position is not None and spot is not None:
            apart -= PLACE_WORTH * _fits(shot.photo.position, spot)
        return apart, entry.at, entry.id

    return min(told[first:after], key=far, default=None)


def _when(apart: float) -> str:
    whole = round(abs(apart))
    if whole == 0:
        return "at the same moment"
    return f"{span(whole)} {'before' if apart > 0 else 'after'}"


def _by(shot: _Shot) -> str:
    """What a person should know of the moment: whose it is, and that it was put right."""
    source = shot.photo.taken.source
    if not source.startswith(("EXIF", "GPS")):
        return f" (by the {source})"
    if shot.moved is None:
        return ""
    off = off_by(shot.moved.seconds, shot.moved.source)
    return f" ({'' if shot.moved.sure else 'if '}its clock was {off})"


def _instead(shot: _Shot, answer: _Answer, day: _Day) -> str:
    if not shot.clock_sure:
        return "what its camera's clock was off by is not known"
    if answer.margin is not None and answer.margin >= SURE[answer.part]:
        return "it and another would be in the order in which they were said the other way round"
    if answer.other is None:
        return "perhaps nobody spoke of it"
    return f"it may belong to entry {day.cues[answer.other].to.id}"
