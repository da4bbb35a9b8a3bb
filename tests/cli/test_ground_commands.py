"""joblog fence, and what is told of where photos were taken."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from PIL import Image
from running import Say

pytestmark = pytest.mark.usefixtures("heard_here")
AT = ("--book", "book")
DEMO = Path(__file__).parents[2] / "fixtures" / "demo"


def test_without_photos_there_is_no_fence_and_it_says_how_to_set_one(porch: Say) -> None:
    status, shown, _ = porch("fence", *AT)
    assert status == 0
    assert shown.startswith("Corner porch: no fence yet")


def test_a_fence_is_set_shown_and_forgotten(porch: Say) -> None:
    _, shown, _ = porch("fence", "--at", "38.62 -70.41", *AT)
    assert shown == "Corner porch: fence of 100 m around 38.62000 -70.41000, set by hand\n"
    assert "fence of 40 m" in porch("fence", "--radius", "40", *AT)[1]
    told = json.loads(porch("fence", "--json", *AT)[1])
    assert told["fence"]["radius"] == 40.0
    assert "no fence yet" in porch("fence", "--learned", *AT)[1]
    assert "taken back: let the fence" in porch("undo", *AT)[1]
    assert "fence of 40 m" in porch("fence", *AT)[1]


def test_what_is_no_place_is_refused_in_one_line(porch: Say) -> None:
    for words in (("--at", "here"), ("--at", "95 0"), ("--radius", "10"), ("--at", "nan nan")):
        status, _, complaint = porch("fence", *words, *AT)
        assert status != 0
        assert "Traceback" not in complaint
    assert "95 0 is no place on earth" in porch("fence", "--at", "95 0", *AT)[2]
    assert "is no radius" in porch("fence", "--at", "38 -70", "--radius", "nan", *AT)[2]
    assert porch("fence", "--learned", "--at", "38 -70", *AT)[0] != 0


def test_a_track_log_is_taken_in_and_places_photos(porch: Say) -> None:
    Path("walk.gpx").write_text(
        '<gpx version="1.1" creator="invented" xmlns="http://www.topografix.com/GPX/1/1"><trk>'
        '<trkseg><trkpt lat="38.62" lon="-70.41"><time>2026-10-05T12:00:00Z</time></trkpt>'
        "</trkseg></trk></gpx>"
    )
    _, shown, _ = porch("add", "walk.gpx", *AT)
    assert "1 track log taken in" in shown
    yard = Path("2026-10-05 07.00.30.png")
    Image.effect_noise((64, 48), 60).save(yard)
    porch("add", str(yard), *AT)
    listed = json.loads(porch("photos", "--json", *AT)[1])
    [placed] = listed["placed"].values()
    assert placed["source"] == "walk.gpx"
    assert "by walk.gpx" in porch("photos", "--csv", *AT)[1]


def test_a_photo_far_from_the_fence_is_told_on_the_way_in_and_in_the_list(porch: Say) -> None:
    porch("fence", "--at", "40 -70", *AT)
    _, shown, _ = porch("add", str(DEMO / "photos" / "yard.jpg"), *AT)
    assert "yard.jpg: was taken 157 km outside of this job's fence" in shown
    assert "outside of this job's fence" in porch("photos", "--csv", *AT)[1]


def test_a_sketch_is_printed_and_drawn_into_a_file(porch: Say) -> None:
    assert "no photo tells where it was taken" in porch("site", *AT)[1]
    porch("add", *(str(DEMO / "photos" / name) for name in ("yard.jpg", "nest.jpg")), *AT)
    assert "photos taken there, 2 in all" in porch("site", *AT)[1]
    assert "photos taken there, 1 in all" in porch("site", "2026-10-06", *AT)[1]
    assert porch("site", "--svg", "site.svg", *AT)[1] == "site.svg: written\n"
    assert "yard.jpg" in Path("site.svg").read_text("utf-8")
    assert json.loads(porch("site", "--json", *AT)[1])["spots"][0]["kind"] == "photo"
