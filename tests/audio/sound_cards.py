"""A sounddevice with cards that are plugged and unplugged at will, in place of the real one."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np


class PortAudioError(Exception):
    pass


class CallbackStop(Exception):  # noqa: N818
    pass


class Flags:
    """What PortAudio says of a block."""

    def __init__(self, input_overflow: bool = False) -> None:
        self.input_overflow = input_overflow

    def __bool__(self) -> bool:
        return self.input_overflow


class Stream:
    """An open stream; a test has it hear or play by hand."""

    def __init__(self, cards: SoundCards, **settings: Any) -> None:
        self._cards = cards
        self.settings = settings
        self.active = False
        self.closed = False
        self.name = cards.listed[settings["device"]]
        if self.name not in cards.plugged:
            raise PortAudioError("Device unavailable", -9985)

    def start(self) -> None:
        assert not self.closed
        if self.name not in self._cards.plugged or self.name in self._cards.broken:
            raise PortAudioError("Unanticipated host error", -9999)
        self.active = True
        self._cards.began(self)

    def abort(self) -> None:
        assert not self.closed
        if self.active:
            self.breaks()

    def close(self) -> None:
        self.abort()
        self.closed = True

    def hears(self, sound: np.ndarray, overflow: bool = False) -> None:
        shaped = sound.reshape(-1, self.settings["channels"])
        self.settings["callback"](shaped, len(shaped), None, Flags(overflow))

    def plays(self, frames: int) -> np.ndarray:
        """The first channel of what comes next."""
        out = np.full((frames, self.settings["channels"]), 9.0, np.float32)
        try:
            self.settings["callback"](out, frames, None, Flags())
        except CallbackStop:
            self.breaks()
        return out[:, 0]

    def breaks(self) -> None:
        """Ends, as a running stream does whose card is pulled out."""
        self.active = False
        self.settings.get("finished_callback", bool)()


class SoundCards:
    """Stands for the module: `sys.modules["sounddevice"]`. Cards are name -> rates."""

    PortAudioError = PortAudioError
    CallbackStop = CallbackStop

    def __init__(self, *names: str, rates: tuple[int, ...] = (16_000,), channels: int = 1) -> None:
        self.plugged = list(names)
        self.listed = list(names)
        self.rates = rates
        self.least_channels = channels
        self.broken: set[str] = set()
        self.streams: list[Stream] = []
        self.looked = 0
        self.began: Callable[[Stream], None] = lambda _stream: None

    def query_hostapis(self) -> list[dict[str, Any]]:
        usual = 0 if self.listed else -1
        return [
            {"name": "None", "default_input_device": -1, "default_output_device": -1},
            {"name": "Sound", "default_input_device": usual, "default_output_device": usual},
        ]

    def query_devices(self) -> list[dict[str, Any]]:
        return [
            {
                "name": name,
                "hostapi": 1,
                "max_input_channels": max(2, self.least_channels),
                "max_output_channels": 2,
                "default_samplerate": float(self.rates[0]),
            }
            for name in self.listed
        ]

    def check_input_settings(self, **settings: Any) -> None:
        if settings["samplerate"] not in self.rates:
            raise PortAudioError("Invalid sample rate", -9997)
        if settings["channels"] < self.least_channels:
            raise PortAudioError("Invalid number of channels", -9998)

    def InputStream(self, **settings: Any) -> Stream:  # noqa: N802
        self.streams.append(Stream(self, **settings))
        return self.streams[-1]

    OutputStream = InputStream

    def _terminate(self) -> None:
        assert all(stream.closed for stream in self.streams), "closed under somebody's hands"

    def _initialize(self) -> None:
        self.looked += 1
        self.listed = list(self.plugged)


Plugs = Callable[..., SoundCards]
"""The fixture `plug`: called with cards, it plugs them in."""
