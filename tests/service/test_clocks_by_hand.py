"""Clocks of cameras: what was found, setting one by hand, taking that back."""

from __future__ import annotations

import hashlib
from datetime import date, datetime, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest

from joblog.book import Book, keep, ties
from joblog.dictation import read
from joblog.model import (
    HeardUtterance,
    Hearing,
    Moment,
    Photo,
    Recording,
    Utterance,
)
from joblog.service import Desk, ServiceError, decide, record
from joblog.service.clocks import seconds_of, set_clock, take_clock_back

CUES = (120, 1500, 4000, 7300)
SLOW = timedelta(minutes=47)
JOB = "Corner porch"
TUESDAY = datetime(2026, 10, 6, 8, 0, tzinfo=ZoneInfo("America/Chicago"))


@pytest.fixture
def slow(desk: Desk, book: Book, tmp_path: Path) -> Desk:
    """A day on which a camera that is 47 minutes slow answers four cues, and a fifth lacks one."""
    sound = tmp_path / "tuesday.wav"
    sound.write_bytes(b"tuesday")
    heard = tuple(
        HeardUtterance(
            Utterance(at, at + 3, (Hearing("trade", "photo of the gable"),)),
            read("photo of the gable", desk.vocabulary),
        )
        for at in (*CUES, 9000.0)
    )
    sha256 = hashlib.sha256(b"tuesday").hexdigest()
    recording = Recording(sha256, sound.name, Moment(TUESDAY, "file name"), 9100.0)
    keep.keep_recording(book, JOB, sound, recording, heard)
    for at in (*(cue + 7 for cue in CUES), 5500):
        _photographed(book, tmp_path, TUESDAY + timedelta(seconds=at) - SLOW)
    ties.tie_photos(book, JOB)
    return desk


def _photographed(book: Book, folder: Path, shown: datetime) -> None:
    path = folder / f"{shown:%H%M%S}.jpg"
    path.write_bytes(path.name.encode())
    sha256 = hashlib.sha256(path.read_bytes()).hexdigest()
    moment = Moment(shown, "EXIF in job zone")
    keep.keep_photo(book, JOB, path, Photo(sha256, path.name, moment, 8, 8, camera="Demo compact"))


def test_what_a_clock_was_off_by_is_found_and_told(slow: Desk) -> None:
    [found] = record.clocks(slow, TUESDAY.date())
    assert found.sure
    assert found.seconds == pytest.approx(SLOW.total_seconds(), abs=5)
    assert found.reason.endswith("slow: 4 of 5 spoken cues fit")


def test_the_original_time_stays_and_the_corrected_one_stands_beside_it(slow: Desk) -> None:
    photos = record.photos(slow, TUESDAY.date())
    moments, right = record.corrected_moments(slow), record.put_right(slow)
    for photo in photos:
        moved = (moments[photo.sha256] - photo.taken.at).total_seconds()
        assert moved == pytest.approx(SLOW.total_seconds(), abs=6)
        assert right[photo.sha256][0] == moments[photo.sha256]
    assert photos[0].taken.at == TUESDAY + timedelta(seconds=CUES[0] + 7) - SLOW


def test_photos_nobody_spoke_of_and_words_without_a_photo_are_listed(slow: Desk) -> None:
    day = TUESDAY.date()
    found = record.photos(slow, day)
    [photo] = record.unspoken(found, record.ties(slow))
    assert photo.taken.at == TUESDAY + timedelta(seconds=5500) - SLOW
    [entry] = record.unanswered(record.read_entries(slow, day), record.ties(slow))
    assert entry.at == TUESDAY + timedelta(seconds=9000)


def test_setting_a_clock_ties_anew_and_is_one_step_that_can_be_undone(slow: Desk) -> None:
    before = record.ties(slow)
    [found] = set_clock(slow, "demo compact", TUESDAY.date(), "+10 min")
    assert (found.seconds, found.source) == (600.0, "by hand")
    assert record.ties(slow) != before
    assert (
        decide.steps(slow)[-1].what == "set the clock of Demo compact on Tue, Oct 6, 2026: +600 s"
    )
    decide.undo(slow)
    assert record.ties(slow) == before
    decide.redo(slow)
    assert record.clocks(slow, TUESDAY.date()) == (found,)


def test_a_clock_set_by_hand_is_found_out_again_when_that_is_taken_back(slow: Desk) -> None:
    before = record.clocks(slow)
    set_clock(slow, "compact", None, "-1 h")
    take_clock_back(slow, "compact", None)
    assert record.clocks(slow) == before
    with pytest.raises(ServiceError, match="was not set by hand on Tue, Oct 6, 2026"):
        take_clock_back(slow, "compact", None)


def test_a_camera_or_day_that_is_not_there_is_said_so(slow: Desk) -> None:
    with pytest.raises(ServiceError, match="which camera is 'box'"):
        set_clock(slow, "box", None, "+1 h")
    with pytest.raises(ServiceError, match="has no photos on Fri, Oct 9, 2026; it has some on "):
        set_clock(slow, "compact", date(2026, 10, 9), "+1 h")


@pytest.mark.parametrize(
    ("said", "seconds"),
    [
        ("+47 min", 2820),
        ("47 minutes", 2820),
        ("-1 h 2 min", -3720),
        ("90 s", 90),
        ("+1h", 3600),
        ("0 s", 0),
    ],
)
def test_a_span_of_time_is_read_as_it_is_said(said: str, seconds: float) -> None:
    assert seconds_of(said) == seconds


@pytest.mark.parametrize("said", ["", "+", "soon", "47", "1 h ago", "15 h"])
def test_what_is_no_span_of_time_is_refused(said: str) -> None:
    with pytest.raises(ServiceError):
        seconds_of(said)
