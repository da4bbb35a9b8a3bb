"""When words were said, as far as can be guessed."""

import numpy as np
import pytest

from joblog.speech.recognizer import RATE
from joblog.speech.timing import lay_over


def sound(*parts: tuple[float, float]) -> np.ndarray:
    """Noise of a loudness for some seconds, part after part."""
    draw = np.random.default_rng(0)
    return np.concatenate(
        [level * draw.standard_normal(round(seconds * RATE)) for level, seconds in parts]
    ).astype(np.float32)


def test_words_share_the_sounding_time_by_their_letters() -> None:
    (first, second) = lay_over(["abcdefg", "abc"], sound((0.1, 3.0)))
    assert first == pytest.approx((0.0, 2.0), abs=0.03)
    assert second == pytest.approx((2.0, 3.0), abs=0.03)


def test_a_pause_between_two_words_belongs_to_neither() -> None:
    spoken = sound((0.0, 0.5), (0.1, 1.0), (0.0, 1.0), (0.1, 1.0), (0.0, 0.5))
    (first, second) = lay_over(["north", "south"], spoken)
    assert first == pytest.approx((0.5, 1.5), abs=0.05)
    assert second == pytest.approx((2.5, 3.5), abs=0.05)


def test_silence_is_shared_out_evenly() -> None:
    assert lay_over(["north", "south"], np.zeros(RATE, np.float32)) == [
        pytest.approx((0.0, 0.5), abs=0.02),
        pytest.approx((0.5, 1.0), abs=0.02),
    ]


@pytest.mark.parametrize("length", [0, 1, 159, 161])
def test_a_sound_of_hardly_any_length_gives_times_all_the_same(length: int) -> None:
    ((start, end),) = lay_over(["north"], np.zeros(length, np.float32))
    assert 0 <= start <= end <= 0.011


def test_no_words_have_no_times() -> None:
    assert lay_over([], sound((0.1, 1.0))) == []
