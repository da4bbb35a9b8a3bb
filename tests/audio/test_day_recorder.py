"""The whole day as sound: dated files, told size, and nothing that stops listening."""

from __future__ import annotations

import errno
import multiprocessing
import os
import stat
import sys
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest

from joblog.audio import day_recorder
from joblog.audio.day_recorder import DayRecorder
from joblog.audio.decode import RATE, blocks
from joblog.audio.made import dated

ZONE = "America/New_York"
AT = datetime(2026, 10, 5, 11, 30, tzinfo=UTC)
TONE = (8000 * np.sin(2 * np.pi * 440 * np.arange(RATE) / RATE)).astype(np.int16)
"""A second."""


@pytest.fixture
def told() -> list[str]:
    return []


@pytest.fixture
def recorder(tmp_path: Path, told: list[str]) -> Iterator[DayRecorder]:
    with DayRecorder(tmp_path / "days", ZONE, told.append) as one:
        yield one


def record(recorder: DayRecorder, at: datetime, seconds: int) -> datetime:
    """Records a tone; the moment after it."""
    for second in range(seconds):
        recorder.write(TONE, at + timedelta(seconds=second))
    return at + timedelta(seconds=seconds)


def files(recorder: DayRecorder) -> list[str]:
    return sorted(
        path.relative_to(recorder.folder).as_posix() for path in recorder.folder.rglob("*.opus")
    )


def sounding(path: Path) -> float:
    """Seconds of sound in a file."""
    return sum(map(len, blocks(path))) / RATE


def test_what_was_recorded_can_be_played_and_dates_itself(recorder: DayRecorder) -> None:
    record(recorder, AT, 5)
    recorder.close()
    [name] = files(recorder)
    assert name == "2026-10-05/07-30-00.opus"
    path = recorder.folder / name
    sound = np.concatenate(list(blocks(path)))
    assert len(sound) / RATE == pytest.approx(5, abs=0.1)
    spectrum = np.abs(np.fft.rfft(sound[RATE : 2 * RATE]))
    assert int(spectrum.argmax()) == 440
    made, doubts = dated(path, ZONE, 5.0)
    assert (made.at, made.source, doubts) == (AT, "container", ())


def test_a_file_an_hour_and_another_after_midnight_or_a_gap(
    recorder: DayRecorder, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(day_recorder, "AN_HOUR", timedelta(seconds=3))
    gap = record(recorder, AT, 4) + timedelta(seconds=2)
    record(recorder, gap, 1)
    record(recorder, datetime(2026, 10, 6, 3, 59, 59, tzinfo=UTC), 2)
    recorder.close()
    assert files(recorder) == [
        "2026-10-05/07-30-00.opus",
        "2026-10-05/07-30-03.opus",
        "2026-10-05/07-30-06.opus",
        "2026-10-05/23-59-59.opus",
        "2026-10-06/00-00-00.opus",
    ]


def test_a_second_file_of_one_moment_takes_the_place_of_none(tmp_path: Path) -> None:
    for _ in range(2):
        with DayRecorder(tmp_path, ZONE, pytest.fail) as recorder:
            record(recorder, AT, 1)
    assert files(recorder) == ["2026-10-05/07-30-00-2.opus", "2026-10-05/07-30-00.opus"]


def test_its_size_is_told_as_it_grows(recorder: DayRecorder) -> None:
    assert recorder.size == "0 MB of the day so far, 11 MB an hour"
    noise = np.random.default_rng(1).normal(0, 3000, RATE).astype(np.int16)
    for second in range(90):
        recorder.write(noise, AT + timedelta(seconds=second))
    [path] = recorder.folder.rglob("*.opus")
    assert recorder.bytes == path.stat().st_size
    hour = recorder.bytes / 90 * 3600 / 1e6
    assert 5 < hour < 15
    assert recorder.size == f"0 MB of the day so far, {hour:.0f} MB an hour"
    recorder.close()
    assert recorder.bytes == path.stat().st_size


def test_only_the_owner_may_listen_to_it(recorder: DayRecorder) -> None:
    record(recorder, AT, 1)
    [path] = recorder.folder.rglob("*.opus")
    if sys.platform != "win32":
        assert stat.S_IMODE(path.stat().st_mode) == 0o600
        assert stat.S_IMODE(path.parent.stat().st_mode) == 0o700


def test_after_a_kill_all_but_about_a_second_can_be_played(tmp_path: Path) -> None:
    process = multiprocessing.get_context("spawn").Process(target=_killed, args=(tmp_path,))
    process.start()
    process.join()
    assert process.exitcode == 9
    [path] = tmp_path.rglob("*.opus")
    assert 18.5 <= sounding(path) <= 20


def _killed(folder: Path) -> None:
    recorder = DayRecorder(folder, ZONE, print)
    record(recorder, AT, 20)
    os._exit(9)


def test_a_full_disk_stops_it_with_one_line_and_what_is_there_can_be_played(
    recorder: DayRecorder, told: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    write, room = os.write, 20_000

    def until_full(descriptor: int, data: bytes) -> int:
        nonlocal room
        if len(data) > room:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        room -= len(data)
        return write(descriptor, data)

    monkeypatch.setattr(os, "write", until_full)
    record(recorder, AT, 30)
    recorder.close()
    assert told == [recorder.trouble]
    assert told[0].endswith(
        "days: the day is recorded no further: the disk is full. Listening goes on."
    )
    [name] = files(recorder)
    assert 2 < sounding(recorder.folder / name) < 30


def test_room_is_left_on_the_disk_for_what_is_said(
    recorder: DayRecorder, told: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(day_recorder, "RESERVE", 1 << 60)
    record(recorder, AT, 3)
    assert len(told) == 1
    assert "MB are left on the disk. Listening goes on." in told[0]
    assert files(recorder) == []


def test_a_folder_that_cannot_be_made_stops_it_too(tmp_path: Path, told: list[str]) -> None:
    (tmp_path / "days").write_text("a file is in the way")
    with DayRecorder(tmp_path / "days", ZONE, told.append) as recorder:
        record(recorder, AT, 2)
    assert len(told) == 1
    assert "the disk refuses" in told[0]
