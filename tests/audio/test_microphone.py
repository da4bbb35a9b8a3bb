"""A microphone gives all it hears, says what it lost, and comes back when it was gone."""

import os
import sys
import threading
import time
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from sound_cards import Plugs, Stream
from sounds import loudest_hertz, tone

from fixtures.voices import write
from joblog.audio import microphone as room
from joblog.audio.decode import RATE, samples
from joblog.audio.microphone import DeviceMicrophone, FileMicrophone, MicrophoneError, devices

MORNING = datetime(2026, 10, 5, 7, 30, tzinfo=UTC)
FOREVER = 600.0
"""Seconds that no test takes."""


def noise(seconds: float, rate: int = RATE) -> np.ndarray:
    return np.random.default_rng(0).integers(-9999, 9999, round(seconds * rate), np.int16)


# --- a recording ------------------------------------------------------------------------------


def test_a_recording_comes_out_as_it_was_decoded(tmp_path: Path) -> None:
    file = write(tmp_path / "spoken.wav", tone(seconds=1.7) * np.float32(2))
    heard = np.concatenate([block.sound for block in FileMicrophone(file, MORNING, None).blocks()])
    assert np.array_equal(heard / np.float32(32768), samples(file))


def test_each_block_of_a_recording_knows_when_it_was_heard() -> None:
    blocks = list(FileMicrophone([noise(60)], MORNING, None).blocks())
    assert blocks[0].at == MORNING
    assert blocks[1000].at == MORNING + timedelta(seconds=1000 * 512 / RATE)


@given(st.lists(st.integers(0, 3000), max_size=10))
def test_a_recording_comes_in_equal_blocks_however_it_is_stored(lengths: list[int]) -> None:
    pieces = [noise(1)[:length] for length in lengths]
    blocks = list(FileMicrophone(pieces, MORNING, None).blocks())
    assert all(len(block.sound) == 512 for block in blocks[:-1])
    whole = np.concatenate([np.zeros(0, np.int16), *pieces])
    assert np.array_equal(np.concatenate([whole[:0], *(one.sound for one in blocks)]), whole)


@pytest.mark.parametrize(("speed", "least"), [(1.0, 0.4), (4.0, 0.1)])
def test_a_recording_is_never_faster_than_it_was_asked_to_be(speed: float, least: float) -> None:
    began = time.monotonic()
    list(FileMicrophone([noise(0.4)], MORNING, speed).blocks())
    assert time.monotonic() - began >= least - 0.01  # one tick of the coarsest clock


def test_a_recording_taken_as_fast_as_may_be_waits_for_nothing(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    microphone = FileMicrophone([noise(5)], MORNING, None)
    monkeypatch.setattr(microphone._closed, "wait", pytest.fail)
    assert len(list(microphone.blocks())) == 157  # 80,000 samples in blocks of 512


def test_a_recording_that_is_closed_ends_while_it_waits() -> None:
    microphone = FileMicrophone([noise(1)], MORNING, 1 / FOREVER)
    threading.Timer(0.05, microphone.close).start()
    assert list(microphone.blocks()) == []


def test_a_recording_that_cannot_be_read_is_named_in_one_sentence(tmp_path: Path) -> None:
    with pytest.raises(MicrophoneError, match=r"gone\.wav: is not there; check the name$"):
        FileMicrophone(tmp_path / "gone.wav", MORNING)


def test_a_recording_that_breaks_off_says_so(tmp_path: Path) -> None:
    file = write(tmp_path / "cut.wav", tone(seconds=2.0))
    file.write_bytes(file.read_bytes()[:-20_000])
    microphone = FileMicrophone(file, MORNING, None)
    list(microphone.blocks())
    assert microphone.trouble is not None and "ends early" in microphone.trouble


# --- a device ---------------------------------------------------------------------------------


class Listening:
    """A microphone whose blocks are taken one by one, with a clock that a test sets."""

    def __init__(self, device: str | int | None = None, **how: float) -> None:
        self.told: list[str] = []
        self.now = MORNING
        patient = {"patience": FOREVER, "begins": FOREVER, "again": 0.001}
        self.microphone = DeviceMicrophone(
            device, self.told.append, now=lambda: self.now, **{**patient, **how}
        )
        self.blocks = self.microphone.blocks()


def test_a_microphone_gives_what_its_device_hears(plug: Plugs) -> None:
    cards = plug("headset")
    cards.began = lambda stream: [stream.hears(part) for part in np.split(noise(0.96), 30)]  # type: ignore[assignment,return-value]
    listening = Listening()
    heard = [next(listening.blocks) for _ in range(30)]
    assert np.array_equal(np.concatenate([block.sound for block in heard]), noise(0.96))
    assert not any(block.lost for block in heard)


@pytest.mark.parametrize("rate", [8_000, 16_000, 32_000, 44_100, 48_000])
@pytest.mark.parametrize("channels", [1, 2, 4])
def test_a_microphone_of_any_rate_comes_out_at_16_khz(
    plug: Plugs, rate: int, channels: int
) -> None:
    cards = plug("headset", rates=(rate,), channels=channels)
    sound = np.sin(2 * np.pi * 700 * np.arange(2 * rate) / rate) * 20_000
    both = np.repeat(sound.astype(np.int16), channels)

    def hears(stream: Stream) -> None:
        for part in np.array_split(both.reshape(-1, channels), 60):
            stream.hears(part)
        stream.settings["finished_callback"]()

    cards.began = hears
    listening = Listening()
    first = [next(listening.blocks) for _ in range(50)]
    heard = np.concatenate([block.sound for block in first]) / np.float32(32768)
    assert len(heard) == pytest.approx(2 * RATE * 50 / 60, rel=0.01)
    assert loudest_hertz(heard) == pytest.approx(700, abs=2)
    assert np.abs(heard[2000:-2000]).max() == pytest.approx(20_000 / 32768, rel=0.02)


def test_a_microphone_that_can_do_16_khz_is_asked_for_no_other(plug: Plugs) -> None:
    cards = plug("headset", rates=(48_000, 16_000))
    cards.began = lambda stream: stream.hears(noise(0.032))
    next(Listening().blocks)
    assert cards.streams[0].settings["samplerate"] == 16_000


def test_sound_that_the_system_dropped_is_said_to_be_lost(plug: Plugs) -> None:
    cards = plug("headset")

    def hears(stream: Stream) -> None:
        stream.hears(noise(0.032))
        stream.hears(noise(0.032), overflow=True)
        stream.hears(noise(0.032))

    cards.began = hears
    listening = Listening()
    assert [next(listening.blocks).lost for _ in range(3)] == [False, True, False]


def test_sound_that_nobody_took_in_time_is_lost_and_said_to_be(plug: Plugs) -> None:
    cards = plug("headset")
    cards.began = lambda stream: [stream.hears(noise(0.032)) for _ in range(1000)]  # type: ignore[assignment,return-value]
    listening = Listening()
    kept = [next(listening.blocks).lost for _ in range(625)]  # 20 seconds
    cards.streams[0].hears(noise(0.032))
    assert (any(kept), next(listening.blocks).lost) == (False, True)


def test_a_microphone_that_was_unplugged_goes_on_when_it_is_back(plug: Plugs) -> None:
    cards = plug("laptop", "headset")
    cards.began = lambda stream: stream.hears(noise(0.032))
    listening = Listening("head")
    next(listening.blocks)
    cards.plugged = ["laptop"]
    cards.streams[0].breaks()
    threading.Timer(0.05, lambda: cards.plugged.insert(0, "headset")).start()
    block = next(listening.blocks)
    assert block.lost and cards.streams[-1].name == "headset"
    assert [text.partition(";")[0] for text in listening.told] == [
        "the microphone headset gives no sound",
        "the microphone headset is back",
    ]


def test_a_microphone_chosen_by_number_is_known_by_name_afterwards(plug: Plugs) -> None:
    cards = plug("laptop", "headset")
    cards.began = lambda stream: stream.hears(noise(0.032))
    listening = Listening(1)
    next(listening.blocks)
    cards.plugged = ["headset", "laptop"]
    cards.streams[0].breaks()
    next(listening.blocks)
    assert cards.streams[-1].name == "headset"


def test_a_microphone_that_only_falls_silent_counts_as_gone(plug: Plugs) -> None:
    cards = plug("headset")
    cards.began = lambda stream: stream.hears(noise(0.032))
    listening = Listening(patience=0.01)
    assert not next(listening.blocks).lost
    assert next(listening.blocks).lost
    assert cards.streams[0].closed and not cards.streams[1].closed


def test_a_loudspeaker_at_work_is_not_interrupted_to_look_for_a_microphone(plug: Plugs) -> None:
    cards = plug("headset")
    cards.began = lambda stream: stream.hears(noise(0.032)) if stream.settings["callback"] else None
    listening = Listening()
    next(listening.blocks)
    speaking = room.portaudio.opened("output", {"device": 0, "channels": 1, "callback": None})
    room.portaudio.start(speaking)
    cards.streams[0].breaks()
    threading.Timer(0.003, speaking.abort).start()
    next(listening.blocks)
    assert cards.looked == 1 and speaking.closed


def test_the_usual_microphone_may_be_another_one_afterwards(plug: Plugs) -> None:
    cards = plug("headset", "laptop")
    cards.began = lambda stream: stream.hears(noise(0.032))
    listening = Listening(None)
    next(listening.blocks)
    cards.plugged = ["laptop"]
    cards.streams[0].breaks()
    next(listening.blocks)
    assert listening.told[-1] == "the microphone laptop is back"


def test_closing_ends_a_microphone_that_waits_for_its_device(plug: Plugs) -> None:
    cards = plug("headset")
    listening = Listening()
    cards.began = lambda stream: setattr(cards, "plugged", []) or stream.breaks()
    threading.Timer(0.05, listening.microphone.close).start()
    assert list(listening.blocks) == []


def test_closing_gives_what_was_heard_before(plug: Plugs) -> None:
    cards = plug("headset")
    listening = Listening()

    def hears(stream: Stream) -> None:
        stream.hears(noise(0.032))
        listening.microphone.close()

    cards.began = hears
    assert len(list(listening.blocks)) == 1
    assert cards.streams[0].closed


def test_a_microphone_that_another_program_holds_is_told_plainly(plug: Plugs) -> None:
    cards = plug("headset")
    cards.broken = {"headset"}
    with pytest.raises(MicrophoneError, match=r"headset cannot be opened .*; is another program"):
        next(Listening().blocks)


@pytest.mark.parametrize(
    ("wanted", "said"),
    [
        ("desk", "no microphone 'desk' is there; there are 0 headset one, 1 headset two"),
        ("headset", "'headset' is in more than one name: 0 headset one, 1 headset two; say more"),
        (7, "no microphone 7 is there"),
    ],
)
def test_a_name_that_means_no_single_microphone_says_which_there_are(
    plug: Plugs, wanted: str | int, said: str
) -> None:
    plug("headset one", "headset two")
    with pytest.raises(MicrophoneError, match=said):
        DeviceMicrophone(wanted)


def test_a_whole_name_comes_before_a_part_of_another(plug: Plugs) -> None:
    plug("headset two", "headset")
    assert DeviceMicrophone("headset").name == "headset"


def test_no_microphone_at_all_is_told_plainly(plug: Plugs) -> None:
    plug()
    with pytest.raises(MicrophoneError, match="no microphone is there; plug one in"):
        DeviceMicrophone()


def test_a_missing_portaudio_says_how_to_get_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "sounddevice.py").write_text("raise OSError('PortAudio library not found')")
    monkeypatch.syspath_prepend(tmp_path)
    monkeypatch.delitem(sys.modules, "sounddevice", raising=False)
    with pytest.raises(MicrophoneError, match="sudo apt install libportaudio2"):
        DeviceMicrophone()


def test_devices_are_listed_with_what_they_can_do(plug: Plugs) -> None:
    plug("headset", "laptop", rates=(48_000,))
    assert [(one.number, one.name, one.rate, one.usual_input) for one in devices()] == [
        (0, "headset", 48_000, True),
        (1, "laptop", 48_000, False),
    ]


def test_what_libraries_print_by_themselves_is_dropped(capfd: pytest.CaptureFixture[str]) -> None:
    with room.portaudio.without_chatter():
        os.write(2, b"Expression 'revents' failed in pa_linux_alsa.c\n")
        print("plain", file=sys.stderr)
    os.write(2, b"afterwards\n")
    print("and plain", file=sys.stderr)
    assert sorted(capfd.readouterr().err.splitlines()) == ["afterwards", "and plain", "plain"]


# --- the time of day --------------------------------------------------------------------------


def day_of(
    hours: float, wrong: float, late: Callable[[int], float]
) -> Iterator[tuple[datetime, datetime]]:
    """Blocks of a second from a card that counts `wrong`ly, handed over `late`: truth and told."""
    times = room._Times()
    for number in range(round(hours * 3600)):
        began = MORNING + timedelta(seconds=number * (1 + wrong))
        arrived = began + timedelta(seconds=1 + wrong + late(number))
        yield began, times.of(RATE, arrived, False)[0]


@pytest.mark.parametrize("wrong", [-2e-4, 2e-4])
def test_times_keep_to_the_clock_for_eight_hours(wrong: float) -> None:
    lateness = np.random.default_rng(1).exponential(0.1, 8 * 3600)
    told = list(day_of(8, wrong, lambda number: float(lateness[number])))
    assert max(abs((told - true).total_seconds()) for true, told in told) < 0.5
    moments = [one for _, one in told]
    assert moments == sorted(moments)


def test_a_first_block_that_came_late_puts_no_lasting_error_in_the_times() -> None:
    told = list(day_of(0.05, 0.0, lambda number: max(0.0, 3.0 - number)))
    assert abs((told[60][1] - told[60][0]).total_seconds()) < 0.1


def test_a_clock_that_is_right_changes_no_time() -> None:
    assert all(true == told for true, told in day_of(0.1, 0.0, lambda _number: 0.0))


def test_a_computer_that_slept_goes_on_at_the_hour_it_woke(plug: Plugs) -> None:
    cards = plug("headset")
    listening = Listening()
    cards.began = lambda stream: stream.hears(noise(0.032))
    next(listening.blocks)
    listening.now = MORNING + timedelta(hours=1)
    cards.streams[0].hears(noise(0.032))
    block = next(listening.blocks)
    assert block.lost
    assert block.at == MORNING + timedelta(hours=1) - timedelta(seconds=0.032)


def test_times_never_go_back_when_the_clock_does(plug: Plugs) -> None:
    cards = plug("headset")
    listening = Listening()
    cards.began = lambda stream: stream.hears(noise(0.032))
    first = next(listening.blocks)
    listening.now = MORNING - timedelta(hours=1)
    cards.streams[0].hears(noise(0.032))
    second = next(listening.blocks)
    assert second.at == first.at + timedelta(seconds=0.032)
    assert listening.told == [
        "the computer's clock was set back; times of what is said go on as before"
    ]


@given(st.lists(st.tuples(st.floats(-5, 5), st.integers(1, 1 << 16), st.booleans()), max_size=40))
def test_times_never_go_back_whatever_the_clock_does(
    steps: list[tuple[float, int, bool]],
) -> None:
    times = room._Times()
    now, moments = MORNING, []
    for step, length, lost in steps:
        now += timedelta(seconds=step)
        moments.append(times.of(length, now, lost)[0])
    assert moments == sorted(moments)
