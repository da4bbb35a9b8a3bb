"""Which photos are alike, and which of them is shown first."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import numpy as np
import pytest
from PIL import Image, ImageFilter

from joblog.model import Look, Moment, Photo
from joblog.photos.alike import BITS_AT_ANY_TIME, BITS_IN_A_BURST, bursts, groups, rank
from joblog.photos.look import look

ZONE = "America/New_York"
NINE = datetime(2026, 10, 5, 13, tzinfo=UTC)
SOME = 0x0F0F_3333_AAAA_C3C3


def photo(
    name: str,
    seconds: float,
    likeness: int = SOME,
    sharpness: float = 100.0,
    brightness: float = 0.5,
    camera: str | None = "Invented Seven",
    source: str = "EXIF with offset",
) -> Photo:
    moment = Moment(NINE + timedelta(seconds=seconds), source)
    seen = Look(f"{likeness:016x}", sharpness, brightness)
    return Photo(name, f"{name}.jpg", moment, 64, 48, camera=camera, look=seen)


def differing_in(bits: int) -> int:
    return SOME ^ ((1 << bits) - 1)


def test_a_burst_is_one_group_with_the_sharpest_first() -> None:
    burst = [photo("a", 0, sharpness=40.0), photo("b", 1, differing_in(8), 90.0), photo("c", 2)]
    assert groups(burst, ZONE) == (("c", "b", "a"),)
    assert bursts(burst, ZONE) == groups(burst, ZONE)


def test_the_sharpest_comes_behind_when_it_shows_nothing_but_the_dark() -> None:
    dark = photo("dark", 1, sharpness=900.0, brightness=0.01)
    assert groups([dark, photo("light", 0)], ZONE) == (("light", "dark"),)


@pytest.mark.parametrize(
    ("seconds", "bits", "together"),
    [
        (20, BITS_IN_A_BURST, True),
        (20, BITS_IN_A_BURST + 1, False),
        (21, BITS_IN_A_BURST, False),
        (3600, BITS_AT_ANY_TIME, True),
        (3600, BITS_AT_ANY_TIME + 1, False),
    ],
)
def test_alike_near_in_time_or_much_alike_at_any_time(
    seconds: float, bits: int, together: bool
) -> None:
    found = groups([photo("a", 0), photo("b", seconds, differing_in(bits))], ZONE)
    assert (len(found) == 1) is together


def test_two_cameras_make_no_burst_but_may_show_the_same() -> None:
    pair = [photo("a", 0), photo("b", 1, differing_in(9), camera="Invented Nine")]
    assert groups(pair, ZONE) == ()
    same = [photo("a", 0), photo("b", 1, camera=None)]
    assert (len(groups(same, ZONE)), bursts(same, ZONE)) == (1, ())


def test_what_was_taken_on_another_day_is_no_group() -> None:
    assert groups([photo("a", 0), photo("b", 24 * 3600)], ZONE) == ()
    assert len(groups([photo("a", 0), photo("b", 14 * 3600)], ZONE)) == 1  # 23:00 that day


def test_a_thumb_before_the_lens_is_alike_to_no_other_of_the_day() -> None:
    assert groups([photo("a", 0, sharpness=0.2), photo("b", 3600, sharpness=0.3)], ZONE) == ()


def test_photos_of_which_only_the_day_is_known_make_no_burst() -> None:
    source = "day in file name"
    pair = [photo("a", 0, source=source), photo("b", 0, differing_in(9), source=source)]
    assert groups(pair, ZONE) == ()


def test_a_photo_that_nothing_is_known_of_is_left_alone() -> None:
    unknown = Photo("x", "x.jpg", Moment(NINE, "EXIF with offset"), 64, 48)
    assert groups([unknown, photo("a", 0)], ZONE) == ()


def test_the_order_of_the_photos_does_not_matter() -> None:
    some = [photo("a", 0), photo("b", 15, differing_in(8)), photo("c", 30, differing_in(12))]
    some += [photo("d", 300, ~SOME & (1 << 64) - 1)]
    assert groups(some, ZONE) == groups(some[::-1], ZONE)
    assert {len(group) for group in groups(some, ZONE)} == {3}


def test_a_place_in_a_group_counts_from_one() -> None:
    assert rank((("c", "a"),)) == {"c": (1, 2), "a": (2, 2)}


# --- of pictures ------------------------------------------------------------------------------


def scene(seed: int) -> Image.Image:
    """A made picture with structure of every size, as a wall with its shadows has."""
    draw = np.random.default_rng(seed)
    light = np.zeros((375, 500), np.float32)
    for size in (4, 8, 16, 32, 64, 128):
        noise = draw.normal(size=(375 // size + 2, 500 // size + 2)).astype(np.float32)
        wide = Image.fromarray(noise).resize((500, 375), Image.Resampling.BICUBIC)
        light += np.asarray(wide) * size**0.7
    light = (light - light.min()) / (light.max() - light.min()) * 255
    return Image.fromarray(light.astype(np.uint8))


def once_more(picture: Image.Image, seed: int) -> Image.Image:
    """The next of a burst: the hand moved and turned a little, the light and the noise differ."""
    draw = np.random.default_rng(seed)
    right, down = draw.integers(-12, 13, 2)
    turned = picture.rotate(draw.normal(), Image.Resampling.BICUBIC)
    moved = turned.transform(
        (500, 375), Image.Transform.AFFINE, (1, 0, float(right), 0, 1, float(down))
    )
    light = np.asarray(moved.crop((15, 15, 485, 360)), np.float32) * draw.uniform(0.8, 1.2)
    return Image.fromarray(np.clip(light + draw.normal(size=(345, 470)) * 6, 0, 255).astype("u1"))


def apart(one: Look, other: Look) -> int:
    return (int(one.likeness, 16) ^ int(other.likeness, 16)).bit_count()


def test_nine_in_ten_of_a_burst_are_alike_and_no_two_different_things() -> None:
    scenes = [scene(seed) for seed in range(40)]
    looks = [look(one) for one in scenes]
    again = [
        apart(looks[at], look(once_more(one, 1000 * at + turn)))
        for at, one in enumerate(scenes)
        for turn in range(3)
    ]
    others = [apart(looks[at], looks[by]) for at in range(40) for by in range(at)]
    assert sum(bits <= BITS_IN_A_BURST for bits in again) >= 0.9 * len(again)
    assert min(others) > BITS_IN_A_BURST


def test_a_copy_that_was_made_smaller_is_the_same_picture() -> None:
    for seed in range(20):
        picture = scene(seed)
        small = picture.resize((120, 90)).filter(ImageFilter.GaussianBlur(1))
        assert apart(look(picture), look(small)) <= BITS_AT_ANY_TIME


def test_what_moved_during_the_shot_is_less_sharp() -> None:
    for seed in range(20):
        picture = scene(seed)
        blurred = picture.filter(ImageFilter.GaussianBlur(3))
        assert look(blurred).sharpness < look(picture).sharpness / 2


def test_how_light_a_picture_is_lies_between_black_and_white() -> None:
    shades = [look(Image.new("RGB", (300, 200), (level,) * 3)).brightness for level in (0, 51, 255)]
    assert shades == [0.0, 0.2, 1.0]
