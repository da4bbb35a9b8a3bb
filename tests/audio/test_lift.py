"""Speech that was recorded softly is found, and a silent hour stays silent."""

import numpy as np
import pytest
from sounds import babble, quiet

from fixtures.voices import noise
from joblog.audio.decode import RATE, Samples
from joblog.audio.lift import MOST, TARGET, Lift
from joblog.audio.voice import Cutter, stretches

FRAME = 512


def at(sound: Samples, dbfs: float) -> Samples:
    """The sound at this loudness while it sounds, as 16 bits hold it."""
    loud = sound[np.abs(sound) > 0.01]
    scaled = sound / np.sqrt(np.mean(np.square(loud))) * 10 ** (dbfs / 20)
    return (np.round(scaled * 32768) / 32768).astype(np.float32)


def hiss(seconds: float, dbfs: float) -> Samples:
    """What a microphone makes by itself."""
    made = np.random.default_rng(1).standard_normal(round(seconds * RATE)) * 10 ** (dbfs / 20)
    return (np.round(made * 32768) / 32768).astype(np.float32)


def lifted(lift: Lift, sound: Samples) -> Samples:
    return np.concatenate([lift.over(frame) for frame in sound.reshape(-1, FRAME)])


@pytest.mark.parametrize("dbfs", [-65.0, -70.0])
def test_speech_as_soft_as_from_a_pocket_is_found_from_its_first_word_on(dbfs: float) -> None:
    sound = np.concatenate([quiet(2.0), at(babble(2.0), dbfs), quiet(2.0)]) + hiss(6.0, -85.0)
    (stretch,) = stretches([sound])
    assert stretch.start == pytest.approx(1.8, abs=0.2)
    assert stretch.end == pytest.approx(4.3, abs=0.2)


def test_what_is_kept_of_soft_speech_is_as_it_was_recorded() -> None:
    sound = np.concatenate([quiet(2.0), at(babble(2.0), -65.0), quiet(2.0)])
    (stretch,) = stretches([sound])
    there = sound[round(stretch.start * RATE) : round(stretch.end * RATE)]
    np.testing.assert_array_equal(stretch.samples, there)


def test_without_the_lift_such_speech_would_be_lost() -> None:
    sound = np.concatenate([quiet(2.0), at(babble(2.0), -70.0), quiet(2.0)]) + hiss(6.0, -85.0)
    cutter = Cutter()
    assert [*cutter.feed(sound), *cutter.finish()] == []


@pytest.mark.parametrize("dbfs", [-80.0, -65.0, -50.0])
def test_nobody_speaks_in_the_hiss_of_a_microphone(dbfs: float) -> None:
    assert list(stretches([hiss(30.0, dbfs)])) == []


@pytest.mark.parametrize("kind", ["wind", "saw", "compressor"])
def test_nobody_speaks_in_noise_far_away(kind: str) -> None:
    assert list(stretches([noise(kind, 20.0) * np.float32(0.01)])) == []


def test_sound_that_is_loud_enough_is_judged_as_it_is() -> None:
    sound = at(babble(2.048), TARGET + 15)
    lift = Lift()
    lift.over(np.full(FRAME, 0.5, np.float32))
    np.testing.assert_array_equal(lifted(lift, sound), sound)


def test_no_sound_is_lifted_further_than_the_most() -> None:
    sound = hiss(2.048, -80.0)
    rise = np.sqrt(np.mean(lifted(Lift(), sound) ** 2) / np.mean(sound**2))
    assert 20 * np.log10(rise) == pytest.approx(MOST, abs=0.1)


def test_nothing_is_clipped_by_the_lift() -> None:
    knock = quiet(1.024)
    knock[700] = 0.99
    assert float(np.abs(lifted(Lift(), knock)).max()) <= 1.0


def test_soft_speech_is_found_again_some_seconds_after_loud_speech() -> None:
    loud, soft = at(babble(2.0), -15.0), at(babble(2.0), -65.0)
    sound = np.concatenate([quiet(1.0), loud, quiet(12.0), soft, quiet(2.0)])
    assert len(list(stretches([sound]))) == 2
