"""Clocks and ties of photos on simulated days whose truth is known.

`python -m tests.bench.photo_days` prints the figures of the open days, `--locked` those of the
other half, which nothing is tuned on, `--rough` those of a person whose habits are none that the
program supposes, `--days 20` fewer of them. Beside them stands what tying to the nearest in time
does with the same days. A hundred days take half a minute.

A day is one person's: delays between word and shutter have one habit a day, and a share of the
photos comes before the word. Every number below is invented, wide on purpose, and was chosen
before the program was tried on it.
"""

from __future__ import annotations

import argparse
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from hashlib import sha256
from math import cos, radians
from statistics import median

import numpy as np

from joblog.model import BookEntry, Entry, Kind, Moment, Photo, Position, Tie
from joblog.photos.assign import assign
from joblog.photos.clock import clocks

ZONE = "America/New_York"
MIDNIGHT = datetime(2026, 10, 5, 4, 0, tzinfo=UTC)
HOUSE = (38.62, -70.41)
PLACES = ("north eave", "south eave", "west gable", "garage")
WORK: tuple[Kind, ...] = ("measure", "used", "note", "problem", "delivered", "labor")
RIGHT_WITHIN = 5.0
"""Seconds that an offset may be off."""
NEAREST_LIMIT = 180.0

Random = np.random.Generator


@dataclass
class Camera:
    """`ahead`: seconds that its clock shows more than the truth, and how many more each hour."""

    name: str
    ahead: float
    drift: float
    fix: float | None
    """Metres of error of its position; None without one."""
    satellites: bool

    def shows(self, true: float) -> float:
        return true + self.ahead + self.drift * (true - 12 * 3600) / 3600


@dataclass
class SimulatedDay:
    """`truth` is the entry that each photo belongs to, None for one that nobody spoke of."""

    seed: int
    answered: float = 0.85
    """The share of the cues that a photo follows."""
    entries: list[BookEntry] = field(default_factory=list)
    photos: list[Photo] = field(default_factory=list)
    cameras: list[Camera] = field(default_factory=list)
    truth: dict[str, int | None] = field(default_factory=dict)
    later_shots: set[str] = field(default_factory=set)
    """Of a burst, all but the first."""
    cues_of: Counter[str] = field(default_factory=Counter)
    """Spoken cues that each camera answered."""


def simulated(seed: int, *, rough: bool = False) -> SimulatedDay:
    """`rough` is a day of one whose habits the program does not suppose: slow, busy, forgetful."""
    random = np.random.default_rng([20261005, seed])
    day = SimulatedDay(seed, answered=0.7 if rough else 0.85)
    day.cameras = _cameras(random)
    start, end = random.uniform(7, 8.5) * 3600, random.uniform(15, 17.5) * 3600
    cues = sorted(random.uniform(start, end, random.integers(3, 19)))
    for at in cues[1:]:
        if random.random() < 0.1:  # two things photographed one after the other
            cues.append(at + random.uniform(15, 60))
    work = random.uniform(start, end, random.integers(15, 50))
    habit = random.uniform(3, 20) if rough else random.uniform(4, 9)
    before = random.uniform(0.1, 0.4) if rough else random.uniform(0.05, 0.25)
    said = [(float(at), False) for at in work] + [(float(at), True) for at in sorted(cues)]
    last = None
    for at, is_cue in sorted(said):
        if is_cue:
            cue = _spoken_photo(random, day, at, habit, before, last)
            last = cue if day.entries[cue - 1].entry.kind == "covered" else last
        else:
            kind = WORK[random.integers(len(WORK))]
            last = _said(day, at, Entry(kind, place=_place(random)))
    _unspoken(random, day, start, end, 40 if rough else 14)
    order = random.permutation(len(day.photos))
    day.photos = [day.photos[at] for at in order]
    return day


def _cameras(random: Random) -> list[Camera]:
    count = random.choice([1, 2, 3], p=[0.6, 0.3, 0.1])
    made = []
    for number in range(count):
        kind = random.choice(["right", "skewed", "zone", "minutes"], p=[0.45, 0.3, 0.15, 0.1])
        hours = random.choice([-5, -3, -2, -1, 1, 1, 2, 3, 4.5, 5.5, 9.5])
        ahead = {
            "right": random.normal(0, 1),
            "skewed": random.uniform(-5400, 5400),
            "zone": 3600 * hours + random.normal(0, 1),
            "minutes": random.uniform(-300, 300),
        }[kind]
        drift = random.normal(0, 0.1) + (random.random() < 0.1) * random.normal(0, 1)
        fix = random.uniform(5, 30) if random.random() < 0.6 else None
        satellites = fix is not None and random.random() < 0.3
        made.append(Camera(f"Camera {'ABC'[number]}", float(ahead), float(drift), fix, satellites))
    return made


def _spoken_photo(
    random: Random, day: SimulatedDay, at: float, habit: float, before: float, last: int | None
) -> int:
    """What was said at `at`, and its photos if any were taken; the entry of it."""
    count = int(random.choice([1, 2, 3], p=[0.85, 0.12, 0.03]))
    place = _place(random)
    note = f"{('', '', 'two photos of ', 'three pictures of ')[count]}the {place}"
    entry = Entry("photo", place=place, note=note)
    truth = None
    if count == 1 and random.random() < 0.15:
        entry = Entry("covered", place=place, note=f"covered the wire at the {place}")
    elif count == 1 and last is not None and random.random() < 0.06:
        entry, truth = Entry("photo", note="the last one"), last
    cue = _said(day, at, entry)
    if random.random() > day.answered:
        return cue
    others = [0.25 / max(1, len(day.cameras) - 1)] * (len(day.cameras) - 1)
    camera = day.cameras[random.choice(len(day.cameras), p=[1 - sum(others), *others])]
    how = random.random()
    if how < before:
        delay = -random.lognormal(np.log(5), 0.5)
    elif how < before + 0.08:
        delay = random.uniform(20, 100)
    else:
        delay = random.lognormal(np.log(habit), 0.45)
    extra = int(count == 1 and random.random() < 0.1)
    day.cues_of[camera.name] += 1
    for _ in range(count + extra):
        _shots(random, day, camera, at + delay, truth or cue, HOUSE)
        delay += random.uniform(4, 15)
    return cue


def _unspoken(random: Random, day: SimulatedDay, start: float, end: float, most: int) -> None:
    for at in random.uniform(start, end, random.integers(2, most)):
        camera = day.cameras[random.integers(len(day.cameras))]
        _shots(random, day, camera, float(at), None, HOUSE)
    if random.random() < 0.3:  # another job, in the same pocket
        begun = random.uniform(start - 3600, end + 3600)
        metres = random.uniform(300, 8000)
        there = (HOUSE[0] + metres / 111_000, HOUSE[1])
        for at in begun + random.uniform(0, 900, random.integers(2, 7)):
            _shots(random, day, day.cameras[0], float(at), None, there)


def _shots(
    random: Random,
    day: SimulatedDay,
    camera: Camera,
    at: float,
    truth: int | None,
    where: tuple[float, float],
) -> None:
    burst = int(random.integers(3, 7)) if random.random() < 0.12 else 1
    for shot in range(burst):
        name = f"{day.seed}-{len(day.photos)}"
        shown = MIDNIGHT + timedelta(seconds=float(np.floor(camera.shows(at))))
        satellites = None
        if camera.satellites:
            fixed = np.floor(at - random.exponential(3))
            satellites = MIDNIGHT + timedelta(seconds=float(fixed))
        photo = Photo(
            sha256(name.encode()).hexdigest(),
            f"{name}.jpg",
            Moment(shown, "EXIF with offset"),
            4000,
            3000,
            position=_position(random, camera, where),
            camera=camera.name,
            satellites=satellites,
        )
        day.photos.append(photo)
        day.truth[photo.sha256] = truth
        day.later_shots |= {photo.sha256} if shot else set()
        at += random.uniform(0.3, 0.8)


def _position(random: Random, camera: Camera, where: tuple[float, float]) -> Position | None:
    if camera.fix is None:
        return None
    north, east = random.normal(0, camera.fix, 2)
    latitude = where[0] + north / 111_000
    return Position(latitude, where[1] + east / (111_000 * cos(radians(latitude))))


def _place(random: Random) -> str:
    return PLACES[random.integers(len(PLACES))]


def _said(day: SimulatedDay, at: float, entry: Entry) -> int:
    moment = MIDNIGHT + timedelta(seconds=at)
    id = len(day.entries) + 1
    day.entries.append(BookEntry(id, 1, moment, entry, (), "heard", "heard", moment, ""))
    return id


# --- what is counted --------------------------------------------------------------------------


@dataclass
class Tally:
    """Photos by how they were tied; days of a camera by how its clock was found."""

    photos: int = 0
    right: int = 0
    doubted: int = 0
    right_of_sure: int = 0
    wrong_and_sure: int = 0
    astray_and_sure: int = 0
    """Spoken of, yet tied to what was said nearest, or to nothing, without a doubt."""
    clocks: int = 0
    clocks_right: int = 0
    clocks_told: int = 0
    clocks_told_right: int = 0
    errors: list[float] = field(default_factory=list)

    def add_ties(
        self, day: SimulatedDay, ties: Iterable[Tie], lost: frozenset[str], bursts: bool
    ) -> None:
        """Without `bursts` every burst counts once; `lost` are cameras whose clock is in doubt."""
        tied = {tie.photo: tie for tie in ties}
        for one in day.photos:
            if not bursts and one.sha256 in day.later_shots:
                continue
            tie, truth = tied.get(one.sha256), day.truth[one.sha256]
            spoken = tie.entry if tie is not None and tie.cue is not None else None
            if tie is not None and tie.entry == truth:
                spoken = truth  # Whatever the reason, it is with the right words.
            sure = tie.sure if tie is not None else one.camera not in lost
            self.photos += 1
            self.right += spoken == truth
            self.doubted += not sure
            self.right_of_sure += sure and spoken == truth
            self.wrong_and_sure += sure and spoken != truth and spoken is not None
            self.astray_and_sure += sure and spoken != truth and spoken is None

    def add_clock(self, error: float | None, right_anyway: float) -> None:
        """`error` of a correction that was made, None where none was; then the clock's own."""
        self.clocks += 1
        self.clocks_right += abs(right_anyway if error is None else error) < RIGHT_WITHIN
        if error is not None:
            self.clocks_told += 1
            self.clocks_told_right += abs(error) < RIGHT_WITHIN
            self.errors.append(abs(error))


def count(seeds: Sequence[int], *, rough: bool = False) -> tuple[Tally, Tally, Tally]:
    """The program's figures, the same with a burst counted once, and nearest in time."""
    ours, moments, nearest = Tally(), Tally(), Tally()
    for seed in seeds:
        day = simulated(seed, rough=rough)
        found = clocks(day.photos, day.entries, ZONE)
        for camera in day.cameras:
            if day.cues_of[camera.name] < 5:
                continue
            noon = camera.shows(12 * 3600) - 12 * 3600
            told = [one for one in found if one.camera == camera.name and one.sure]
            # A camera whose clock is hours off may have photos on two days by its own reckoning.
            error = max((one.seconds + noon for one in told), key=abs) if told else None
            ours.add_clock(error, noon)
            nearest.add_clock(None, noon)
        lost = frozenset(one.camera for one in found if not one.sure)
        ties = assign(day.photos, day.entries, found, ZONE)
        ours.add_ties(day, ties, lost, bursts=True)
        moments.add_ties(day, ties, lost, bursts=False)
        nearest.add_ties(day, _nearest(day), frozenset(), bursts=True)
    return ours, moments, nearest


def _nearest(day: SimulatedDay) -> list[Tie]:
    cues = [entry for entry in day.entries if entry.entry.kind in ("photo", "covered")]
    ties = []
    for photo in day.photos:
        apart, cue = min(
            (abs((photo.taken.at - entry.at).total_seconds()), entry.id) for entry in cues
        )
        if apart <= NEAREST_LIMIT:
            ties.append(Tie(photo.sha256, cue, "nearest", apart, cue=cue))
    return ties


def _print(name: str, tally: Tally) -> None:
    def share(part: int, whole: int) -> str:
        return f"{100 * part / max(1, whole):.2f} % ({part} of {whole})"

    sure = tally.photos - tally.doubted
    print(f"{name}")
    print(f"  right, strict (a doubt settled wrongly is wrong): {share(tally.right, tally.photos)}")
    print(f"  right, lenient (of those without a doubt):        {share(tally.right_of_sure, sure)}")
    print(
        f"  asked of the person:                              {share(tally.doubted, tally.photos)}"
    )
    wrong = tally.wrong_and_sure
    print(f"  wrong tie without a doubt:                        {share(wrong, tally.photos)}")
    astray = wrong + tally.astray_and_sure
    print(f"  the same, and spoken of but not seen to be:       {share(astray, tally.photos)}")
    if not tally.clocks:
        return
    print(
        "  clocks within 5 s, strict (not sure counts as no correction):"
        f" {share(tally.clocks_right, tally.clocks)}"
    )
    print(
        "  clocks within 5 s, lenient (of those it was sure of):        "
        f" {share(tally.clocks_told_right, tally.clocks_told)}"
    )
    if tally.errors:
        print(f"  median error of a clock: {median(tally.errors):.1f} s")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--days", type=int, default=100)
    parser.add_argument("--locked", action="store_true")
    parser.add_argument("--rough", action="store_true")
    chosen = parser.parse_args()
    first = 1 if chosen.locked else 0
    ours, moments, nearest = count(
        [2 * number + first for number in range(chosen.days)], rough=chosen.rough
    )
    which = ("rough " if chosen.rough else "") + ("locked" if chosen.locked else "open")
    _print(f"{chosen.days} {which} days", ours)
    _print("  a burst counted once", moments)
    _print("nearest in time, the same days", nearest)


if __name__ == "__main__":
    main()
