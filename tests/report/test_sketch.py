"""The sketch of the site, in characters and as SVG."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from joblog.model import Position, Sketch, Spot
from joblog.report.sketch import MANY, ROWS, as_sketch, as_svg

HERE = Position(38.62, -70.41)
SVG = "{http://www.w3.org/2000/svg}"


def photo(east: float, north: float, name: str = "a.jpg") -> Spot:
    return Spot("photo", name, east, north, 6.0, "2026-10-05 09:05:21")


EAVE, GARAGE = Spot("place", "north eave", 0, 20, 4.0), Spot("place", "garage", 30, 0, 5.0)
SITE = Sketch(HERE, (EAVE, GARAGE, photo(1, 10), photo(1.1, 10), photo(-20, -5)), (0, 0, 60), 2)


def drawing(sketch: Sketch, width: int = 80) -> list[str]:
    """The lines before the legend."""
    return as_sketch(sketch, width).split("\n\nnorth is up")[0].splitlines()


def test_places_are_letters_and_photos_are_counted_where_they_lie() -> None:
    at = {
        mark: (row, line.index(mark))
        for row, line in enumerate(drawing(SITE))
        for mark in line.replace(" ", "")
    }
    assert set(at) == {"A", "B", "1", "2"}
    assert at["A"][0] < at["2"][0] < at["B"][0] < at["1"][0]  # from north to south
    assert at["1"][1] < at["A"][1] < at["B"][1]  # from west to east


def test_the_legend_names_the_places_and_what_is_not_drawn() -> None:
    shown = as_sketch(SITE, 80)
    assert "A  north eave, within 4 m" in shown
    assert "B  garage, within 5 m" in shown
    assert "photos taken there, 3 in all" in shown
    assert "2 more without a position" in shown


def test_metres_are_to_scale() -> None:
    spots = (Spot("place", "west", 0, 0, 4.0), Spot("place", "east", 100, 0, 4.0))
    lines = as_sketch(Sketch(HERE, spots), 80).splitlines()
    [drawn] = [line for line in lines if "A" in line and "B" in line]
    found = re.search(r"a column is ([\d.]+) m", "\n".join(lines))
    assert found is not None
    across = drawn.index("B") - drawn.index("A")
    assert across * float(found[1]) == pytest.approx(100, rel=0.05)


def test_ten_photos_at_one_spot_are_many() -> None:
    ten = tuple(photo(0, 0, f"{at}.jpg") for at in range(10))
    assert "".join(drawing(Sketch(HERE, ten))).strip() == MANY
    assert "".join(drawing(Sketch(HERE, ten[1:]))).strip() == "9"


METRES = st.floats(-3000, 3000)


@given(st.lists(st.tuples(METRES, METRES), min_size=1, max_size=9), st.integers(40, 200))
def test_every_sketch_fits_and_draws_every_photo(
    spots: list[tuple[float, float]], width: int
) -> None:
    lines = drawing(Sketch(HERE, tuple(photo(*spot) for spot in spots)), width)
    assert len(lines) <= ROWS + 1
    assert max(map(len, lines)) <= width
    assert sum(map(int, "".join(lines).replace(" ", ""))) == len(spots)


def test_the_drawing_has_everything_in_metres_with_north_up() -> None:
    root = ElementTree.fromstring(as_svg(SITE, "Gull Point"))
    told = {
        circle.findtext(f"{SVG}title"): (float(circle.get("cx", "")), float(circle.get("cy", "")))
        for circle in root.iter(f"{SVG}circle")
    }
    assert told["north eave (within 4 m)"] == (0, -20)
    assert told["garage (within 5 m)"] == (30, 0)
    assert told["a.jpg, 2026-10-05 09:05:21 (within 6 m)"][1] in (-10, 5)
    assert root.findtext(f"{SVG}title") == "Gull Point"
    left, top, wide, high = map(float, root.get("viewBox", "").split())
    assert all(left <= x <= left + wide and top <= y <= top + high for x, y in told.values())


def test_names_are_text_in_the_drawing_and_never_markup() -> None:
    nasty = Spot("place", '<script>alert("x")</script>\x1b[31m&', 0, 0, 4.0)
    drawn = as_svg(Sketch(HERE, (nasty,)), "</title><script/>")
    root = ElementTree.fromstring(drawn)
    assert list(root.iter(f"{SVG}script")) == []
    assert "\x1b" not in drawn
    assert "\x1b" not in as_sketch(Sketch(HERE, (nasty,)))


def test_the_drawing_asks_for_nothing_from_elsewhere() -> None:
    drawn = as_svg(SITE, "Gull Point").replace("http://www.w3.org/2000/svg", "")
    assert "http" not in drawn
    assert "href" not in drawn
