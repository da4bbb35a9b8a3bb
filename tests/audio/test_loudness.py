"""How loud an utterance is, and what is beside it."""

import numpy as np
import pytest

from joblog.audio.decode import RATE, Samples
from joblog.audio.loudness import LEAST, loudness


def tone(amplitude: float, seconds: float) -> Samples:
    at = np.arange(round(seconds * RATE)) / RATE
    return (amplitude * np.sin(2 * np.pi * 440 * at)).astype(np.float32)


def test_a_voice_between_two_quiet_stretches_has_its_level_and_theirs() -> None:
    sound = np.concatenate([tone(0.001, 0.3), tone(0.1, 1.0), tone(0.001, 0.3)])
    told = loudness(sound)
    # The mean square of a sine is half its amplitude squared: 3 dB below a square wave's.
    assert told.level == pytest.approx(-23.0, abs=0.2)
    assert told.noise == pytest.approx(-63.0, abs=0.2)


def test_twice_as_loud_is_six_decibels_more() -> None:
    assert loudness(tone(0.2, 1.0)).level - loudness(tone(0.1, 1.0)).level == pytest.approx(
        6.02, abs=0.1
    )


@pytest.mark.parametrize("seconds", [0.0, 0.01, 1.0])
def test_silence_has_the_least_level_however_short(seconds: float) -> None:
    assert loudness(tone(0.0, seconds)) == (LEAST, LEAST)
