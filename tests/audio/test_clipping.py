"""Sound that was too loud for its recorder is told from sound that is only loud."""

import numpy as np
import pytest
from sounds import babble, quiet

from fixtures.voices import mix, noise, write
from joblog.audio.clipping import clips
from joblog.audio.decode import Samples, samples


def too_loud(decibels: float) -> Samples:
    sound = babble(3.0) / np.float32(0.4) * np.float32(10 ** (decibels / 20))
    return np.clip(sound, -1.0, 1.0).astype(np.float32)


@pytest.mark.parametrize("decibels", [14.0, 20.0, 36.0])
def test_a_voice_far_too_loud_is_cut_off(decibels: float) -> None:
    assert clips(too_loud(decibels))


def test_what_was_cut_off_stays_so_when_it_is_turned_down() -> None:
    assert clips(too_loud(20.0) * np.float32(0.1))


def test_a_loud_voice_that_just_fits_is_whole() -> None:
    assert not clips(too_loud(0.0))


@pytest.mark.parametrize("kind", ["wind", "saw", "compressor"])
def test_a_voice_in_noise_is_whole(kind: str) -> None:
    assert not clips(mix(babble(3.0), noise(kind, 3.0), 5.0))


def test_soft_sound_of_few_steps_is_whole() -> None:
    assert not clips((np.round(babble(3.0) * 5) / 32768).astype(np.float32))


@pytest.mark.parametrize("ending", [".mp3", ".opus"])
def test_a_loud_voice_is_whole_after_any_codec(tmp_path, ending: str) -> None:
    assert not clips(samples(write(tmp_path / f"loud{ending}", too_loud(0.0))))


def test_silence_is_whole() -> None:
    assert not clips(quiet(1.0))
    assert not clips(quiet(0.0))
