"""Where somebody speaks, and what is only noise."""

from itertools import islice

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sounds import babble, chords, quiet, tone

from fixtures.voices import mix, noise
from joblog.audio.decode import RATE, Samples
from joblog.audio.voice import AIR, LONGEST, Stretch, stretches


def heard(*sounds: Samples) -> list[Stretch]:
    return list(stretches([np.concatenate(sounds)]))


def test_speech_is_cut_out_with_air_around_it() -> None:
    (stretch,) = heard(quiet(2.0), babble(3.0), quiet(2.0))
    assert stretch.start == pytest.approx(2.0 - AIR, abs=0.1)
    assert stretch.end == pytest.approx(5.0 + AIR, abs=0.2)


def test_a_stretch_holds_the_sound_between_its_start_and_end() -> None:
    whole = np.concatenate([quiet(2.0), babble(3.0), quiet(2.0)])
    (stretch,) = stretches([whole])
    there = whole[round(stretch.start * RATE) : round(stretch.end * RATE)]
    np.testing.assert_array_equal(stretch.samples, there)


def test_speech_from_the_first_sample_to_the_last_is_kept_whole() -> None:
    (stretch,) = heard(babble(3.0))
    assert (stretch.start, stretch.end, len(stretch.samples)) == (0.0, 3.0, 3 * RATE)


def test_a_remark_soon_after_another_has_its_air_too() -> None:
    _, second = heard(quiet(1.0), babble(1.0), quiet(0.95), babble(1.0), quiet(1.0))
    assert second.start == pytest.approx(2.95 - AIR, abs=0.05)


@pytest.mark.parametrize("pause", [0.2, 0.4, 0.6])
def test_a_pause_inside_a_number_does_not_cut_it(pause: float) -> None:
    assert len(heard(quiet(1.0), babble(1.0), quiet(pause), babble(1.0), quiet(1.0))) == 1


@pytest.mark.parametrize("pause", [1.0, 1.3, 3.0])
def test_a_pause_between_two_remarks_cuts_them(pause: float) -> None:
    assert len(heard(quiet(1.0), babble(1.0), quiet(pause), babble(1.0), quiet(1.0))) == 2


def test_a_word_as_short_as_a_quarter_second_is_kept() -> None:
    assert len(heard(quiet(1.0), babble(0.25), quiet(1.0))) == 1


@pytest.mark.parametrize(
    ("kind", "decibels"), [("wind", 5.0), ("saw", 5.0), ("saw", 0.0), ("compressor", 5.0)]
)
def test_speech_is_found_in_the_noise_of_a_site(kind: str, decibels: float) -> None:
    sound = mix(np.concatenate([quiet(2.0), babble(3.0), quiet(2.0)]), noise(kind, 7.0), decibels)
    found = [s for s in stretches([sound]) if s.start < 2.3 and s.end > 4.7]
    assert len(found) == 1


@pytest.mark.parametrize("kind", ["wind", "saw", "compressor"])
def test_nobody_speaks_in_noise_alone(kind: str) -> None:
    assert heard(noise(kind, 20.0)) == []


def test_nobody_speaks_in_music_without_song() -> None:
    assert heard(chords(10.0)) == []


def test_nobody_speaks_in_a_tone() -> None:
    assert heard(tone(440.0, 5.0)) == []


def test_nobody_speaks_in_knocks() -> None:
    knock = babble(0.02)
    assert heard(quiet(1.0), knock, quiet(1.0), knock, quiet(1.0)) == []


def test_there_is_nothing_in_nothing() -> None:
    assert list(stretches([])) == []


@pytest.mark.parametrize("samples", [1, 511, 513])
def test_a_few_samples_are_no_speech(samples: int) -> None:
    assert heard(np.ones(samples, np.float32)) == []


def test_long_speech_is_split_at_its_quietest_point() -> None:
    first, second = heard(babble(14.0), quiet(0.4), babble(9.0))
    assert 14.0 < first.end < 14.4
    assert second.start == first.end


def test_speech_without_a_pause_is_split_all_the_same() -> None:
    lengths = [stretch.end - stretch.start for stretch in heard(babble(70.0))]
    assert len(lengths) >= 4
    assert max(lengths) <= LONGEST
    assert sum(lengths) == pytest.approx(70.0)


def test_a_pause_just_before_a_split_leaves_no_empty_stretch() -> None:
    found = heard(babble(19.5), quiet(5.0), babble(2.0), quiet(1.0))
    assert [round(stretch.start) for stretch in found][-1] == 24
    assert min(stretch.end - stretch.start for stretch in found) > 1.0


def test_stretches_come_before_the_recording_ends() -> None:
    def endless():  # type: ignore[no-untyped-def]
        while True:
            yield babble(1.0)
            yield quiet(1.5)

    assert len(list(islice(stretches(endless()), 3))) == 3


def test_a_recording_is_judged_the_same_whatever_came_before() -> None:
    alone = heard(quiet(0.5), babble(1.0), quiet(1.0))
    heard(babble(3.0, pitch=200.0))
    again = heard(quiet(0.5), babble(1.0), quiet(1.0))
    assert [(s.start, s.end) for s in again] == [(s.start, s.end) for s in alone]


@settings(max_examples=15, deadline=None)
@given(cuts=st.lists(st.integers(0, 6 * RATE), max_size=12).map(sorted))
def test_the_size_of_the_blocks_does_not_matter(cuts: list[int]) -> None:
    blocks = np.split(SPOKEN, cuts)
    found = [(s.start, s.end) for s in stretches(blocks)]
    assert found == [(s.start, s.end) for s in stretches([SPOKEN])]


@settings(max_examples=15, deadline=None)
@given(parts=st.lists(st.tuples(st.floats(0.1, 8.0), st.floats(0.0, 2.0)), min_size=1, max_size=4))
def test_stretches_are_in_order_apart_and_short(parts: list[tuple[float, float]]) -> None:
    sound = np.concatenate([piece for a, b in parts for piece in (babble(a), quiet(b))])
    found = list(stretches([sound]))
    edges = [edge for stretch in found for edge in (stretch.start, stretch.end)]
    assert edges == sorted(edges)
    assert all(0 < s.end - s.start <= LONGEST for s in found)
    assert all(len(s.samples) == round((s.end - s.start) * RATE) for s in found)


SPOKEN = np.concatenate([quiet(1.0), babble(1.5), quiet(1.2), babble(1.0), quiet(1.3)])
