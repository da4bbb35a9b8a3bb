"""A stretch is played by a loudspeaker, else by a program of the system, else it says why not."""

import json
import os
import subprocess
import sys
import wave
from pathlib import Path
from threading import Event

import numpy as np
import psutil
import pytest
from sound_cards import Plugs, SoundCards, Stream
from sounds import tone

from fixtures.voices import write
from joblog.audio import player
from joblog.audio.decode import RATE, Samples
from joblog.audio.playing import Wanted, command
from joblog.audio.stretch import SLOWER

HANGS = 60.0
"""Seconds after which nothing more is waited for."""


@pytest.fixture
def spoken(tmp_path: Path) -> Path:
    return write(tmp_path / "spoken.wav", tone(440.0, 3.0) * np.float32(1.4))


def hears(cards: SoundCards) -> list[Samples]:
    """What the loudspeaker is going to be given, all at once."""
    heard: list[Samples] = []
    cards.began = lambda stream: heard.append(stream.plays(60 * RATE))
    return heard


def by(monkeypatch: pytest.MonkeyPatch, **programs: str) -> None:
    """No loudspeaker, and these programs, in Python; what comes after is their arguments."""
    monkeypatch.setattr(player, "which", lambda name: sys.executable)
    arguments = {name: ("-c", code, "FILE") for name, code in programs.items()}
    monkeypatch.setattr(player, "PROGRAMS", arguments)


def test_the_loudspeaker_plays_the_stretch_and_no_more(plug: Plugs, spoken: Path) -> None:
    heard = hears(plug("headset"))
    assert player.play(Wanted(str(spoken), 0.5, 1.5), Event()) == ""
    [sound] = heard
    assert np.flatnonzero(np.abs(sound) > 0.01)[-1] == pytest.approx(RATE, abs=RATE // 50)


def test_slower_lasts_longer(plug: Plugs, spoken: Path) -> None:
    heard = hears(plug("headset"))
    player.play(Wanted(str(spoken), 0.5, 1.5, slower=True), Event())
    last = np.flatnonzero(np.abs(heard[0]) > 0.01)[-1]
    assert last == pytest.approx(RATE / SLOWER, rel=0.05)


def test_it_says_for_how_long_it_plays(
    plug: Plugs, spoken: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    hears(plug("headset"))
    player.play(Wanted(str(spoken), 0.5, 1.5), Event())
    assert json.loads(capsys.readouterr().out) == {"playing": 1.0}


def test_told_to_stop_it_plays_no_further(plug: Plugs, spoken: Path) -> None:
    cards, stop = plug("headset"), Event()
    begun: list[Stream] = []

    def began(stream: Stream) -> None:
        begun.append(stream)
        stop.set()

    cards.began = began
    assert player.play(Wanted(str(spoken), 0.5, 1.5), stop) == ""
    assert begun[0].closed


def test_told_to_stop_beforehand_it_does_not_begin(plug: Plugs, spoken: Path) -> None:
    cards, stop = plug("headset"), Event()
    stop.set()
    assert player.play(Wanted(str(spoken), 0.5, 1.5), stop) == ""
    assert cards.streams == []


def test_without_a_loudspeaker_a_program_gets_it_as_a_wav(
    plug: Plugs, spoken: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    plug()
    got = tmp_path / "got.wav"
    by(monkeypatch, copies=f"import sys; open({str(got)!r}, 'wb').write(sys.stdin.buffer.read())")
    assert player.play(Wanted(str(spoken), 0.5, 1.5, folder=str(tmp_path)), Event()) == ""
    with wave.open(str(got)) as wav:
        assert (wav.getnframes(), wav.getframerate()) == (RATE, RATE)


@pytest.mark.skipif(sys.platform == "win32", reason="only macOS has a program that needs a name")
def test_a_file_made_for_a_program_is_there_while_it_plays_and_gone_afterwards(
    plug: Plugs, spoken: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    plug()
    passing = tmp_path / "passing"
    passing.mkdir()
    by(
        monkeypatch,
        opens="import sys, wave; sys.exit(wave.open(sys.argv[1]).getnframes() != 16000)",
    )
    assert player.play(Wanted(str(spoken), 0.5, 1.5, folder=str(passing)), Event()) == ""
    assert list(passing.iterdir()) == []


def test_where_one_program_cannot_the_next_one_does(
    plug: Plugs, spoken: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    plug()
    by(monkeypatch, cannot="raise SystemExit(1)", can="pass")
    assert player.play(Wanted(str(spoken), 0.5, 1.5), Event()) == ""


def test_where_there_is_none_it_says_so(
    plug: Plugs, spoken: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    plug()
    monkeypatch.setattr(player, "which", lambda name: None)
    why = player.play(Wanted(str(spoken), 0.5, 1.5), Event())
    assert why == "no sound here: no loudspeaker is there; plug one in or switch it on"


def test_a_loudspeaker_that_is_pulled_out_is_told(
    plug: Plugs, spoken: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    cards = plug("headset")
    monkeypatch.setattr(player, "which", lambda name: None)
    cards.began = Stream.breaks
    why = player.play(Wanted(str(spoken), 0.5, 1.5), Event())
    assert why == "no sound here: the loudspeaker headset is gone; plug it in or switch it on"


def test_the_process_says_what_is_wrong_with_a_recording(tmp_path: Path) -> None:
    torn = tmp_path / "torn.wav"
    torn.write_bytes(b"RIFF torn")
    asked = command(Wanted(str(torn), 0.0, 1.0))
    # It ends, and says nothing more, when its input closes.
    with subprocess.Popen(asked, stdin=subprocess.PIPE, stdout=subprocess.PIPE) as playing:
        assert playing.stdout is not None
        told = json.loads(playing.stdout.readline())
    assert told["trouble"].startswith("this recording is no recording that can")


@pytest.mark.skipif(sys.platform == "win32", reason="its program is a shell script")
def test_the_process_and_its_program_end_with_its_input(spoken: Path, tmp_path: Path) -> None:
    program, number = tmp_path / "paplay", tmp_path / "number"
    program.write_text(f"#!/bin/sh\necho $$ > {number}\nexec sleep 1000\n")
    program.chmod(0o700)
    (tmp_path / "sounddevice.py").write_text("raise OSError('PortAudio library not found')\n")
    playing = subprocess.Popen(
        command(Wanted(str(spoken), 0.5, 1.5)),
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        env={
            **os.environ,
            "PATH": f"{tmp_path}{os.pathsep}{os.environ['PATH']}",
            "PYTHONPATH": f"{tmp_path}{os.pathsep}{Path(__file__).parents[2]}",
        },
    )
    assert playing.stdin is not None and playing.stdout is not None
    assert "playing" in json.loads(playing.stdout.readline())
    playing.stdin.close()
    assert playing.wait(HANGS) == 0
    assert not psutil.pid_exists(int(number.read_text()))
