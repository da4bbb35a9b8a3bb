"""joblog clock, and how joblog photos and joblog day show what was put right."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from running import Say

pytestmark = pytest.mark.usefixtures("heard_here")
DEMO = Path(__file__).parents[2] / "fixtures" / "demo"
AT = ("--book", "book")


def _monday(porch: Say) -> None:
    """Nothing was said of these photos, so that no clock is known by itself."""
    porch("add", str(DEMO / "photos"), *AT)


def test_clocks_are_listed_set_and_taken_back(porch: Say) -> None:
    _monday(porch)
    status, shown, _ = porch("clock", "Demo compact", "--set", "+47 min", *AT)
    assert status == 0
    assert "47 min slow, set by hand" in shown
    [listed] = [
        one for one in json.loads(porch("clock", "--json", *AT)[1]) if one["source"] == "by hand"
    ]
    assert (listed["camera"], listed["seconds"]) == ("Demo compact", 2820.0)
    assert "set by hand" not in porch("clock", "compact", "--back", *AT)[1]
    assert "set by hand" in porch("undo", *AT)[1]


def test_the_original_time_and_the_one_put_right_stand_side_by_side(porch: Say) -> None:
    _monday(porch)
    porch("clock", "compact", "--set", "+47 min", *AT)
    header, *rows = porch("photos", "--csv", *AT)[1].splitlines()
    assert header.startswith("taken,known from,put right to,photo")
    [row] = [row for row in rows if ",delivery.jpg," in row]
    assert row.startswith("2026-10-05 05:45:40,EXIF with offset,06:32:40,")
    assert (
        " ! Demo compact: its clock was 47 min slow, set by hand"
        in porch("day", "2026-10-05", *AT)[1]
    )


def test_photos_nobody_spoke_of_and_words_without_a_photo_are_named(porch: Say) -> None:
    _monday(porch)
    porch("write", "photo of the chimney", "--at", "2026-10-09 09:00", *AT)
    shown = porch("photos", *AT)[1]
    assert "photos that nobody spoke of: delivery.jpg" in shown
    assert "spoken of, without a photo: " in shown
    assert "the chimney" in shown


def test_what_makes_no_sense_is_said_plainly(porch: Say) -> None:
    _monday(porch)
    assert porch("clock", "--set", "+1 h", *AT)[0] == 2
    assert porch("clock", "compact", "--set", "+1 h", "--back", *AT)[0] == 2
    status, _, complaint = porch("clock", "compact", "--set", "later", *AT)
    assert status == 1
    assert "say what to add to its times, like +47 min" in complaint
