"""What the clock of each camera was off by."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta
from random import Random
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.model import BookEntry, ClockCorrection, Entry, Kind, Moment, Photo
from joblog.photos import assign, clocks
from joblog.photos.clock import by_clock, in_words, put_right

ZONE = "America/New_York"
EIGHT = datetime(2026, 10, 5, 12, 0, tzinfo=UTC)
MONDAY = date(2026, 10, 5)
CUES = (0, 1300, 3100, 3900, 6200, 9700, 14_000, 20_500)
"""Seconds after eight at which a photo was spoken of; no two gaps are alike."""


def said(id: int, seconds: float, kind: Kind = "photo", note: str | None = None) -> BookEntry:
    at = EIGHT + timedelta(seconds=seconds)
    return BookEntry(id, 1, at, Entry(kind, note=note), (), "heard", "heard", at, "")


def shot(
    seconds: float,
    camera: str | None = "Compact",
    source: str = "EXIF in job zone",
    satellites: float | None = None,
    clock: datetime | None = None,
) -> Photo:
    fix = None if satellites is None else EIGHT + timedelta(seconds=satellites)
    moment = Moment(EIGHT + timedelta(seconds=seconds), source)
    name = f"{camera}{seconds}{source}"
    return Photo(name, name, moment, 64, 48, camera=camera, satellites=fix, clock=clock)


def day(
    slow: float, cues: Sequence[float] = CUES, delay: float = 6.0
) -> tuple[list[Photo], list[BookEntry]]:
    """A photo `delay` seconds after every cue, by a clock that is `slow` seconds behind."""
    entries = [said(number, at) for number, at in enumerate(cues, 1)]
    return [shot(at + delay - slow) for at in cues], entries


def found(photos: list[Photo], entries: list[BookEntry]) -> ClockCorrection:
    [correction] = clocks(photos, entries, ZONE)
    return correction


@pytest.mark.parametrize("slow", [2820, -2820, 5340, -5340, 3600, -3600, 7200, 19_800, -16_200])
def test_a_clock_that_is_off_is_found(slow: float) -> None:
    correction = found(*day(slow))
    assert correction.sure
    assert correction.seconds == pytest.approx(slow, abs=4)
    assert (correction.source, correction.cues) == ("spoken cues", 8)


def test_a_clock_that_is_right_is_left_alone_even_with_a_slow_hand() -> None:
    for delay in (3.0, 8.0, 13.0):
        correction = found(*day(0, delay=delay))
        assert (correction.sure, correction.seconds) == (True, 0.0)


def test_the_reason_says_what_it_is_and_what_it_rests_on() -> None:
    assert (
        found(*day(3600)).reason
        == "1 h slow: 8 of 8 spoken cues fit (a wrong zone, or daylight saving)"
    )
    assert found(*day(2820)).reason == "about 47 min slow: 8 of 8 spoken cues fit"


def test_misses_and_extras_on_both_sides_do_not_hide_it() -> None:
    photos, entries = day(-1500)
    extra = [shot(at) for at in (700, 2222, 5000, 8000, 12_345)]
    missed = [said(20 + at, 500 + 1700 * at) for at in range(4)]
    correction = found([*photos[2:], *extra], [*entries, *missed])
    assert correction.sure
    assert correction.seconds == pytest.approx(-1500, abs=4)


def test_too_few_cues_make_no_correction() -> None:
    photos, entries = day(2820, CUES[:1])
    correction = found(photos, entries)
    assert not correction.sure
    assert correction.reason.startswith("not sure: ")
    assert put_right(photos[0], by_clock([correction]), _zone())[1] is None


def test_photos_that_fit_nowhere_make_no_correction() -> None:
    _, entries = day(0)
    correction = found([shot(at) for at in (777, 2525, 4646)], entries)
    assert not correction.sure


def test_a_burst_counts_once() -> None:
    """Five shots at one cue prove no more than one."""
    entries = [said(number, at) for number, at in enumerate(CUES, 1)]
    correction = found([shot(2820 + 6 + part / 2) for part in range(5)], entries)
    assert not correction.sure


def test_the_satellites_beat_the_rest() -> None:
    photos, entries = day(2820)
    told = [shot(at - 100, satellites=at) for at in (10, 400, 900)]
    correction = found([*photos, *told], entries)
    assert (correction.seconds, correction.source) == (100.0, "satellites")


def test_one_fix_alone_may_be_hours_old_and_settles_nothing() -> None:
    correction = found([shot(9000, satellites=1000), shot(9001, satellites=1000)], [])
    assert not correction.sure


def test_a_photo_timed_by_a_fix_tells_what_its_camera_showed() -> None:
    """Its own moment needs no correction; those of the same camera without a fix do."""
    shown = [datetime(2026, 10, 5, 7, minute) for minute in (0, 10, 20)]
    timed = [
        shot(600 * part, source="GPS", satellites=600.0 * part, clock=at)
        for part, at in enumerate(shown)
    ]
    without = shot(-1800)
    [correction] = clocks([*timed, without], [], ZONE)
    assert correction.seconds == 3600.0
    at, _ = put_right(without, by_clock([correction]), _zone())
    assert at == EIGHT + timedelta(minutes=30)


def test_a_day_without_cues_goes_by_its_neighbour() -> None:
    photos, entries = day(2820)
    tomorrow = 86_400
    both = clocks([*photos, shot(tomorrow + 500), shot(tomorrow + 900)], entries, ZONE)
    assert [one.day.day for one in both] == [5, 6]
    assert both[1].source == "neighbouring day"
    assert both[1].sure
    assert both[1].seconds == pytest.approx(2820, abs=6)


def test_each_camera_has_its_own_clock() -> None:
    photos, entries = day(2820)
    other = [shot(at + 5, camera="Phone", source="EXIF with offset") for at in CUES[::2]]
    compact, phone = clocks([*photos[1::2], *other], entries, ZONE)
    assert (phone.camera, phone.seconds) == ("Phone", 0.0)
    assert compact.seconds == pytest.approx(2820, abs=5)


def test_a_file_time_or_a_day_alone_is_no_clock() -> None:
    _, entries = day(0)
    none = [shot(at, source=source) for at, source in enumerate(("file time", "day in file name"))]
    assert clocks([*none, shot(9, source="EXIF last change in job zone")], entries, ZONE) == ()


def test_what_a_person_set_stands() -> None:
    photos, entries = day(2820)
    [correction] = clocks(photos, entries, ZONE, {("Compact", MONDAY): 60.0})
    assert (correction.seconds, correction.source, correction.sure) == (60.0, "by hand", True)


def test_a_clock_that_drifts_is_followed_over_the_day() -> None:
    cues = [1000.0 * part + 37 * part**1.5 for part in range(30)]
    entries = [said(number, at) for number, at in enumerate(cues, 1)]
    photos = [shot(at + 6 - 2820 - 1.0 * at / 3600) for at in cues]
    correction = found(photos, entries)
    assert 0.3 < correction.drift < 1.1
    moments = [put_right(photo, by_clock([correction]), _zone())[0] for photo in photos]
    off = [(m - EIGHT).total_seconds() - at - 6 for m, at in zip(moments, cues, strict=True)]
    assert max(map(abs, off)) < 6


def test_hundreds_of_photos_of_a_day_are_no_trouble() -> None:
    cues = [60.0 * part + 7 * (part % 11) for part in range(200)]
    correction = found(*day(2820, cues))
    assert correction.sure
    assert correction.seconds == pytest.approx(2820, abs=5)


def test_spans_are_said_as_a_person_says_them() -> None:
    assert in_words(0) == "right"
    assert in_words(2823) == "47 min 3 s slow"
    assert in_words(-3600) == "1 h fast"


@settings(max_examples=25, deadline=None)
@given(st.integers(-5400, 5400), st.randoms(use_true_random=False))
def test_shifting_all_shutter_times_changes_no_tie_and_order_matters_not(
    shift: int, random: Random
) -> None:
    photos, entries = day(0)
    photos += [shot(at) for at in (2400, 5200)]
    moved = [
        Photo(**{**_fields(one), "taken": Moment(one.taken.at + timedelta(seconds=shift), "EXIF")})
        for one in photos
    ]
    random.shuffle(moved)
    assert _tied(moved, entries) == _tied(photos, entries)
    assert len(_tied(photos, entries)) == 8


def _fields(photo: Photo) -> dict[str, object]:
    return {name: getattr(photo, name) for name in Photo.__slots__}


def _tied(photos: list[Photo], entries: list[BookEntry]) -> dict[str, int]:
    ties = assign(photos, entries, clocks(photos, entries, ZONE), ZONE)
    return {tie.photo: tie.entry for tie in ties if tie.cue is not None}


def _zone() -> ZoneInfo:
    return ZoneInfo(ZONE)
