"""A loudspeaker plays, is silent when it is told to, and outlives its device."""

import wave
from pathlib import Path
from threading import Thread

import numpy as np
import pytest
from sound_cards import Plugs
from sounds import loudest_hertz, tone

from joblog.audio import portaudio
from joblog.audio.decode import RATE, samples
from joblog.audio.speaker import DeviceSpeaker, FileSpeaker, SilentSpeaker, SpeakerError


class Clock:
    def __init__(self) -> None:
        self.now = 100.0

    def __call__(self) -> float:
        return self.now


def test_a_sound_is_played_to_its_end_and_silence_after_it(plug: Plugs) -> None:
    cards = plug("headset")
    speaker = DeviceSpeaker(volume=100)
    speaker.play(tone(seconds=1.0), RATE)
    heard = cards.streams[0].plays(2 * RATE)
    assert np.allclose(heard[:RATE], tone(seconds=1.0), atol=1e-6)
    assert not heard[RATE:].any()
    assert not speaker.playing and not cards.streams[0].active


def test_a_loudspeaker_plays_until_the_last_of_its_sound_is_heard(plug: Plugs) -> None:
    cards, clock = plug("headset"), Clock()
    speaker = DeviceSpeaker(clock=clock)
    seen = [speaker.playing]
    speaker.play(tone(seconds=1.0), RATE)
    for frames, later in ((RATE - 100, 0.9), (200, 0.09), (200, 0.02)):
        cards.streams[0].plays(frames)
        clock.now += later
        seen.append(speaker.playing)
    assert seen == [False, True, True, False]


def test_a_loudspeaker_told_to_stop_plays_nothing_more(plug: Plugs) -> None:
    cards = plug("headset")
    speaker = DeviceSpeaker()
    speaker.play(tone(seconds=1.0), RATE)
    cards.streams[0].plays(1000)
    speaker.stop()
    assert not speaker.playing and not cards.streams[0].active
    assert not cards.streams[0].plays(1000).any()


@pytest.mark.parametrize("rate", [8_000, 44_100, 48_000])
def test_a_voice_of_any_rate_sounds_the_same(plug: Plugs, rate: int) -> None:
    cards = plug("headset", rates=(rate,))
    speaker = DeviceSpeaker()
    t = np.arange(22_050) / 22_050
    speaker.play(np.sin(2 * np.pi * 700 * t).astype(np.float32) / 2, 22_050)
    heard = cards.streams[0].plays(rate)
    assert loudest_hertz(heard) * rate / RATE == pytest.approx(700, abs=2)


@pytest.mark.parametrize(("volume", "amplitude"), [(0, 0.0), (50, 0.125), (100, 0.5)])
def test_the_volume_is_felt_and_not_the_amplitude(
    plug: Plugs, volume: int, amplitude: float
) -> None:
    cards = plug("headset")
    speaker = DeviceSpeaker(volume=volume)
    speaker.play(tone(seconds=0.5), RATE)
    assert np.abs(cards.streams[0].plays(8000)).max() == pytest.approx(amplitude, rel=0.01)


def test_the_next_sound_takes_the_place_of_the_one_before(plug: Plugs) -> None:
    cards = plug("headset")
    speaker = DeviceSpeaker(volume=100)
    speaker.play(tone(400, 1.0), RATE)
    cards.streams[0].plays(1000)
    speaker.play(tone(900, 1.0), RATE)
    assert loudest_hertz(cards.streams[0].plays(RATE)) == pytest.approx(900, abs=2)
    assert len(cards.streams) == 1


def test_a_loudspeaker_pulled_out_is_silent_and_says_so_once(plug: Plugs) -> None:
    cards = plug("headset")
    told: list[str] = []
    speaker = DeviceSpeaker(on_change=told.append)
    speaker.play(tone(), RATE)
    cards.plugged = []
    cards.streams[0].breaks()
    at_once = [text.partition(";")[0] for text in told]
    speaker.play(tone(), RATE)
    assert not speaker.playing
    assert at_once == ["the loudspeaker headset is gone"]
    assert len(told) == 1


def test_a_loudspeaker_plugged_in_again_plays_the_next_sound(plug: Plugs) -> None:
    cards = plug("headset")
    told: list[str] = []
    speaker = DeviceSpeaker("head", on_change=told.append)
    cards.plugged = []
    speaker.play(tone(), RATE)
    cards.plugged = ["laptop", "headset"]
    speaker.play(tone(), RATE)
    assert speaker.playing and cards.streams[-1].name == "headset"
    assert told[-1] == "the loudspeaker headset is back"


def test_a_loudspeaker_chosen_by_number_is_known_by_name_afterwards(plug: Plugs) -> None:
    cards = plug("laptop", "headset")
    speaker = DeviceSpeaker(1)
    cards.plugged = ["headset", "laptop"]
    portaudio.look_again()
    speaker.play(tone(), RATE)
    assert cards.streams[-1].name == "headset"


def test_a_sound_told_to_stop_is_silent_even_while_the_device_is_busy(plug: Plugs) -> None:
    cards = plug("headset")
    speaker = DeviceSpeaker()
    speaker.play(tone(), RATE)
    stopping = Thread(target=speaker.stop)
    with speaker._access:
        stopping.start()
        while speaker.playing:
            pass
        heard = cards.streams[0].plays(1000)
    stopping.join()
    assert not heard.any()


def test_a_loudspeaker_is_not_looked_for_while_a_microphone_hears(plug: Plugs) -> None:
    cards = plug("headset", "laptop")
    hearing = portaudio.opened("input", {"device": 1})
    portaudio.start(hearing)
    speaker = DeviceSpeaker("headset")
    cards.plugged = ["laptop"]
    speaker.play(tone(), RATE)
    assert hearing.active and not speaker.playing and cards.looked == 0


def test_a_loudspeaker_closed_by_a_look_for_the_microphone_plays_on(plug: Plugs) -> None:
    cards = plug("headset")
    told: list[str] = []
    speaker = DeviceSpeaker(on_change=told.append)
    portaudio.look_again()
    speaker.play(tone(), RATE)
    assert speaker.playing and len(cards.streams) == 2 and told == []


def test_a_loudspeaker_that_hangs_does_not_play_for_ever(plug: Plugs) -> None:
    plug("headset")
    clock = Clock()
    speaker = DeviceSpeaker(clock=clock)
    speaker.play(tone(seconds=1.0), RATE)
    clock.now += 3.9
    before = speaker.playing
    clock.now += 0.2
    assert (before, speaker.playing) == (True, False)


def test_no_loudspeaker_is_told_plainly(plug: Plugs) -> None:
    plug()
    with pytest.raises(SpeakerError, match="no loudspeaker is there; plug one in"):
        DeviceSpeaker()


def test_a_closed_loudspeaker_gives_its_device_back(plug: Plugs) -> None:
    cards = plug("headset")
    DeviceSpeaker().close()
    assert cards.streams[0].closed


# --- without a device -------------------------------------------------------------------------


def test_a_silent_speaker_takes_as_long_as_the_sound() -> None:
    clock = Clock()
    speaker = SilentSpeaker(clock)
    speaker.play(tone(seconds=2.0), RATE)
    heard = []
    for clock.now in (100.0, 101.9, 102.0):
        heard.append(speaker.playing)
    assert heard == [True, True, False]


def test_a_silent_speaker_stops_at_once() -> None:
    speaker = SilentSpeaker(Clock())
    speaker.play(tone(seconds=2.0), RATE)
    speaker.stop()
    assert not speaker.playing


def test_a_file_holds_what_was_heard_and_when(tmp_path: Path) -> None:
    clock = Clock()
    speaker = FileSpeaker(tmp_path / "heard.wav", clock)
    clock.now += 1.0
    speaker.play(tone(seconds=2.0), RATE)
    clock.now += 0.5
    speaker.stop()
    clock.now += 1.0
    speaker.play(tone(seconds=0.25), RATE)
    clock.now += 5.0
    speaker.close()
    heard = samples(tmp_path / "heard.wav")
    second = RATE
    assert len(heard) == 2.75 * second
    assert not heard[:second].any()
    assert np.allclose(heard[second : second * 3 // 2], tone(seconds=0.5), atol=1e-4)
    assert not heard[second * 3 // 2 : second * 5 // 2].any()
    assert np.allclose(heard[-second // 4 :], tone(seconds=0.25), atol=1e-4)


def test_a_file_keeps_only_what_was_heard_of_a_sound_that_another_replaced() -> None:
    clock = Clock()
    speaker = FileSpeaker(clock=clock)
    speaker.play(tone(seconds=2.0), RATE)
    clock.now += 0.5
    speaker.play(tone(seconds=1.0), RATE)
    assert [len(sound) / RATE for _, sound in speaker.heard] == [0.5, 1.0]


def test_a_file_is_a_wave_of_16_khz(tmp_path: Path) -> None:
    clock = Clock()
    speaker = FileSpeaker(tmp_path / "heard.wav", clock)
    speaker.play(np.zeros(22_050, np.float32), 22_050)
    clock.now += 1.0
    speaker.close()
    with wave.open(str(tmp_path / "heard.wav")) as file:
        assert (file.getframerate(), file.getsampwidth(), file.getnframes()) == (RATE, 2, RATE)
