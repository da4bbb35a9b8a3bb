"""Who has the floor: the person, and the answer only while nobody speaks."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from joblog.audio.decode import RATE, Samples
from joblog.audio.voice import FRAME
from joblog.listening.floor import HELD, ONSET, TAIL, Floor, decibels
from tests.audio.sounds import even_babble, quiet

STEP = FRAME / RATE
ANSWER = even_babble(2.0, pitch=200.0)
BEHIND = 6
"""Frames, a fifth of a second, that sound is on its way to the loudspeaker and back."""


@dataclass
class Speaker:
    """Counts what it is told."""

    started: int = 0
    stopped: int = 0

    def play(self, sound: Samples, rate: int) -> None:
        self.started += 1

    def stop(self) -> None:
        self.stopped += 1

    @property
    def playing(self) -> bool:
        return self.started > self.stopped


def frames(sound: Samples) -> Samples:
    return sound[: len(sound) - len(sound) % FRAME].reshape(-1, FRAME)


def room(seconds: float, loud: float = -65.0, seed: int = 1) -> Samples:
    """The hush of a place."""
    noise = np.random.default_rng(seed).normal(0, 10 ** (loud / 20), round(seconds * RATE))
    return noise.astype(np.float32)


def echo(sound: Samples, comes_back: float | None, seconds: float) -> Samples:
    """What the microphone hears of a sound that begins now; None for headphones."""
    heard = room(seconds)
    if comes_back is not None:
        at = BEHIND * FRAME
        heard[at : at + len(sound)] += sound * np.float32(10 ** (comes_back / 20))
    return heard


def listened(floor: Floor, heard: Samples) -> tuple[list[Samples], list[int]]:
    """What it gives out, and at which frames he cut in."""
    given_out: list[Samples] = []
    cuts = []
    for at, frame in enumerate(frames(heard)):
        his, cut_in = floor.hear(frame)
        given_out += his
        if cut_in:
            cuts.append(at)
    return given_out, cuts


def with_voice(heard: Samples, at: float, voice: Samples) -> Samples:
    begin = round(at * RATE)
    mixed = heard.copy()
    mixed[begin : begin + len(voice)] += voice[: len(mixed) - begin]
    return mixed


def test_while_nothing_is_answered_every_frame_is_passed_on_at_once() -> None:
    floor = Floor(Speaker())
    for frame in frames(np.concatenate([room(0.5), even_babble(0.5)])):
        [same], cut_in = floor.hear(frame)
        assert same is frame
        assert not cut_in


@pytest.mark.parametrize("comes_back", [-6.0, -25.0, None])
def test_its_own_voice_is_never_taken_for_his(comes_back: float | None) -> None:
    speaker = Speaker()
    floor = Floor(speaker)
    listened(floor, room(1.0))
    for _ in range(3):
        floor.say(ANSWER, RATE)
        out, cuts = listened(floor, echo(ANSWER, comes_back, 2.0 + TAIL + 0.1))
        assert cuts == []
        silent = out[: round(2.0 / STEP)]
        assert max(np.abs(frame).max() for frame in silent) == 0.0
        assert not floor.answering
    assert (speaker.started, speaker.stopped) == (3, 0)


@pytest.mark.parametrize("comes_back", [-6.0, -15.0])
def test_how_loud_it_comes_back_is_learned_from_the_first_answer_on(comes_back: float) -> None:
    floor = Floor(Speaker())
    assert floor.echo is None
    listened(floor, room(1.0))
    floor.say(ANSWER, RATE)
    listened(floor, echo(ANSWER, comes_back, 2.0 + TAIL + 0.1))
    assert floor.echo == pytest.approx(comes_back, abs=3.0)


def test_a_softer_echo_is_learned_at_once_and_a_louder_one_when_it_stays_so() -> None:
    floor = Floor(Speaker(), echo=-20.0)
    listened(floor, room(1.0))
    floor.say(ANSWER, RATE)
    listened(floor, echo(ANSWER, -26.0, 2.4))
    assert floor.echo == pytest.approx(-26.0, abs=2.0)
    softer = floor.echo
    for _ in range(3):
        floor.say(ANSWER, RATE)
        listened(floor, echo(ANSWER, -22.0, 2.4))
        assert floor.echo == softer
    floor.say(ANSWER, RATE)
    listened(floor, echo(ANSWER, -22.0, 2.4))
    assert floor.echo == pytest.approx(-22.0, abs=2.0)


def test_a_louder_echo_is_learned_at_once_where_it_was_taken_for_a_person() -> None:
    floor = Floor(Speaker(), echo=-40.0)
    listened(floor, room(1.0))
    floor.say(ANSWER, RATE)
    listened(floor, echo(ANSWER, -10.0, 2.4))
    floor.was_own_voice()
    assert floor.echo == pytest.approx(-10.0, abs=4.0)


@pytest.mark.parametrize("comes_back", [-6.0, -25.0, None])
def test_a_person_who_cuts_in_stops_the_answer_and_none_of_his_first_sounds_is_lost(
    comes_back: float | None,
) -> None:
    speaker = Speaker()
    floor = Floor(speaker)
    listened(floor, room(1.0))
    floor.say(ANSWER, RATE)
    listened(floor, echo(ANSWER, comes_back, 2.4))
    floor.say(ANSWER, RATE)
    voice = even_babble(1.5, pitch=110.0, decibels=6.0)
    begins = round(1.0 * RATE) // FRAME * FRAME
    heard = with_voice(echo(ANSWER, comes_back, 3.0), begins / RATE, voice)
    out, [at] = listened(floor, heard)
    assert speaker.stopped == 1
    assert not floor.answering
    assert at * FRAME - begins <= 0.35 * RATE
    assert [len(frame) for frame in out] == [FRAME] * len(frames(heard))
    first = begins // FRAME
    for number, (given_out, frame) in enumerate(zip(out, frames(heard), strict=True)):
        if number >= first:
            np.testing.assert_array_equal(given_out, frame)
    assert not any(frame.any() for frame in out[: first - ONSET - 6])


def test_a_soft_first_sound_under_the_answer_is_not_lost() -> None:
    floor = Floor(Speaker(), echo=-25.0)
    listened(floor, room(1.0))
    floor.say(ANSWER, RATE)
    soft = even_babble(0.15, pitch=110.0, decibels=-28.0)
    voice = np.concatenate([soft, even_babble(1.0, pitch=110.0, decibels=6.0)])
    first = 32
    heard = with_voice(echo(ANSWER, -25.0, 3.0), first * STEP, voice)
    out, [_] = listened(floor, heard)
    for given_out, frame in list(zip(out, frames(heard), strict=True))[first:]:
        np.testing.assert_array_equal(given_out, frame)


def test_a_saw_that_runs_all_the_while_is_no_person() -> None:
    floor = Floor(Speaker(), echo=-25.0)
    listened(floor, room(1.0))
    floor.say(ANSWER, RATE)
    _, cuts = listened(floor, with_voice(echo(ANSWER, -25.0, 2.4), 0.0, room(2.4, -20.0, seed=2)))
    assert cuts == []


def test_a_knock_into_an_answer_is_no_person() -> None:
    floor = Floor(Speaker())
    listened(floor, room(1.0))
    floor.say(ANSWER, RATE)
    knock = np.zeros(FRAME, np.float32)
    knock[::64] = 0.9
    _, cuts = listened(floor, with_voice(echo(ANSWER, -25.0, 2.4), 1.0, knock))
    assert cuts == []


def test_one_who_hums_more_softly_than_the_answer_comes_back_does_not_stop_it() -> None:
    floor = Floor(Speaker())
    listened(floor, room(1.0))
    floor.say(ANSWER, RATE)
    listened(floor, echo(ANSWER, -6.0, 2.4))
    floor.say(ANSWER, RATE)
    soft = even_babble(0.8, pitch=110.0, decibels=-12.0)
    _, cuts = listened(floor, with_voice(echo(ANSWER, -6.0, 2.4), 0.6, soft))
    assert cuts == []


def test_an_answer_that_is_stopped_by_hand_is_over_soon() -> None:
    speaker = Speaker()
    floor = Floor(speaker)
    floor.say(ANSWER, RATE)
    listened(floor, room(0.5))
    floor.stop()
    assert speaker.stopped == 1
    listened(floor, room(TAIL + STEP))
    assert not floor.answering


def test_what_is_passed_on_lags_behind_only_while_an_answer_is_heard() -> None:
    floor = Floor(Speaker())
    floor.say(ANSWER, RATE)
    given_out, lag = 0, []
    for at, frame in enumerate(frames(echo(ANSWER, None, 3.0))):
        his, _ = floor.hear(frame)
        given_out += len(his)
        lag.append(at + 1 - given_out)
    assert max(lag) == HELD
    assert lag[-1] == 0


@settings(max_examples=12)
@given(
    parts=st.lists(
        st.tuples(
            st.sampled_from(["hush", "voice", "answer", "long answer", "stop"]),
            st.integers(1, 40),
        ),
        min_size=1,
        max_size=7,
    ),
    comes_back=st.sampled_from([-6.0, -25.0, None]),
)
def test_every_frame_is_given_once_and_in_order_as_it_was_or_silent(
    parts: list[tuple[str, int]], comes_back: float | None
) -> None:
    floor = Floor(Speaker())
    came: list[Samples] = []
    out: list[Samples] = []
    for what, count in parts:
        sound = VOICED[: count * FRAME] if what == "voice" else HUSH[: count * FRAME]
        if what == "stop":
            floor.stop()
        if what in ("answer", "long answer"):
            answer = ANSWER[: RATE // 4] if what == "answer" else ANSWER
            floor.say(answer, RATE)
            if comes_back is not None:
                back = answer[: count * FRAME] * np.float32(10 ** (comes_back / 20))
                sound = sound + np.pad(back, (0, len(sound) - len(back)))
        for frame in frames(sound):
            came.append(frame)
            out += floor.hear(frame)[0]
    for frame in frames(np.zeros(100 * FRAME, np.float32)):
        came.append(frame)
        out += floor.hear(frame)[0]
    assert not floor.answering
    assert len(out) == len(came)
    for given_out, frame in zip(out, came, strict=True):
        assert np.array_equal(given_out, frame) or not given_out.any()


VOICED = even_babble(1.3)
HUSH = room(1.3)


def test_loudness_is_against_full_scale_and_never_below_a_hundred() -> None:
    assert decibels(np.ones(FRAME, np.float32)) == pytest.approx(0.0, abs=0.01)
    assert decibels(np.full(FRAME, 0.1, np.float32)) == pytest.approx(-20.0, abs=0.01)
    assert decibels(quiet(0.1)) == -100.0
    assert decibels(quiet(0.0)) == -100.0
