"""Where a photo was taken."""

from __future__ import annotations

from fractions import Fraction
from math import inf, nan
from pathlib import Path
from types import SimpleNamespace

import pytest
from exifread.utils import Ratio
from hypothesis import given
from hypothesis import strategies as st
from pictures import NORTH_WEST, ZONE, exif, save

from joblog.model import Position
from joblog.photos import read
from joblog.photos.position import position

PARTS = st.lists(
    st.builds(Ratio, st.integers(0, 2**32 - 1), st.integers(0, 2**32 - 1))
    | st.tuples(st.floats())
    | st.integers(-200, 200),
    max_size=4,
)

REFERENCES = st.sampled_from(["N", "S", "E", "W", "n", "", "X", b"\xff", [78]])


def tags(**values: object) -> dict[str, SimpleNamespace]:
    north_west = {"Latitude": [38, 37, 12], "LatitudeRef": "N"}
    north_west |= {"Longitude": [70, 24, 36], "LongitudeRef": "W"}
    said = north_west | values
    return {f"GPS GPS{name}": SimpleNamespace(values=value) for name, value in said.items()}


@pytest.mark.parametrize(
    ("north_or_south", "east_or_west", "latitude", "longitude"),
    [("N", "E", 38.62, 70.41), ("N", "W", 38.62, -70.41), ("S", "E", -38.62, 70.41)],
)
def test_south_and_west_are_negative(
    tmp_path: Path, north_or_south: str, east_or_west: str, latitude: float, longitude: float
) -> None:
    block = exif(gps=NORTH_WEST | {1: north_or_south, 3: east_or_west})
    photo = read(save(tmp_path / "eave.jpg", block), ZONE)
    assert photo.position == Position(latitude, longitude)


@pytest.mark.parametrize(("reference", "metres"), [(b"\0", 12.5), (b"\1", -12.5)])
def test_an_altitude_is_above_or_below_the_sea(
    tmp_path: Path, reference: bytes, metres: float
) -> None:
    block = exif(gps=NORTH_WEST | {5: reference, 6: 12.5})
    photo = read(save(tmp_path / "eave.jpg", block), ZONE)
    assert photo.position == Position(38.62, -70.41, metres)


def test_no_position_is_no_trouble() -> None:
    assert position({}) == (None, None)


@pytest.mark.parametrize(
    ("absurd", "why"),
    [
        ({"Latitude": [123, 0, 0]}, "the latitude says 123 0 0"),
        ({"Longitude": [181, 0, 0]}, "the longitude says 181 0 0"),
        ({"Latitude": [38, 61, 0]}, "the latitude says 38 61 0"),
        ({"Latitude": [38, -1, 0]}, "the latitude says 38 -1 0"),
        ({"Latitude": [90, 0, Fraction(1, 100)]}, "the latitude says 90 0 0.01"),
        ({"Latitude": [Ratio(38, 0), 0, 0]}, "the latitude is not three numbers"),
        ({"Latitude": [Ratio(0, 0)] * 3}, "the latitude is not three numbers"),
        ({"Latitude": [(nan,), (0.0,), (inf,)]}, "the latitude is not three numbers"),
        ({"Latitude": [38, 37]}, "the latitude is not three numbers"),
        ({"Latitude": "38.62"}, "the latitude is not three numbers"),
        ({"LatitudeRef": ""}, "the latitude does not say N or S"),
        ({"LatitudeRef": "W"}, "the latitude does not say N or S"),
        ({"LongitudeRef": b"\xff\xfe"}, "the longitude does not say E or W"),
        (
            {"Latitude": [0, 0, 0], "Longitude": [0, 0, 0]},
            "it is 0, 0, what a camera writes that has none",
        ),
    ],
)
def test_an_absurd_position_is_ignored_and_said(absurd: dict[str, object], why: str) -> None:
    assert position(tags(**absurd)) == (None, f"its position was ignored: {why}")


@pytest.mark.parametrize(
    ("altitude", "why"),
    [
        ([99_999], "it says 99999 m"),
        ([Ratio(1, 0)], "it is no number"),
        ([], "it is no number"),
        ("high", "it is no number"),
    ],
)
def test_an_absurd_altitude_leaves_the_position_alone(altitude: object, why: str) -> None:
    found = position(tags(Altitude=altitude))
    assert found == (Position(38.62, -70.41), f"its altitude was ignored: {why}")


def test_an_absurd_position_comes_through_a_whole_file(tmp_path: Path) -> None:
    block = exif(gps=NORTH_WEST | {2: (123.0, 0.0, 0.0)})
    photo = read(save(tmp_path / "eave.jpg", block), ZONE)
    assert photo.position is None
    assert photo.trouble == "its position was ignored: the latitude says 123 0 0"


@given(PARTS, REFERENCES, PARTS, REFERENCES, PARTS)
def test_whatever_is_written_gives_a_place_on_earth_or_a_plain_reason(
    latitude: list[object], north: object, longitude: list[object], east: object, up: list[object]
) -> None:
    said = tags(
        Latitude=latitude, LatitudeRef=north, Longitude=longitude, LongitudeRef=east, Altitude=up
    )
    found, trouble = position(said)
    assert found or trouble
    assert found is None or (abs(found.latitude) <= 90 and abs(found.longitude) <= 180)


@given(st.integers(0, 89), st.integers(0, 59), st.integers(0, 59_999), st.sampled_from("NS"))
def test_degrees_minutes_and_seconds_are_one_exact_number(
    degrees: int, minutes: int, thousandths: int, reference: str
) -> None:
    parts = [degrees, minutes, Fraction(thousandths, 1000)]
    found, _ = position(tags(Latitude=parts, LatitudeRef=reference))
    exact = Fraction((degrees * 60 + minutes) * 60_000 + thousandths, 3_600_000)
    assert found is not None
    assert abs(found.latitude) == float(exact)
