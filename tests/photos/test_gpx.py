"""Track logs, GPX 1.1 and 1.0.

What the schema of GPX 1.1 says (http://www.topografix.com/GPX/1/1/gpx.xsd, from memory): lat and
lon are required, decimal, -90 to 90 and -180 to under 180; time is an xsd:dateTime in UTC; hdop is
decimal; tracks hold segments, and these hold points.
"""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from joblog.model import Position
from joblog.photos import PhotoError
from joblog.photos.gpx import read_track

HEAD = '<?xml version="1.0" encoding="UTF-8"?>'
ROOT = '<gpx version="1.1" creator="invented" xmlns="http://www.topografix.com/GPX/1/1">'
NINE = datetime(2026, 10, 5, 13, 5, 21, tzinfo=UTC).timestamp()


def point(
    latitude: str = "38.62",
    longitude: str = "-70.41",
    at: str = "2026-10-05T13:05:21Z",
    *,
    height: str = "",
    dilution: str = "",
) -> str:
    said = {"ele": height, "time": at, "hdop": dilution}
    inner = "".join(f"<{name}>{value}</{name}>" for name, value in said.items() if value)
    return f'<trkpt lat="{latitude}" lon="{longitude}">{inner}</trkpt>'


def log(path: Path, *points: str, root: str = ROOT, head: str = HEAD) -> Path:
    inner = "".join(points)
    path.write_text(f"{head}{root}<trk><name>walk</name><trkseg>{inner}</trkseg></trk></gpx>")
    return path


def why(path: Path) -> str:
    with pytest.raises(PhotoError) as refused:
        read_track(path)
    return refused.value.why


def test_a_point_is_a_moment_and_a_place_with_its_error(tmp_path: Path) -> None:
    path = log(tmp_path / "walk.gpx", point(dilution="1.5"))
    track = read_track(path)
    [one] = track.points
    assert (one.at, one.position) == (NINE, Position(38.62, -70.41, None, 7.5))
    assert (track.name, track.trouble) == ("walk.gpx", None)


def test_a_height_comes_along(tmp_path: Path) -> None:
    track = read_track(log(tmp_path / "walk.gpx", point(height="12.5")))
    assert track.points[0].position.altitude == 12.5


@pytest.mark.parametrize(
    ("said", "seconds"),
    [
        ("2026-10-05T13:05:21Z", 0.0),
        ("2026-10-05T13:05:21", 0.0),
        ("2026-10-05T13:05:21.500Z", 0.5),
        ("2026-10-05T09:05:21-04:00", 0.0),
    ],
)
def test_times_are_utc_unless_they_say_otherwise(tmp_path: Path, said: str, seconds: float) -> None:
    assert read_track(log(tmp_path / "walk.gpx", point(at=said))).points[0].at == NINE + seconds


def test_points_come_in_the_order_of_time_and_once(tmp_path: Path) -> None:
    moments = ["2026-10-05T13:05:23Z", "2026-10-05T13:05:21Z", "2026-10-05T13:05:21Z"]
    track = read_track(log(tmp_path / "walk.gpx", *(point(at=moment) for moment in moments)))
    assert [one.at - NINE for one in track.points] == [0, 2]


@pytest.mark.parametrize(
    ("latitude", "longitude", "at"),
    [
        ("90.1", "0", "2026-10-05T13:05:22Z"),
        ("-91", "0", "2026-10-05T13:05:22Z"),
        ("0", "181", "2026-10-05T13:05:22Z"),
        ("nan", "0", "2026-10-05T13:05:22Z"),
        ("inf", "0", "2026-10-05T13:05:22Z"),
        ("38.62", "-70.41", ""),
        ("38.62", "-70.41", "1904-01-01T00:00:00Z"),
    ],
)
def test_what_no_place_or_moment_is_is_passed_over_and_said(
    tmp_path: Path, latitude: str, longitude: str, at: str
) -> None:
    track = read_track(log(tmp_path / "walk.gpx", point(), point(latitude, longitude, at)))
    assert len(track.points) == 1
    assert (
        track.trouble == "1 of its points tell no time or no place on earth, and were passed over"
    )


def test_the_older_form_is_read_too(tmp_path: Path) -> None:
    root = '<gpx version="1.0" creator="invented" xmlns="http://www.topografix.com/GPX/1/0">'
    assert len(read_track(log(tmp_path / "walk.gpx", point(), root=root)).points) == 1


BOMB = '<!DOCTYPE gpx [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">]>'


@pytest.mark.parametrize(
    ("content", "reason"),
    [
        ((HEAD + BOMB + ROOT + "&b;</gpx>").encode(), "brings a document type along"),
        ((BOMB + ROOT + "&b;</gpx>").encode("utf-16"), "is no GPX in UTF-8"),
        (b"", "is damaged, or no GPX"),
        (b"<gpx", "is damaged, or no GPX"),
        ((ROOT + "<extensions>" + "<a>" * 99_999).encode(), "is made otherwise than any track log"),
        ((ROOT[:-1] + " xmlns" * 999 + "></gpx>").encode(), "is made otherwise than any track log"),
        ((HEAD + ROOT + "</gpx>").encode(), "holds no point of a track with a time"),
        (b"<html><body/></html>", "holds no point of a track with a time"),
    ],
)
def test_what_is_no_track_log_is_refused_in_plain_words(
    tmp_path: Path, content: bytes, reason: str
) -> None:
    path = tmp_path / "walk.gpx"
    path.write_bytes(content)
    assert why(path).startswith(reason)


def test_what_is_not_there_is_said(tmp_path: Path) -> None:
    assert why(tmp_path / "gone.gpx").startswith("cannot be read")
