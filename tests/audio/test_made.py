"""When a recording was begun, and how we know."""

import os
from datetime import UTC, date, datetime, timedelta, tzinfo
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from sounds import quiet, tone, write_tagged

from fixtures.voices import write
from joblog.audio import made
from joblog.audio.decode import AudioError
from joblog.audio.made import dated, far_off
from joblog.model import Moment

ZONE = "America/New_York"
LOCAL = ZoneInfo(ZONE)
MADE = datetime(2025, 10, 5, 14, 30, 12, tzinfo=LOCAL)


def made_at(path: Path, zone: str, seconds: float) -> Moment:
    return dated(path, zone, seconds)[0]


def named(folder: Path, name: str, written: datetime = MADE) -> Path:
    """A recording that only its name and its file time date."""
    path = write(folder / "a.wav", quiet(0.1)).rename(folder / f"{name}.wav")
    os.utime(path, (written.timestamp(), written.timestamp()))
    return path


@pytest.mark.parametrize("ending", ["flac", "ogg", "opus", "mp3", "m4a", "3gp", "webm"])
def test_the_container_knows_best(tmp_path: Path, ending: str) -> None:
    path = write(tmp_path / f"20200101_120000.{ending}", tone(), MADE)
    assert made_at(path, ZONE, 2.0) == Moment(MADE, "container")


def test_the_moment_is_told_in_the_zone_of_the_job(tmp_path: Path) -> None:
    path = write(tmp_path / "a.m4a", tone(), MADE)
    assert made_at(path, ZONE, 2.0).at.isoformat() == "2025-10-05T14:30:12-04:00"


def test_a_vorbis_date_with_a_time_counts(tmp_path: Path) -> None:
    path = write_tagged(tmp_path / "a.flac", "flac", "flac", {"DATE": "2025-10-05T14:30:12"})
    assert made_at(path, ZONE, 0.1) == Moment(MADE, "container")


@pytest.mark.parametrize("date", ["2025", "2025-10", "2025-10-05", "5 October", "05/10/2025 14:30"])
def test_a_date_without_a_readable_time_does_not_count(tmp_path: Path, date: str) -> None:
    path = write_tagged(tmp_path / "a.flac", "flac", "flac", {"DATE": date})
    assert made_at(path, ZONE, 0.1).source == "file time"


def test_a_container_time_with_its_own_zone_keeps_it(tmp_path: Path) -> None:
    tags = {"DATE": "2025-10-05T11:30:12-0700"}
    path = write_tagged(tmp_path / "a.flac", "flac", "flac", tags)
    assert made_at(path, ZONE, 0.1) == Moment(MADE, "container")


def test_a_broadcast_wave_keeps_date_and_time_apart(tmp_path: Path) -> None:
    path = write_tagged(
        tmp_path / "a.wav", "wav", "pcm_s16le",
        {"origination_date": "2025-10-05", "origination_time": "14:30:12",
         "date": "2025-10-05", "creation_time": "14:30:12"},
        write_bext="1",
    )  # fmt: skip
    assert made_at(path, ZONE, 0.1) == Moment(MADE, "container")


@pytest.mark.parametrize(
    "absurd",
    [
        "1904-01-01T00:00:00Z",
        "1970-01-01T00:00:00Z",
        "1980-01-06T00:00:00Z",
        "2001-01-01T00:00:00Z",
        "0001-01-01T00:00:00+14:00",
        "9999-12-31T23:59:59-14:00",
    ],
)
def test_a_clock_that_nobody_set_is_not_believed(tmp_path: Path, absurd: str) -> None:
    path = write_tagged(tmp_path / "20251005_143012.flac", "flac", "flac", {"DATE": absurd})
    assert made_at(path, ZONE, 0.1) == Moment(MADE, "file name")


def test_a_time_to_come_is_told_of(tmp_path: Path) -> None:
    later = datetime.now(UTC) + timedelta(days=40)
    path = write_tagged(tmp_path / "a.flac", "flac", "flac", {"DATE": later.isoformat()})
    moment, doubts = dated(path, ZONE, 0.1)
    assert moment == Moment(later, "container")
    assert "still to come by this computer's clock" in doubts[0]


def test_a_time_that_has_come_is_believed_before_one_to_come(tmp_path: Path) -> None:
    later = (datetime.now(UTC) + timedelta(days=40)).isoformat()
    path = write_tagged(tmp_path / "20251005_143012.flac", "flac", "flac", {"DATE": later})
    assert dated(path, ZONE, 0.1) == (Moment(MADE, "file name"), ())


def test_a_computer_whose_clock_stands_in_2019_still_files_by_the_recorder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Stopped(datetime):
        @classmethod
        def now(cls, zone: tzinfo | None = None) -> datetime:
            return datetime(2019, 1, 1, tzinfo=zone)

    monkeypatch.setattr(made, "datetime", Stopped)
    path = named(tmp_path, "20251005_143012", datetime(2019, 1, 1, tzinfo=UTC))
    moment, doubts = dated(path, ZONE, 0.1)
    assert moment == Moment(MADE, "file name")
    assert doubts


def test_a_file_time_to_come_is_told_of(tmp_path: Path) -> None:
    later = datetime.now(UTC) + timedelta(days=40)
    moment, doubts = dated(named(tmp_path, "north wall", later), ZONE, 0.0)
    assert moment.source == "file time"
    assert "still to come" in doubts[0]


def test_a_file_time_beyond_the_calendar_asks_for_a_name_that_tells(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = write(tmp_path / "north wall.wav", quiet(0.1))
    # Not every disk can hold the year 14645, so that it is not written there.
    far = os.stat_result([0o100644, 0, 0, 1, 0, 0, 1, 0, 400_000_000_000, 0])
    monkeypatch.setattr(made.Path, "stat", lambda path, **_: far)
    with pytest.raises(AudioError, match="put the time into its name"):
        dated(path, ZONE, 0.1)
    path.rename(tmp_path / "20251005_143012.wav")
    assert made_at(tmp_path / "20251005_143012.wav", ZONE, 0.1) == Moment(MADE, "file name")


def test_a_recording_far_from_the_others_of_its_job_is_hard_to_believe() -> None:
    others = {date(2025, 10, 5), date(2025, 10, 7)}
    found = far_off(Moment(MADE - timedelta(days=2500), "file time"), ZONE, others)
    assert found is not None
    dated = "is dated Sat, Dec 1, 2018, known only from its file's own time, 2,500 days"
    assert found.startswith(dated)
    assert far_off(Moment(MADE - timedelta(days=2500), "container"), ZONE, others) is not None


@pytest.mark.parametrize("others", [set(), {date(2025, 10, 5)}, {date(2025, 12, 1)}])
def test_a_recording_near_others_or_alone_in_its_job_is_believed(others: set[date]) -> None:
    assert far_off(Moment(MADE, "file time"), ZONE, others) is None


@pytest.mark.parametrize(
    "name",
    [
        "20251005_143012",
        "20251005-143012",
        "20251005143012",
        "20251005T143012",
        "2025-10-05 14.30.12",
        "2025-10-05T14-30-12",
        "2025-10-05T14:30:12",
        "2025_10_05_14_30_12",
        "2025.10.05 14h30h12",
        "2025-10-05 at 14.30.12",
        "2025-10-05, 14.30.12",
        "2025-10-05 - 14.30.12",
        "2025-10-05 2.30.12 PM",
        "2025-10-05 at 2.30.12\u202fp.m",
        "REC_20251005_143012",
        "REC20251005143012",
        "Voice 2025-10-05 14-30-12 (2)",
        "20251005_143012123",
        "20251005_143012_north wall 12",
        "north wall 20251005_143012",
        "20251005T183012Z",
    ],
)
def test_a_name_with_date_and_time_dates_the_recording(tmp_path: Path, name: str) -> None:
    assert made_at(named(tmp_path, name), ZONE, 0.1) == Moment(MADE, "file name")


@pytest.mark.parametrize("name", ["20251005_1430", "2025-10-05 14.30", "2025-10-05 2.30 pm"])
def test_a_name_without_seconds_dates_it_to_the_minute(tmp_path: Path, name: str) -> None:
    minute = MADE.replace(second=0)
    assert made_at(named(tmp_path, name), ZONE, 0.1) == Moment(minute, "file name")


@pytest.mark.parametrize(
    "name",
    [
        "20251305_143012",
        "20250230_143012",
        "20251005_250000",
        "20251005_146012",
        "2025-10-05 14.30.12 PM",
        "20251005",
        "20251005_0003",
        "20251005-WA0007",
        "2025-10-05 north wall 12",
        "2025-10-05 3",
        "120251005_1430129",
        "18991005_143012",
        "20991005_143012",
        "north wall",
        "",
    ],
)
def test_a_name_without_a_possible_date_and_time_does_not(tmp_path: Path, name: str) -> None:
    assert made_at(named(tmp_path, name), ZONE, 0.1).source == "file time"


def test_the_file_time_is_when_the_recording_ended(tmp_path: Path) -> None:
    path = named(tmp_path, "north wall", written=MADE + timedelta(seconds=90))
    assert made_at(path, ZONE, 90.0) == Moment(MADE, "file time")


def test_a_damaged_file_is_still_dated_by_its_name(tmp_path: Path) -> None:
    (tmp_path / "20251005_143012.m4a").write_bytes(b"nothing")
    moment = made_at(tmp_path / "20251005_143012.m4a", ZONE, 0.0)
    assert moment == Moment(MADE, "file name")


def test_a_time_that_the_spring_skips_is_read_as_an_hour_later(tmp_path: Path) -> None:
    # In 2025 New York's clocks went from 2:00 to 3:00 on 9 March (IANA time zone database).
    moment, doubts = dated(named(tmp_path, "20250309_023000"), ZONE, 0.1)
    assert moment.at.isoformat() == "2025-03-09T03:30:00-04:00"
    assert doubts == (
        "was made at 2:30 AM, which the clocks skipped that day; it may be an hour off",
    )


def test_a_time_that_the_fall_repeats_is_read_as_the_first(tmp_path: Path) -> None:
    # In 2025 New York's clocks went from 2:00 back to 1:00 on 2 November (the same).
    moment, doubts = dated(named(tmp_path, "20251102_013000"), ZONE, 0.1)
    assert moment.at.isoformat() == "2025-11-02T01:30:00-04:00"
    assert "which the clocks showed twice that day" in doubts[0]


def test_the_second_of_a_repeated_hour_is_kept_when_the_container_tells(tmp_path: Path) -> None:
    second = datetime(2025, 11, 2, 1, 30, tzinfo=LOCAL, fold=1)
    moment, doubts = dated(write(tmp_path / "a.m4a", tone(), second), ZONE, 2.0)
    assert moment.at.isoformat() == "2025-11-02T01:30:00-05:00"
    assert doubts == ()


PATTERNS = ["%Y%m%d_%H%M%S", "%Y-%m-%d %H.%M.%S", "%Y-%m-%dT%H-%M-%S", "REC_%Y%m%d%H%M%S",
            "%Y-%m-%d at %I.%M.%S %p"]  # fmt: skip
ZONES = st.sampled_from(["America/New_York", "America/Phoenix", "Europe/Dublin",
                         "Australia/Lord_Howe", "Asia/Kathmandu", "Pacific/Apia"])  # fmt: skip
believable = st.datetimes(datetime(2005, 1, 2), datetime(2025, 12, 31))
with_one_folder = settings(suppress_health_check=[HealthCheck.function_scoped_fixture])


@pytest.mark.parametrize("pattern", PATTERNS)
@with_one_folder
@given(at=believable, zone=ZONES)
def test_any_time_that_a_clock_showed_is_read_back_from_a_name(
    tmp_path: Path, pattern: str, at: datetime, zone: str
) -> None:
    there = at.replace(microsecond=0, tzinfo=ZoneInfo(zone))
    assume(there.astimezone(UTC).astimezone(there.tzinfo) == there)  # not skipped in the spring
    (tmp_path / f"{at:{pattern}}.wav").touch()
    assert made_at(tmp_path / f"{at:{pattern}}.wav", zone, 1.0) == Moment(there, "file name")


@with_one_folder
@given(name=st.text("0123456789-_.: TZapm\u202fé\n", max_size=40))
def test_no_name_is_too_strange(tmp_path: Path, name: str) -> None:
    path = tmp_path / f"{name}.wav"
    path.touch()
    assert made_at(path, ZONE, 1.0).source in ("file name", "file time")


@with_one_folder
@given(text=st.text("0123456789-:TZ+. ", max_size=30))
def test_no_tag_is_too_strange(tmp_path: Path, text: str) -> None:
    path = write_tagged(tmp_path / "a.flac", "flac", "flac", {"DATE": text})
    moment = made_at(path, ZONE, 0.1)
    assert moment.at.tzinfo is not None
    assert moment.at.year >= 2005
