"""The list of photos says all that a person should know of each."""

from __future__ import annotations

from datetime import UTC, datetime

from joblog.model import BookEntry, Direction, Entry, Job, Moment, Photo, Position, Tie
from joblog.report import day_sheet, photo_list

JOB = Job("Invented", "America/New_York")
TAKEN = Moment(datetime(2026, 10, 5, 13, 5, 21, tzinfo=UTC), "EXIF with offset")


def row(**also: object) -> dict[str, str]:
    photo = Photo("a" * 64, "eave.jpg", TAKEN, 64, 48, **also)  # type: ignore[arg-type]
    table = photo_list(JOB, [photo], [])
    return dict(zip(table.headings, table.rows[0], strict=True))


def test_a_position_is_listed_with_its_error_and_the_direction() -> None:
    listed = row(
        position=Position(38.62, -70.41, None, 7.5), direction=Direction(123.25, "magnetic")
    )
    assert listed["position"] == "38.62000 -70.41000 within 8 m, looking 123° magnetic"


def test_a_position_without_an_error_claims_none() -> None:
    assert row(position=Position(38.62, -70.41))["position"] == "38.62000 -70.41000"


def test_what_kind_of_picture_it_is_stands_before_what_is_wrong() -> None:
    listed = row(remarks=("a screenshot",), trouble="ends early")
    assert listed["why"] == "not tied; a screenshot; ends early"


def taken(name: str) -> Photo:
    return Photo(name, f"{name}.jpg", TAKEN, 64, 48)


def test_alike_photos_are_numbered_in_the_list() -> None:
    table = photo_list(JOB, [taken("a"), taken("b"), taken("c")], [], [("c", "a")])
    column = table.headings.index("alike")
    assert [row[column] for row in table.rows] == ["2 of 2", "", "1 of 2"]


def test_a_day_sheet_says_how_many_photos_are_to_be_looked_at() -> None:
    photos = [taken("a"), taken("b"), taken("c"), taken("d")]
    said = BookEntry(
        7, 1, TAKEN.at, Entry("covered", note="flashing"), (), "heard", "heard", TAKEN.at, "words"
    )
    ties = [Tie("a", 7, "said nearest", 1.0), Tie("b", 7, "said nearest", 2.0)]
    alike = [("b", "a"), ("c", "d")]
    sheet = day_sheet(JOB, TAKEN.at.date(), [said], photos, ties, None, alike=alike)
    assert "1 entry, 4 photos, 2 to look at, 0 doubts" in sheet
    assert "flashing  [2 photos, 1 to look at]" in sheet
    assert "4 photos, 0 doubts" in day_sheet(JOB, TAKEN.at.date(), [said], photos, ties, None)
