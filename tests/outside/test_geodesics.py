"""Distances on the ellipsoid against a published line."""

from __future__ import annotations

import math

import pytest

from joblog.model import Position
from joblog.photos.geo import distance, from_here


def degrees(whole: int, minutes: int, seconds: float) -> float:
    return whole + minutes / 60 + seconds / 3600


FLINDERS_PEAK = Position(-degrees(37, 57, 3.72030), degrees(144, 25, 29.52440))
BUNINYONG = Position(-degrees(37, 39, 10.15610), degrees(143, 55, 35.38390))


def test_vincentys_test_line_is_as_long_as_published() -> None:
    # Flinders Peak to Buninyong, 54,972.271 m (Geoscience Australia, from memory; on GRS80, which
    # differs from WGS 84 by a tenth of a millimetre in the half-axis).
    assert distance(FLINDERS_PEAK, BUNINYONG) == pytest.approx(54_972.271, abs=0.001)


def test_it_runs_west_and_north() -> None:
    # Azimuth 306 52 05.37 (same source, from memory).
    azimuth = math.radians(degrees(306, 52, 5.37))
    east, north = from_here(FLINDERS_PEAK, BUNINYONG)
    assert east == pytest.approx(54_972.271 * math.sin(azimuth), abs=0.01)
    assert north == pytest.approx(54_972.271 * math.cos(azimuth), abs=0.01)


def test_a_minute_of_latitude_is_about_a_nautical_mile() -> None:
    # 1,852 m by definition of the mile; from 1,843 m at the equator to 1,862 m at a pole.
    for latitude in (0, 45, 89):
        apart = distance(Position(latitude, 10.0), Position(latitude + 1 / 60, 10.0))
        assert 1_842 < apart < 1_862
