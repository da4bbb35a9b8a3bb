"""Microphones and loudspeakers as PortAudio shows them; nothing else here speaks to it."""

from __future__ import annotations

import importlib
import os
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any, Literal

Kind = Literal["input", "output"]


class DeviceError(Exception):
    """A microphone or loudspeaker that cannot be used; one plain sentence that says what to do."""


@dataclass(frozen=True, slots=True)
class Device:
    """A microphone, a loudspeaker, or both in one."""

    number: int
    """Holds only until devices are looked for again."""
    name: str
    system: str
    """By which part of the operating system it is reached, such as "ALSA"."""
    inputs: int
    """Channels that it hears with; 0 where it has no microphone."""
    outputs: int
    rate: int
    """Samples a second it works at by itself."""
    usual_input: bool = False
    """The microphone that is used where none is named."""
    usual_output: bool = False

    def channels(self, kind: Kind) -> int:
        return self.inputs if kind == "input" else self.outputs

    def usual(self, kind: Kind) -> bool:
        return self.usual_input if kind == "input" else self.usual_output


def devices() -> tuple[Device, ...]:
    """All that can be used now, in PortAudio's order. Raises `DeviceError` without PortAudio."""
    with _ACCESS:
        portaudio = _portaudio()
        systems = portaudio.query_hostapis()
        shown = list(portaudio.query_devices())
    usual = systems[_usual_system(systems)] if systems else {}
    return tuple(
        Device(
            number,
            str(device["name"]),
            str(systems[device["hostapi"]]["name"]),
            int(device["max_input_channels"]),
            int(device["max_output_channels"]),
            round(device["default_samplerate"]),
            number == usual.get("default_input_device"),
            number == usual.get("default_output_device"),
        )
        for number, device in enumerate(shown)
    )


def find(wanted: str | int | None, kind: Kind) -> Device:
    """The device of that number, or whose name has this in it; the usual one for None.

    A whole name comes before a part of one, and a device that the usual part of the system shows
    before the same one shown by another part. Raises `DeviceError`.
    """
    what = {"input": "microphone", "output": "loudspeaker"}[kind]
    there = [device for device in devices() if device.channels(kind)]
    if not there:
        raise DeviceError(f"no {what} is there; plug one in or switch it on")
    if wanted is None:
        usual = [device for device in there if device.usual(kind)]
        return (usual or there)[0]
    if isinstance(wanted, int):
        found = [device for device in there if device.number == wanted]
    else:
        part = wanted.casefold()
        found = [device for device in there if part in device.name.casefold()]
        found = [device for device in found if part == device.name.casefold()] or found
    if not found:
        raise DeviceError(f"no {what} {wanted!r} is there; there are {_names(there)}")
    if len({device.name for device in found}) > 1:
        raise DeviceError(f"{wanted!r} is in more than one name: {_names(found)}; say more of it")
    preferred = next(iter(device.system for device in there if device.usual(kind)), "")
    return sorted(found, key=lambda device: device.system != preferred)[0]


def opened(kind: Kind, settings: dict[str, Any]) -> Any:
    """A stream of sounddevice, not running yet; raises `DeviceError`."""
    with _ACCESS:
        portaudio = _portaudio()
        make = portaudio.InputStream if kind == "input" else portaudio.OutputStream
        try:
            stream = make(**settings)
        except (portaudio.PortAudioError, ValueError) as error:
            raise DeviceError(_plain(error)) from None
        _STREAMS.append(stream)
        return stream


def start(stream: Any) -> None:
    """Runs a stream from its beginning; one that cannot is closed, and `DeviceError` raised."""
    with _ACCESS:
        if stream not in _STREAMS:
            raise DeviceError("it was closed")
        try:
            stream.abort()  # one that came to its end by itself still has to be stopped
            stream.start()
        except _portaudio().PortAudioError as error:
            close(stream)
            raise DeviceError(_plain(error)) from None


def silence(stream: Any) -> None:
    """Drops what the stream still has to play; it stays open."""
    with _ACCESS:
        if stream in _STREAMS:
            stream.abort()


def runs(stream: Any) -> bool:
    """Whether the stream is being played or heard."""
    with _ACCESS:
        return stream in _STREAMS and bool(stream.active)


def end_of_sound() -> None:
    """Called where sound is filled in: this was the last of it. It is still played to its end."""
    raise _portaudio().CallbackStop


def close(stream: Any) -> None:
    """Closes a stream; what it still has to play is dropped."""
    with _ACCESS:
        if stream in _STREAMS:
            _STREAMS.remove(stream)
            stream.abort()
            stream.close()


def works(kind: Kind, device: Device, rate: int, channels: int) -> bool:
    """Whether the device can be opened so, at 16 bits."""
    with _ACCESS:
        portaudio = _portaudio()
        check: Callable[..., None] = (
            portaudio.check_input_settings if kind == "input" else portaudio.check_output_settings
        )
        try:
            check(device=device.number, channels=channels, dtype="int16", samplerate=rate)
        except (portaudio.PortAudioError, ValueError):
            return False
        return True


def look_again(even_if_in_use: bool = False) -> bool:
    """Has PortAudio look for devices anew: it sees only those that were there when it began.

    That closes every stream of this process, so it is not done, and False comes back, while one
    of them runs, unless `even_if_in_use`.
    """
    with _ACCESS:
        portaudio = _portaudio()
        if not even_if_in_use and any(stream.active for stream in _STREAMS):
            return False
        for stream in tuple(_STREAMS):
            close(stream)
        try:
            portaudio._terminate()
            portaudio._initialize()
        except portaudio.PortAudioError as error:
            raise DeviceError(_plain(error)) from None
        return True


@contextmanager
def without_chatter() -> Iterator[None]:
    """While it holds, what libraries print by themselves is dropped: ALSA and PortAudio put lines
    of source code on the error output when a device goes away. What Python prints still comes.

    It holds for the whole process, and for programs started meanwhile.
    """
    try:
        kept = os.dup(2)
    except OSError:  # a program without an error output
        yield
        return
    python = sys.stderr
    own = open(os.dup(kept), "w", encoding="utf-8", errors="backslashreplace", buffering=1)  # noqa: PTH123, SIM115
    nothing = os.open(os.devnull, os.O_WRONLY)
    python.flush()
    sys.stderr = own
    os.dup2(nothing, 2)
    try:
        yield
    finally:
        os.dup2(kept, 2)
        sys.stderr = python
        own.close()
        os.close(kept)
        os.close(nothing)


_ACCESS = threading.RLock()
"""PortAudio may not be entered by two threads at once."""
_STREAMS: list[Any] = []
"""Those that are open."""


def _portaudio() -> Any:
    try:
        return importlib.import_module("sounddevice")
    except ImportError:
        raise DeviceError(
            "microphones need the Python package sounddevice: pip install sounddevice"
        ) from None
    except OSError:
        raise DeviceError(
            "PortAudio is missing, which reaches microphones and loudspeakers; "
            "on Debian and Ubuntu: sudo apt install libportaudio2"
        ) from None
    except Exception as error:  # PortAudio's own, whose class is in what could not be imported
        raise DeviceError(f"the computer's sound cannot be reached ({_plain(error)})") from None


def _usual_system(systems: Any) -> int:
    """The first part of the system that has a usual device at all."""
    for number, system in enumerate(systems):
        if system["default_input_device"] >= 0 or system["default_output_device"] >= 0:
            return number
    return 0


def _names(there: list[Device]) -> str:
    return ", ".join(dict.fromkeys(f"{device.number} {device.name}" for device in there))


def _plain(error: Exception) -> str:
    return " ".join(str(part) for part in error.args[:1]) or type(error).__name__
