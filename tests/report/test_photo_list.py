"""The list of photos says all that a person should know of each."""

from __future__ import annotations

from datetime import UTC, datetime

from joblog.model import Direction, Job, Moment, Photo, Position
from joblog.report import photo_list

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
