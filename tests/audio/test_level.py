"""Wind is taken out and a quiet voice lifted, and what is wrong with a microphone is said."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sounds import babble, tone

from fixtures.voices import noise
from joblog.audio.decode import RATE, Samples
from joblog.audio.level import Conditioned, Conditioner, Meter, noise_of


def whole(sound: Samples) -> np.ndarray:
    return np.clip(np.rint(sound * 32768), -32768, 32767).astype(np.int16)


def hiss(level: float, seconds: float) -> Samples:
    """White noise of so many dBFS."""
    chance = np.random.default_rng(0).standard_normal(round(seconds * RATE))
    return (chance * 10 ** (level / 20)).astype(np.float32)


def voice(level: float, seconds: float = 8.0) -> Samples:
    """Syllables of so many dBFS, with a pause in every two seconds, over a microphone's hiss."""
    sound = babble(seconds)
    sound = sound * np.float32(10 ** (level / 20) / np.sqrt(np.mean(sound**2)))
    sound[(np.arange(len(sound)) / RATE) % 2 > 1.2] = 0
    return sound + hiss(-85, seconds)


def conditioned(sound: np.ndarray, lengths: tuple[int, ...] = (RATE,)) -> Conditioned:
    """All that comes of a sound fed in parts of these lengths, over and over."""
    conditioner = Conditioner()
    ends = np.cumsum(np.resize(lengths, len(sound) // min(lengths) + 1))
    parts = [conditioner.feed(part) for part in np.split(sound, ends[ends < len(sound)])]
    parts.append(conditioner.end())
    return Conditioned(*(np.concatenate(both) for both in zip(*parts, strict=True)))


def decibels(sound: Samples) -> float:
    return 10 * float(np.log10(np.mean(sound.astype(float) ** 2)))


def change(hertz: float) -> float:
    """By how many dB a steady loud tone leaves the filter louder; no gain is given to it."""
    sound = tone(hertz, 2.0)
    middle = slice(RATE // 2, -RATE // 2)
    return decibels(conditioned(whole(sound)).for_finding[middle]) - decibels(sound[middle])


# --- made fit ---------------------------------------------------------------------------------


@given(st.lists(st.integers(40, 4000), min_size=1, max_size=12))
def test_how_the_sound_is_split_changes_nothing(lengths: list[int]) -> None:
    sound = whole(voice(-45, 1.5))
    for one, other in zip(conditioned(sound), conditioned(sound, tuple(lengths)), strict=True):
        assert np.array_equal(one, other)


@given(st.integers(0, 3000))
def test_what_comes_out_is_as_long_as_what_went_in(length: int) -> None:
    both = conditioned(whole(tone(seconds=1.0))[:length])
    assert [len(one) for one in both] == [length, length]


@pytest.mark.parametrize("hertz", [15.0, 25.0, 40.0])
def test_what_is_below_every_voice_is_taken_out(hertz: float) -> None:
    assert change(hertz) < -20


@pytest.mark.parametrize("hertz", [200.0, 300.0, 1000.0, 3000.0, 7000.0])
def test_the_voice_is_left_as_it_is(hertz: float) -> None:
    assert change(hertz) == pytest.approx(0, abs=1)


def test_a_moment_stays_where_it_was() -> None:
    click = np.zeros(RATE, np.int16)
    click[5000] = 20_000
    both = conditioned(click)
    assert [int(np.argmax(np.abs(one))) for one in both] == [5000, 5000]


def test_recognizers_hear_what_is_below_the_voice_too() -> None:
    sound = whole(tone(60, 2.0))
    assert np.array_equal(conditioned(sound).for_hearing, sound / np.float32(32768))


@pytest.mark.parametrize("level", [-45, -55, -65])
def test_a_quiet_voice_is_lifted(level: float) -> None:
    sound = whole(voice(level))
    for one in conditioned(sound):
        assert decibels(one[-2 * RATE :]) > decibels(voice(level)[-2 * RATE :]) + 15


def test_a_loud_voice_is_not_lifted() -> None:
    sound = whole(voice(-15))
    assert np.array_equal(conditioned(sound).for_hearing, sound / np.float32(32768))


def test_noise_alone_is_not_lifted() -> None:
    sound = whole(hiss(-60, 20))
    assert np.array_equal(conditioned(sound).for_hearing, sound / np.float32(32768))


def test_a_shout_after_a_quiet_voice_is_not_clipped_by_the_gain() -> None:
    quiet, shout = voice(-50), tone(500, 0.5) * 1.9
    heard = conditioned(whole(np.concatenate([quiet, shout]))).for_hearing
    assert np.abs(heard[len(quiet) :]).max() <= np.abs(shout).max() + 0.001


@settings(max_examples=30)
@given(st.lists(st.tuples(st.sampled_from([-70, -50, -30, -3]), st.booleans()), max_size=6))
def test_no_gain_clips_what_was_not_clipped(parts: list[tuple[int, bool]]) -> None:
    pieces = [(voice if spoken else hiss)(level - 12, 0.7) for level, spoken in parts]
    sound = whole(np.concatenate([np.zeros(10, np.float32), *pieces]))
    heard = conditioned(sound).for_hearing
    loud = np.abs(sound) / np.float32(32768)
    assert (np.abs(heard) <= np.maximum(loud, np.float32(0.901))).all()
    assert (np.abs(heard) >= loud).all()


def test_a_quiet_voice_under_a_rumble_is_lifted_for_finding_alone() -> None:
    rumble = tone(30, 8.0) * np.float32(0.5)
    both = conditioned(whole(voice(-50) + rumble))
    plain = whole(voice(-50) + rumble) / np.float32(32768)
    assert np.array_equal(both.for_hearing, plain)
    assert decibels(both.for_finding[-2 * RATE :]) > -40


def test_the_gain_comes_back_slowly_after_a_knock() -> None:
    quiet, knock = voice(-50), tone(500, 0.064) * 1.9
    heard = conditioned(whole(np.concatenate([quiet, knock, quiet]))).for_hearing
    after = heard[len(quiet) + len(knock) :]
    soon, later = (after[: RATE // 4], after[-2 * RATE :])
    assert decibels(soon) < decibels(quiet[: RATE // 4]) + 6
    assert decibels(later) > decibels(quiet[-2 * RATE :]) + 15


# --- the noise of the place -------------------------------------------------------------------


def test_the_noise_of_the_place_is_learned_from_its_first_seconds() -> None:
    conditioner = Conditioner()
    conditioner.feed(whole(hiss(-50, 2.9)))
    early = conditioner.noise
    conditioner.feed(whole(hiss(-50, 0.2)))
    assert early is None
    assert conditioner.noise is not None
    assert conditioner.noise.floor == pytest.approx(-50, abs=0.5)
    assert conditioner.noise.low == pytest.approx(150 / 8000, abs=0.01)  # white: an equal share


def test_the_noise_of_the_place_is_not_the_voice_in_it() -> None:
    sound = hiss(-60, 3)
    sound[:RATE] += voice(-20, 1)
    assert noise_of(whole(sound)).floor == pytest.approx(-60, abs=1)


@pytest.mark.parametrize(("kind", "windy"), [("wind", True), ("saw", False), ("compressor", False)])
def test_wind_is_told_from_other_noise(kind: str, windy: bool) -> None:
    assert [noise_of(whole(noise(kind, 3.0, seed))).windy for seed in range(4)] == [windy] * 4


# --- the meter --------------------------------------------------------------------------------


def metered(sound: Samples) -> Meter:
    meter = Meter()
    for part in np.array_split(whole(sound), 50):
        meter.feed(part)
    return meter


def test_the_level_is_in_decibels_of_full_scale() -> None:
    meter = metered(tone(1000, 3.0))  # a sine of half of full scale: 6 dB, and 3 for a sine
    assert meter.level == pytest.approx(-9.03, abs=0.1)
    assert meter.peak == pytest.approx(-6.02, abs=0.1)
    assert meter.clipped == 0


def test_the_share_that_is_clipped_is_counted() -> None:
    sound = hiss(-60, 5.12)
    sound[::100] = 1.0
    assert metered(sound).clipped == pytest.approx(0.01, abs=0.0005)


@pytest.mark.parametrize(
    ("sound", "warning"),
    [
        (np.zeros(11 * RATE, np.float32), "hears nothing"),
        (hiss(-80, 11), "hears nothing"),
        (hiss(-80, 9), None),
        (hiss(-60, 60), None),
        (voice(-20), None),
        (voice(-40), None),
        (np.clip(voice(-3), -1, 1), "clips"),
        (voice(-58), "very quiet"),
        (noise("wind", 10.0), "wind"),
        (noise("saw", 10.0), None),
        (np.resize(voice(-20), 10 * RATE) + noise("wind", 10.0) * np.float32(0.3), None),
    ],
    ids=lambda value: "" if isinstance(value, np.ndarray) else str(value),
)
def test_the_meter_says_what_is_wrong(sound: Samples, warning: str | None) -> None:
    said = metered(sound).warning
    assert said is None if warning is None else said is not None and warning in said


def test_a_noise_that_lasts_is_not_taken_for_a_voice() -> None:
    loud = hiss(-45, 60)
    speaking = np.concatenate([hiss(-80, 5), loud, voice(-20) + hiss(-45, 8)])
    before, after = metered(speaking).voice, metered(np.concatenate([speaking, loud])).voice
    assert before == after


def test_one_softer_word_does_not_make_a_voice_soft() -> None:
    before = metered(voice(-20)).voice
    after = metered(np.concatenate([voice(-20), voice(-40, 2.0)])).voice
    assert before is not None and after is not None
    assert before - 6 < after < before


def test_a_warning_ends_with_its_cause() -> None:
    meter = metered(np.zeros(11 * RATE, np.float32))
    meter.feed(whole(voice(-20)))
    assert meter.warning is None


def test_a_meter_that_was_fed_nothing_warns_of_nothing() -> None:
    meter = Meter()
    assert (meter.warning, meter.level, meter.clipped, meter.voice) == (None, -120, 0, None)
