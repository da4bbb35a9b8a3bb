"""Fences, places and tracks on the ground."""

from __future__ import annotations

import math
import random
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.model import BookEntry, Entry, Fence, Position, Tie, Track, TrackPoint
from joblog.photos.geo import (
    ENOUGH,
    LEAST_RADIUS,
    beyond,
    distance,
    fitting,
    from_here,
    learned_fence,
    learned_places,
    middle,
    on_track,
    on_tracks,
    place_fits,
)

HERE = Position(38.62, -70.41)
"""Open sea."""

METRE = 1 / 111_000
"""Of latitude, in degrees."""

MOMENT = datetime(2026, 10, 5, 13, tzinfo=UTC)


def near(east: float, north: float, error: float | None = 8.0, here: Position = HERE) -> Position:
    across = METRE / math.cos(math.radians(here.latitude))
    return Position(here.latitude + north * METRE, here.longitude + east * across, None, error)


def scattered(count: int, spread: float, seed: int, here: Position = HERE) -> list[Position]:
    draw = random.Random(seed)
    return [near(draw.gauss(0, spread), draw.gauss(0, spread), 8.0, here) for _ in range(count)]


# --- distances --------------------------------------------------------------------------------


def test_distances_cross_the_date_line() -> None:
    assert distance(Position(0, 179.999), Position(0, -179.999)) == pytest.approx(222.64, abs=0.01)
    east, _ = from_here(Position(0, 179.999), Position(0, -179.999))
    assert east == pytest.approx(222.64, abs=0.01)


@given(st.floats(-89, 89), st.floats(-180, 180), st.floats(-500, 500), st.floats(-500, 500))
def test_a_middle_of_one_is_that_one_and_of_two_lies_between(
    latitude: float, longitude: float, east: float, north: float
) -> None:
    one = Position(latitude, longitude)
    assert distance(middle([one]), one) < 1e-3
    other = Position(latitude + north * METRE / 10, longitude)
    between = middle([one, other])
    assert distance(one, between) == pytest.approx(distance(one, other) / 2, abs=0.01)


def test_nothing_has_no_middle() -> None:
    with pytest.raises(ValueError, match="no middle"):
        middle([])


# --- fences -----------------------------------------------------------------------------------


def test_a_fence_holds_the_photos_it_was_learned_from() -> None:
    photos = scattered(200, 12, seed=1)
    fence = learned_fence(photos)
    assert fence is not None
    assert fence.source == "learned from 200 photos"
    assert all(beyond(photo, fence) == 0 for photo in photos)
    assert distance(HERE, Position(fence.latitude, fence.longitude)) < 5
    assert LEAST_RADIUS <= fence.radius < 80


def test_photos_of_another_job_hardly_move_a_fence() -> None:
    ours, theirs = scattered(60, 10, seed=2), scattered(25, 10, seed=3, here=near(900, 400))
    fence, alone = learned_fence(ours + theirs), learned_fence(ours)
    assert fence is not None and alone is not None
    centres = Position(fence.latitude, fence.longitude), Position(alone.latitude, alone.longitude)
    assert distance(*centres) < 10
    assert sum(beyond(photo, fence) > 0 for photo in theirs) == 25


def test_too_few_or_too_vague_photos_make_no_fence() -> None:
    assert learned_fence(scattered(ENOUGH - 1, 10, seed=4)) is None
    assert learned_fence([near(0, at, error=400.0) for at in range(20)]) is None


def test_who_may_be_within_by_its_own_error_is_not_beyond() -> None:
    fence = Fence(HERE.latitude, HERE.longitude, 100, "set by hand")
    assert beyond(near(0, 130, error=20.0), fence) == 0
    assert beyond(near(0, 200, error=20.0), fence) == pytest.approx(60, abs=2)
    assert beyond(near(0, 130, error=None), fence) == 0


def test_the_nearest_of_two_fences_for_its_size_fits() -> None:
    fences = {
        "house": Fence(HERE.latitude, HERE.longitude, 100, "set by hand"),
        "farm": Fence(near(0, 300).latitude, HERE.longitude, 400, "set by hand"),
    }
    assert fitting(near(0, 10), fences) == "house"
    assert fitting(near(0, 90), fences) == "farm"
    assert fitting(near(5000, 0), fences) is None


# --- places -----------------------------------------------------------------------------------


def entry(id: int, place: str | None, standing: str = "accepted") -> BookEntry:
    said = Entry("covered", place=place, note="flashing")
    return BookEntry(id, 1, MOMENT, said, (), standing, "heard", MOMENT, "words")  # type: ignore[arg-type]


def test_a_place_lies_where_the_photos_of_confirmed_entries_were_taken() -> None:
    positions = {
        "a": near(10, 0), "b": near(14, 0), "c": near(12, 2), "far": near(300, 300),
        "vague": near(0, 0, error=500.0),
    }  # fmt: skip
    ties = [Tie(photo, 1, "", 0) for photo in ("a", "b", "c", "vague")] + [Tie("far", 2, "", 0)]
    places = learned_places(positions, ties, [entry(1, "garage"), entry(2, "yard", "heard")])
    assert list(places) == ["garage"]
    assert distance(places["garage"], near(12, 0)) < 1.5
    assert places["garage"].error == pytest.approx(8 / math.sqrt(3), abs=0.5)


def test_what_was_dropped_or_names_no_place_teaches_nothing() -> None:
    ties = [Tie("a", 1, "", 0), Tie("a", 2, "", 0)]
    entries = [entry(1, "garage", "dropped"), entry(2, None)]
    assert learned_places({"a": near(0, 0)}, ties, entries) == {}


def test_the_nearer_place_is_likelier_and_by_how_much_depends_on_the_errors() -> None:
    places = {"north eave": near(0, 15, 5.0), "garage": near(40, 0, 5.0)}
    sharp, vague = place_fits(near(0, 12, 5.0), places), place_fits(near(0, 12, 60.0), places)
    assert sharp["north eave"] - sharp["garage"] > 15
    assert 0 < vague["north eave"] - vague["garage"] < 1


def test_the_likelihood_is_a_density() -> None:
    # The sum over a grid of one metre is the integral, and that is one.
    places = {"here": Position(HERE.latitude, HERE.longitude, None, 4.0)}
    total = sum(
        math.exp(place_fits(near(east, north, 3.0), places)["here"])
        for east in range(-25, 26)
        for north in range(-25, 26)
    )
    assert total == pytest.approx(1.0, abs=0.01)


# --- tracks -----------------------------------------------------------------------------------


def walked(*points: tuple[float, float, float]) -> Track:
    """Seconds, metres east, metres north."""
    made = tuple(TrackPoint(at, near(east, north, None)) for at, east, north in points)
    return Track("t", "walk.gpx", made)


def test_between_two_points_one_was_on_the_way() -> None:
    track = walked((0, 0, 0), (60, 0, 40))
    place = on_track(track, 15)
    assert place is not None and place.error is not None
    assert distance(place, near(0, 10)) < 0.1
    assert 8 < place.error < 15


def test_at_a_point_its_own_error_is_all() -> None:
    track = walked((0, 0, 0), (60, 0, 40), (120, 0, 40))
    assert [on_track(track, at).error for at in (0, 60, 120)] == [8.0, 8.0, 8.0]  # type: ignore[union-attr]


def test_the_error_grows_with_the_gap() -> None:
    errors = []
    for gap in (10, 60, 600, 1800):
        place = on_track(walked((0, 0, 0), (gap, 0, 0)), gap / 2)
        assert place is not None and place.error is not None
        errors.append(place.error)
    assert errors == sorted(errors)
    assert errors[0] < 8.5
    assert errors[-1] > 20


def test_a_gap_that_is_too_long_tells_nothing() -> None:
    assert on_track(walked((0, 0, 0), (1801, 0, 0)), 900) is None


@pytest.mark.parametrize(("at", "known"), [(-120, True), (-121, False), (180, True), (181, False)])
def test_shortly_before_and_after_a_track_its_ends_hold(at: float, known: bool) -> None:
    assert (on_track(walked((0, 0, 0), (60, 0, 40)), at) is not None) is known


def test_a_track_of_nothing_tells_nothing() -> None:
    assert on_track(Track("t", "empty.gpx", ()), 0) is None


def test_of_two_tracks_the_one_that_knows_it_better_counts() -> None:
    coarse, fine = walked((0, 0, 0), (1000, 0, 0)), walked((490, 5, 0), (510, 5, 0))
    found = on_tracks([coarse, fine], 500)
    assert found is not None
    assert found[1] is fine
    assert on_tracks([], 500) is None


def test_a_track_over_the_date_line_does_not_go_round_the_world() -> None:
    ends = (TrackPoint(0, Position(0, 179.9999)), TrackPoint(10, Position(0, -179.9999)))
    place = on_track(Track("t", "sea.gpx", ends), 5)
    assert place is not None
    assert abs(place.longitude) == pytest.approx(180, abs=1e-6)


@given(st.lists(st.tuples(st.floats(0, 4000), st.floats(-50, 50), st.floats(-50, 50)), max_size=8))
def test_nobody_is_ever_further_away_than_the_points_beside(
    drawn: list[tuple[float, float, float]],
) -> None:
    track = walked(*sorted({at: (at, east, north) for at, east, north in drawn}.values()))
    for at in range(0, 4000, 333):
        place = on_track(track, at)
        if place is not None:
            assert min(distance(place, point.position) for point in track.points) < 160
            assert place.error is not None and place.error >= 8
