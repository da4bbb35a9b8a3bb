"""A real PortAudio records and plays through a real sound server, whose only device is a wire.

PulseAudio is started for these tests alone, in a folder of its own, with a sink that plays into
nothing and whose monitor hears what is played; ALSA's plugin leads PortAudio to it. Nothing here
counts on time: what was heard is compared piece by piece, for a busy machine may drop some.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import tempfile
import threading
from collections.abc import Callable, Iterator
from datetime import datetime
from importlib.util import find_spec
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from fixtures.voices import write
from joblog.audio.decode import RATE, Samples, samples
from joblog.audio.playing import Wanted, command

ROOT = Path(__file__).parents[2]
RECORDING = ROOT / "fixtures/demo/recordings/2026-10-05 09.05.00.wav"
HANGS = 120.0
"""Seconds after which nothing more is waited for."""
PLUGINS = "/usr/lib/*/alsa-lib", "/usr/lib64/alsa-lib", "/usr/lib/alsa-lib"
SINK = "module-null-sink sink_name=ladder rate=48000 channels=1"


def missing() -> str | None:
    for tool in ("pulseaudio", "pactl", "paplay"):
        if not shutil.which(tool):
            return f"needs {tool} (apt-get install pulseaudio pulseaudio-utils)"
    plugin = "libasound_module_pcm_pulse.so"
    if not any(list(Path("/").glob(f"{folder[1:]}/{plugin}")) for folder in PLUGINS):
        return "needs ALSA's plugin for PulseAudio (apt-get install libasound2-plugins)"
    if find_spec("sounddevice") is None:
        return "needs sounddevice"
    found = subprocess.run([sys.executable, "-c", "import sounddevice"], capture_output=True)
    return None if found.returncode == 0 else "needs PortAudio (apt-get install libportaudio2)"


MISSING = missing() if sys.platform == "linux" else "needs Linux"
pytestmark = pytest.mark.skipif(MISSING is not None, reason=MISSING or "")

ALSA = """
</usr/share/alsa/alsa.conf>
pcm.site_microphone { type pulse device "ladder.monitor" hint { show on description "microphone" } }
pcm.site_speaker { type pulse device "ladder" hint { show on description "loudspeaker" } }
"""

LISTENS = """
import json, sys, threading
from joblog.audio.microphone import DeviceMicrophone

def say(**what):
    print(json.dumps(what), flush=True)

microphone = DeviceMicrophone("site_microphone", lambda text: say(told=text))
threading.Thread(target=lambda: (sys.stdin.read(), microphone.close()), daemon=True).start()
with open(sys.argv[1], "wb") as file:
    for block in microphone.blocks():
        file.write(block.sound.tobytes())
        say(at=block.at.isoformat(), lost=block.lost)
"""

PLAYS = """
import sys, time
from pathlib import Path
from joblog.audio.decode import RATE, samples
from joblog.audio.speaker import DeviceSpeaker

sound, stop_after = samples(Path(sys.argv[1])), float(sys.argv[2])
speaker = DeviceSpeaker("site_speaker", volume=100)
speaker.play(sound, RATE)
begun = time.monotonic()
while speaker.playing and time.monotonic() - begun < stop_after:
    time.sleep(0.02)
speaker.stop()
time.sleep(max(0.0, begun + len(sound) / RATE - time.monotonic()))  # it must not go on by itself
"""


class Wire:
    """The sound server, with its sink; what is played to it is heard by its monitor."""

    def __init__(self, folder: Path) -> None:
        alsa = folder / "asound.conf"
        alsa.write_text(ALSA)
        socket = folder / "native"
        self.environment = {
            **os.environ,
            "HOME": str(folder),
            "XDG_RUNTIME_DIR": str(folder),
            "XDG_CONFIG_HOME": str(folder),
            "PULSE_RUNTIME_PATH": str(folder / "pulse"),
            "PULSE_SERVER": f"unix:{socket}",
            "ALSA_CONFIG_PATH": str(alsa),
            "PYTHONPATH": str(ROOT),
        }
        door = f"module-native-protocol-unix socket={socket} auth-anonymous=1"
        command = ["pulseaudio", "-n", "--exit-idle-time=-1", "--daemonize=no", "--disable-shm=yes"]
        self._server = subprocess.Popen(
            [*command, "--use-pid-file=no", "-L", SINK, "-L", door],
            env=self.environment,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        patiently(lambda: self.tried("pactl", "info").returncode == 0)

    def tried(self, *command: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            command, env=self.environment, capture_output=True, text=True, timeout=HANGS
        )

    def run(self, *command: str) -> str:
        done = self.tried(*command)
        assert done.returncode == 0, done.stderr
        return done.stdout

    def unplug(self) -> None:
        self.run("pactl", "unload-module", "module-null-sink")

    def plug(self) -> None:
        self.run("pactl", "load-module", *SINK.split())

    def plays(self, file: Path) -> None:
        self.run("paplay", "--device=ladder", str(file))

    def end(self) -> None:
        self._server.terminate()
        self._server.wait(HANGS)


class Listener:
    """joblog's microphone in a process of its own, and what it says."""

    def __init__(self, wire: Wire, file: Path) -> None:
        self._file = file
        self.said: list[dict[str, Any]] = []
        self._news = threading.Condition()
        self._process = subprocess.Popen(
            [sys.executable, "-c", LISTENS, str(file)],
            env=wire.environment,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        self._reader = threading.Thread(target=self._read, daemon=True)
        self._reader.start()
        self.until(lambda said: "at" in said)

    def until(self, enough: Callable[[dict[str, Any]], bool], since: int = 0) -> int:
        """Waits for such news after the first `since`; how many there were with it."""
        with self._news:
            come = self._news.wait_for(lambda: any(map(enough, self.said[since:])), HANGS)
            assert come, f"it never came; the last was {self.said[-3:]}"
            return since + [enough(said) for said in self.said[since:]].index(True) + 1

    def heard(self) -> Samples:
        """Ends it; all that it heard."""
        self.until(lambda said: "at" in said, len(self.said) + 30)  # what is still under way
        assert self._process.stdin is not None
        self._process.stdin.close()
        self._process.wait(HANGS)
        self._reader.join(HANGS)
        return np.fromfile(self._file, np.int16).astype(np.float32) / np.float32(32768)

    def end(self) -> None:
        if self._process.poll() is None:
            self._process.kill()
            self._process.wait(HANGS)

    @property
    def told(self) -> list[str]:
        return [said["told"] for said in self.said if "told" in said]

    @property
    def blocks(self) -> list[dict[str, Any]]:
        return [said for said in self.said if "at" in said]

    def _read(self) -> None:
        assert self._process.stdout is not None
        for line in self._process.stdout:
            with self._news:
                self.said.append(json.loads(line))
                self._news.notify_all()


@pytest.fixture
def wire() -> Iterator[Wire]:
    # The name of a socket may have 107 letters, fewer than pytest's own folders have.
    with tempfile.TemporaryDirectory(prefix="joblog-") as folder:
        server = Wire(Path(folder))
        yield server
        server.end()


@pytest.fixture
def listener(wire: Wire, tmp_path: Path) -> Iterator[Listener]:
    hearing = Listener(wire, tmp_path / "heard")
    yield hearing
    hearing.end()


@pytest.fixture
def spoken(tmp_path: Path) -> Path:
    """Five seconds of somebody speaking."""
    return write(tmp_path / "spoken.wav", samples(RECORDING)[: 5 * RATE])


def patiently(done: Callable[[], bool]) -> None:
    """Waits for it, ten times a second."""
    pause = threading.Event()
    for _ in range(round(HANGS * 10)):
        if done():
            return
        pause.wait(0.1)
    pytest.fail("the sound server does not answer")


def pieces_heard(played: Samples, heard: Samples) -> list[float | None]:
    """For every loud half second that was played, when it was heard; None if it was not."""
    length = RATE // 2
    pieces = [played[at : at + length] for at in range(0, len(played) - length + 1, length)]
    loud = [piece for piece in pieces if np.sqrt(np.mean(piece**2)) > 0.02]
    size = 1 << (len(heard) + length).bit_length()
    spectrum = np.fft.rfft(heard, size)
    power = np.convolve(heard.astype(np.float64) ** 2, np.ones(length), "valid")
    found: list[float | None] = []
    for piece in loud:
        alike = np.fft.irfft(spectrum * np.conj(np.fft.rfft(piece, size)), size)[: len(power)]
        alike = alike / np.sqrt(np.maximum(power * np.sum(piece.astype(np.float64) ** 2), 1e-9))
        found.append(float(np.argmax(alike)) / RATE if alike.max() > 0.9 else None)
    return found


def share_in_order(found: list[float | None]) -> float:
    """Of all pieces, how many were heard, each after the one before."""
    times = [time for time in found if time is not None]
    assert times == sorted(times)
    return len(times) / len(found)


def test_a_real_microphone_hears_what_is_played(
    wire: Wire, listener: Listener, spoken: Path
) -> None:
    wire.plays(spoken)
    assert share_in_order(pieces_heard(samples(spoken), listener.heard())) > 0.5


def test_the_times_of_a_real_microphone_go_on(wire: Wire, listener: Listener) -> None:
    listener.heard()
    times = [datetime.fromisoformat(block["at"]) for block in listener.blocks]
    assert times == sorted(times)


def test_a_real_loudspeaker_is_heard(wire: Wire, listener: Listener, spoken: Path) -> None:
    wire.run(sys.executable, "-c", PLAYS, str(spoken), str(HANGS))
    assert share_in_order(pieces_heard(samples(spoken), listener.heard())) > 0.5


def test_a_real_loudspeaker_told_to_stop_is_heard_no_further(
    wire: Wire, listener: Listener
) -> None:
    # Ten seconds, so that it has long been told when the last one would be heard.
    wire.run(sys.executable, "-c", PLAYS, str(RECORDING), "2.0")
    found = pieces_heard(samples(RECORDING), listener.heard())
    assert any(found) and found[-1] is None and found[-2] is None


def test_a_real_microphone_that_is_pulled_out_comes_back(
    wire: Wire, listener: Listener, spoken: Path
) -> None:
    wire.unplug()
    gone = listener.until(lambda said: "gives no sound" in said.get("told", ""))
    wire.plug()
    back = listener.until(lambda said: "is back" in said.get("told", ""), gone)
    first = listener.until(lambda said: "at" in said, back)
    wire.plays(spoken)
    assert share_in_order(pieces_heard(samples(spoken), listener.heard())) > 0.5
    assert listener.said[first - 1]["lost"]


def test_what_the_review_plays_is_heard(wire: Wire, listener: Listener, spoken: Path) -> None:
    playing = reviewed(Wanted(str(spoken), 0.0, 5.0), wire.environment)
    assert playing.wait(HANGS) == 0
    assert share_in_order(pieces_heard(samples(spoken), listener.heard())) > 0.5


def test_without_portaudio_a_program_of_the_system_plays_it(
    wire: Wire, listener: Listener, spoken: Path, tmp_path: Path
) -> None:
    (tmp_path / "sounddevice.py").write_text("raise OSError('PortAudio library not found')")
    path = f"{tmp_path}{os.pathsep}{wire.environment['PYTHONPATH']}"
    playing = reviewed(Wanted(str(spoken), 0.0, 5.0), wire.environment | {"PYTHONPATH": path})
    assert playing.wait(HANGS) == 0
    assert share_in_order(pieces_heard(samples(spoken), listener.heard())) > 0.5


def test_what_the_review_plays_is_heard_no_further_when_it_is_stopped(
    wire: Wire, listener: Listener
) -> None:
    playing = reviewed(Wanted(str(RECORDING), 0.0, 10.0), wire.environment)
    assert playing.stdin is not None and playing.stdout is not None
    assert b"playing" in playing.stdout.readline()
    listener.until(lambda said: "at" in said, len(listener.said) + 20)
    playing.stdin.close()
    assert playing.wait(HANGS) == 0
    found = pieces_heard(samples(RECORDING), listener.heard())
    assert found[-1] is None and found[-2] is None


def reviewed(wanted: Wanted, environment: dict[str, str]) -> subprocess.Popen[bytes]:
    """The player that the review starts."""
    return subprocess.Popen(
        command(wanted), env=environment, stdin=subprocess.PIPE, stdout=subprocess.PIPE
    )
