"""Plays one stretch of a recording and ends; started by `joblog.audio.playing.command`."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
import threading
import wave
from pathlib import Path
from shutil import which
from typing import IO, Any

import numpy as np

from joblog.audio.decode import RATE, AudioError, Samples
from joblog.audio.playing import Wanted
from joblog.audio.portaudio import DeviceError
from joblog.audio.speaker import DeviceSpeaker
from joblog.audio.stretch import slowed, stretch

PROGRAMS: dict[str, tuple[str, ...]] = {
    "paplay": (),
    "aplay": ("-q", "-"),
    "afplay": ("FILE",),
    "powershell": (
        "-NoProfile",
        "-Command",
        "(New-Object Media.SoundPlayer ([Console]::OpenStandardInput())).PlaySync()",
    ),
}
"""Players that systems come with; each finds a WAV on its input, or by the name put for FILE."""
LOOK = 0.02
"""Seconds between two looks at what plays."""
REFUSES = 0.2
"""Seconds after which a program that found no loudspeaker has usually given up."""
PATIENCE = 1.0
"""Seconds in which a device that is told to be silent may still say so."""


def play(wanted: Wanted, stop: threading.Event) -> str:
    """Plays it to its end or until `stop`; why it was not heard, in a plain line, else ""."""
    try:
        sound = stretch(Path(wanted.path), wanted.start, wanted.end, whole=wanted.whole)
    except AudioError as error:
        return f"this recording {error.why}"
    if wanted.slower:
        sound = slowed(sound)
    if stop.is_set():  # told so before there was anything to hear
        return ""
    try:
        _by_device(sound, stop)
    except DeviceError as trouble:
        if not any(_by_program(name, sound, wanted.folder, stop) for name in PROGRAMS):
            return f"no sound here: {trouble}"
    return ""


def _by_device(sound: Samples, stop: threading.Event) -> None:
    gone: list[str] = []
    speaker = DeviceSpeaker(volume=100, on_change=gone.append)
    speaker.play(sound, RATE)
    _say(playing=len(sound) / RATE)
    while speaker.playing and not stop.wait(LOOK):
        pass
    speaker.close()
    if gone:
        raise DeviceError(f"the loudspeaker {speaker.name} is gone; plug it in or switch it on")


def _by_program(name: str, sound: Samples, folder: str | None, stop: threading.Event) -> bool:
    """Whether that program is there and did it."""
    program, arguments = which(name), PROGRAMS[name]
    if program is None or stop.is_set():
        return stop.is_set()
    # Without a name nothing of it can be left behind, however this ends.
    by_name = "FILE" in arguments
    passing = tempfile.NamedTemporaryFile if by_name else tempfile.TemporaryFile
    with passing(suffix=".wav", dir=folder) as file:
        _write(file, sound)
        player = subprocess.Popen(
            [program, *(str(file.name) if one == "FILE" else one for one in arguments)],
            stdin=file.fileno(),
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
        )
        stop.wait(REFUSES)
        if player.poll() is None:
            _say(playing=len(sound) / RATE)
        while player.poll() is None and not stop.wait(LOOK):
            pass
        player.kill()
        return player.wait() == 0 or stop.is_set()


def _write(file: IO[bytes], sound: Samples) -> None:
    with wave.open(file, "wb") as wav:
        wav.setnchannels(1)
        wav.setsampwidth(2)
        wav.setframerate(RATE)
        wav.writeframes(np.rint(np.clip(sound, -1, 1) * 32767).astype("<i2").tobytes())
    file.flush()
    file.seek(0)


def _say(**what: Any) -> None:
    print(json.dumps(what), flush=True)


def _until_told(stop: threading.Event) -> None:
    # Not through `sys.stdin`, whose lock the end of the program would wait for.
    while os.read(0, 1024):
        pass
    stop.set()
    threading.Event().wait(PATIENCE)
    os._exit(1)


if __name__ == "__main__":
    told = threading.Event()
    threading.Thread(target=_until_told, args=(told,), daemon=True).start()
    try:
        why = play(Wanted(**json.loads(sys.argv[1])), told)
    except Exception as error:  # Whatever is wrong with one sound is a line, not a traceback.
        why = f"this sound cannot be played ({type(error).__name__}: {error})"
    if why and not told.is_set():
        _say(trouble=why)
