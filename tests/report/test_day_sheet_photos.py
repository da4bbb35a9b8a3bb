"""What a day sheet says of clocks, close calls, photos nobody spoke of and words without one."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime

from joblog.model import BookEntry, ClockCorrection, Entry, Job, Moment, Photo, Tie
from joblog.report import day_sheet, photo_list
from joblog.report.sheets import clock_list

JOB = Job("Invented", "America/New_York")
DAY = date(2026, 10, 5)
AT = datetime(2026, 10, 5, 13, 5, 21, tzinfo=UTC)
PHOTO = Photo("a" * 64, "eave.jpg", Moment(AT, "EXIF with offset"), 64, 48, camera="Compact")
CUE = BookEntry(7, 1, AT, Entry("photo", note="the gable"), (), "heard", "heard", AT, "")


def clock(seconds: float, confidence: float, reason: str, cues: int = 3) -> ClockCorrection:
    return ClockCorrection(
        "Compact", DAY, seconds, 0.0, AT, confidence, reason, cues, "spoken cues"
    )


def sheet(**more: object) -> list[str]:
    entries = more.pop("entries", [CUE])
    ties = more.pop("ties", [])
    return day_sheet(JOB, DAY, entries, [PHOTO], ties, None, **more).splitlines()  # type: ignore[arg-type]


def test_a_clock_that_was_put_right_is_told_in_one_line() -> None:
    lines = sheet(clocks=[clock(2820, 0.99, "47 min slow: 3 of 3 spoken cues fit")])
    assert " ! Compact: its clock was 47 min slow: 3 of 3 spoken cues fit" in lines


def test_a_clock_that_is_right_needs_no_line_and_one_nobody_is_sure_of_has_one() -> None:
    right = sheet(clocks=[clock(0.0, 0.99, "right: 3 of 3 spoken cues fit")])
    assert not any("clock" in line for line in right)
    unsure = sheet(clocks=[clock(600, 0.6, "not sure: 1 of 3 spoken cues would fit")])
    assert " ! Compact: its clock is not sure: 1 of 3 spoken cues would fit" in unsure


def test_a_close_call_stands_there_as_a_question() -> None:
    tie = Tie(PHOTO.sha256, 7, "said 'photo' 20 s before; not sure: why", 20.0, 0.4, False, 7)
    question = " ? eave.jpg: tied to entry 7: said 'photo' 20 s before; not sure: why"
    assert question in sheet(ties=[tie])


def test_a_burst_is_one_question() -> None:
    shots = [replace(PHOTO, sha256=name * 64, name=f"{name}.jpg") for name in "abc"]
    ties = [
        Tie(one.sha256, 7, f"said 'photo' {at} s before; not sure: why", at, 0.4, False, 7)
        for at, one in enumerate(shots, 20)
    ]
    lines = day_sheet(JOB, DAY, [CUE], shots, ties, None).splitlines()
    [question] = [line for line in lines if line.startswith(" ? ")]
    assert (
        question == " ? a.jpg and 2 more: tied to entry 7: said 'photo' 20 s before; not sure: why"
    )


def test_a_hundred_photos_that_nobody_spoke_of_fit_in_a_line() -> None:
    line = sheet(unspoken=[PHOTO] * 100)[-1]
    assert line.endswith("eave.jpg and 92 more")


def test_what_was_not_spoken_of_and_what_has_no_photo_is_listed() -> None:
    lines = sheet(unspoken=[PHOTO], unanswered=[CUE])
    assert "   photos that nobody spoke of: eave.jpg" in lines
    assert "   spoken of, without a photo: 7 photo: the gable" in lines


def test_the_list_of_photos_has_the_time_put_right_beside_the_original() -> None:
    moved = {PHOTO.sha256: (AT.replace(minute=52), clock(2820, 0.99, ""))}
    table = photo_list(JOB, [PHOTO], [], put_right=moved)
    row = dict(zip(table.headings, table.rows[0], strict=True))
    assert (row["taken"], row["put right to"]) == ("Oct 5, 9:05:21 AM", "9:52:21 AM")


def test_a_correction_that_is_not_made_has_no_seconds_in_the_list_of_clocks() -> None:
    made, not_made = clock_list([clock(2820, 0.99, "slow"), clock(2820, 0.4, "not sure")]).rows
    assert made == ("Compact", "Oct 5", "+2820 s", "99 %", "slow")
    assert not_made == ("Compact", "Oct 5", "", "40 %", "not sure")
