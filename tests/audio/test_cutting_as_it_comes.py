"""The cutter while sound comes: what is being said, when it is over, and whose it is."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sounds import even_babble, quiet

from joblog.audio.decode import RATE, Samples
from joblog.audio.voice import AIR, BEGINS, FRAME, PAUSE, SHORTEST, Cutter, SpeechJudge, stretches

STEP = FRAME / RATE
TOLD = np.concatenate([quiet(0.8), even_babble(1.2), quiet(1.1), even_babble(0.9), quiet(0.2)])
"""Two utterances, the second one with too little silence after it to be over."""


def fed(cutter: Cutter, *sounds: Samples) -> list[tuple[float, float]]:
    """The utterances that ended in these sounds, frame by frame."""
    sound = np.concatenate(sounds)
    found = [
        one for at in range(0, len(sound), FRAME) for one in cutter.feed(sound[at : at + FRAME])
    ]
    return [(one.start, one.end) for one in found]


def nearest(*sounds: Samples) -> list[tuple[float, float]]:
    """The utterances of whoever is nearest."""
    cutter = Cutter(nearest=True)
    found = [*cutter.feed(np.concatenate(sounds)), *cutter.finish()]
    return [(one.start, one.end) for one in found]


@settings(max_examples=10)
@given(cuts=st.lists(st.integers(0, len(TOLD)), max_size=12).map(sorted), closest=st.booleans())
def test_fed_block_by_block_it_cuts_what_a_recording_is_cut_into(
    cuts: list[int], closest: bool
) -> None:
    cutter = Cutter(nearest=closest)
    found = [one for block in np.split(TOLD, cuts) for one in cutter.feed(block)]
    found += cutter.finish()
    expected = list(stretches([TOLD]))
    assert [(one.start, one.end) for one in found] == [(one.start, one.end) for one in expected]
    for one, whole in zip(found, expected, strict=True):
        np.testing.assert_array_equal(one.samples, whole.samples)


def test_nothing_is_at_hand_before_anybody_speaks() -> None:
    cutter = Cutter()
    assert fed(cutter, quiet(1.0)) == []
    assert (cutter.begun, cutter.so_far(), cutter.end()) == (None, None, None)
    assert cutter.silent_for == 0.0


def test_an_utterance_has_begun_with_the_air_before_it() -> None:
    cutter = Cutter()
    fed(cutter, quiet(1.0), even_babble(1.0))
    assert cutter.begun == pytest.approx(1.0 - AIR, abs=0.1)
    assert cutter.silent_for <= 0.1


def test_silence_is_counted_from_the_last_speech_on_and_no_longer_than_the_utterance() -> None:
    cutter = Cutter()
    fed(cutter, even_babble(1.0), quiet(0.3))
    before = cutter.silent_for
    fed(cutter, quiet(10 * STEP))
    assert cutter.silent_for == pytest.approx(before + 10 * STEP)
    fed(cutter, quiet(PAUSE))
    assert cutter.silent_for == 0.0
    assert cutter.begun is None


def test_what_was_said_so_far_is_told_after_the_air_and_is_what_ends_then() -> None:
    cutter = Cutter()
    sound = np.concatenate([quiet(1.0), even_babble(1.0), quiet(1.0)])
    told = []
    for at in range(0, len(sound), FRAME):
        silent_before = cutter.silent_for
        [*ended] = cutter.feed(sound[at : at + FRAME])
        if ended:
            break
        if (so_far := cutter.so_far()) is not None:
            told.append((so_far.start, so_far.end))
        else:
            assert cutter.silent_for < round(AIR / STEP) * STEP
        assert cutter.silent_for <= silent_before + 1.5 * STEP
    assert len(told) > 5
    assert {(one.start, one.end) for one in ended} == set(told)


def test_who_goes_on_after_a_short_pause_takes_back_what_seemed_to_be_over() -> None:
    cutter = Cutter()
    fed(cutter, even_babble(1.0), quiet(0.5))
    first = cutter.so_far()
    fed(cutter, even_babble(0.5))
    assert cutter.so_far() is None
    fed(cutter, quiet(0.5))
    whole = cutter.so_far()
    assert first is not None
    assert whole is not None
    assert (whole.start, whole.end > first.end) == (first.start, True)
    np.testing.assert_array_equal(whole.samples[: len(first.samples)], first.samples)


def test_a_mere_knock_is_never_said_so_far() -> None:
    cutter = Cutter()
    knock = even_babble(SHORTEST / 4)
    for _ in range(20):
        fed(cutter, knock, quiet(0.05), quiet(0.4))
        assert cutter.so_far() is None
        assert cutter.end() is None


def test_ended_by_hand_it_is_cut_where_it_is_and_the_next_one_begins_anew() -> None:
    cutter = Cutter()
    fed(cutter, quiet(0.5), even_babble(1.0))
    first = cutter.end()
    assert first is not None
    assert first.end == pytest.approx(1.5, abs=STEP)
    assert cutter.begun is None
    *_, (start, _) = fed(cutter, quiet(1.5), even_babble(1.0), quiet(1.0))
    assert start == pytest.approx(3.0 - AIR, abs=0.1)


def test_ended_in_the_middle_of_speech_the_rest_holds_no_more_of_it_than_its_air() -> None:
    cutter = Cutter()
    whole = even_babble(2.0)
    fed(cutter, whole[: 32 * FRAME])
    first = cutter.end()
    assert first is not None
    [(start, _)] = fed(cutter, whole[32 * FRAME :], quiet(1.2))
    assert first.end == 32 * STEP
    assert start == pytest.approx(first.end - AIR, abs=STEP)


def test_a_longer_pause_may_be_asked_for() -> None:
    sounds = (even_babble(0.6), quiet(1.1), even_babble(0.6), quiet(1.7))
    assert len(fed(Cutter(), *sounds)) == 2
    assert len(fed(Cutter(pause=1.5), *sounds)) == 1


def test_a_frame_is_judged_by_itself_as_in_a_block() -> None:
    sound = even_babble(0.5)[: 12 * FRAME]
    one, whole = SpeechJudge(), SpeechJudge()
    alone = [one.of(frame) for frame in sound.reshape(-1, FRAME)]
    assert alone == [probability for _, probability in whole.judged(sound)]
    assert max(alone) > BEGINS
    for judge in (one, whole):
        list(judge.rest())


# --- the nearest voice ------------------------------------------------------------------------

RADIO = -16.0
"""Decibels of somebody further off."""


def test_softer_talk_before_an_utterance_is_a_stretch_by_itself() -> None:
    talk, said = even_babble(2.0, 90.0, RADIO), even_babble(1.5)
    before, utterance = nearest(quiet(0.5), talk, said, quiet(1.2))
    assert before[1] <= utterance[0] <= 2.5
    assert utterance[0] == pytest.approx(2.5 - AIR, abs=0.15)
    assert utterance[1] == pytest.approx(4.0 + AIR, abs=0.2)


def test_softer_talk_after_an_utterance_does_not_keep_it_open() -> None:
    talk, said = even_babble(3.0, 90.0, RADIO), even_babble(1.5)
    utterance, *rest = nearest(quiet(0.5), said, talk, quiet(1.2))
    assert utterance[1] == pytest.approx(2.0 + AIR, abs=0.4)
    assert all(start >= utterance[1] for start, _ in rest)


def test_without_asking_for_the_nearest_all_of_it_is_one() -> None:
    talk, said = even_babble(2.0, 90.0, RADIO), even_babble(1.5)
    assert len(list(stretches([np.concatenate([talk, said, talk, quiet(1.2)])]))) == 1


@pytest.mark.parametrize("louder", [0.0, 4.0, 8.0])
def test_one_who_raises_his_voice_is_one_and_the_same(louder: float) -> None:
    sounds = (even_babble(1.0), even_babble(1.0, decibels=louder), quiet(1.2))
    assert len(nearest(quiet(0.5), *sounds)) == 1


@pytest.mark.parametrize("softer", [-9.0, -12.0, -18.0])
@pytest.mark.parametrize("seconds", [0.05, 0.1, 0.2])
def test_a_soft_beginning_belongs_to_the_sentence(softer: float, seconds: float) -> None:
    begin = even_babble(seconds, decibels=softer)
    [(start, end)] = nearest(quiet(0.6), begin, even_babble(1.5), quiet(1.2))
    assert start <= 0.6 + seconds
    assert end >= 0.6 + seconds + 1.5


@pytest.mark.parametrize("softer", [-6.0, -9.0, -11.0])
def test_a_soft_ending_belongs_to_the_sentence(softer: float) -> None:
    sounds = (even_babble(1.5), even_babble(0.5, decibels=softer), quiet(1.2))
    [(_, end)] = nearest(quiet(0.5), *sounds)
    assert end >= 2.5
