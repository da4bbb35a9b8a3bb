"""What is said aloud: on a loudspeaker, in silence, or into a file."""

from __future__ import annotations

import time
import wave
from collections.abc import Callable
from pathlib import Path
from threading import Lock
from typing import Any, Protocol

import av
import numpy as np

from joblog.audio import portaudio
from joblog.audio.decode import RATE, Samples
from joblog.audio.portaudio import DeviceError

VOLUME = 80
"""Of 100."""
BUFFER = 0.1
"""Seconds of sound that the system keeps; what it still has is dropped when it is to be silent."""
TAIL = 0.5
"""Seconds of silence that follow every sound: some systems drop the end of what they were given."""
LATE = 3.0
"""Seconds after which a sound that ought to have ended counts as ended: the device hangs."""


class SpeakerError(DeviceError):
    """A loudspeaker that cannot be used; one plain sentence."""


class Speaker(Protocol):
    """Plays one sound at a time, and keeps nobody waiting."""

    def play(self, sound: Samples, rate: int) -> None:
        """Starts it: mono, -1 to 1, at `rate` samples a second. What was playing stops."""
        ...

    def stop(self) -> None:
        """Is silent within a twentieth of a second."""
        ...

    @property
    def playing(self) -> bool:
        """Whether the sound that was started is still heard."""
        ...


class DeviceSpeaker:
    """A loudspeaker of this computer, by its number or a part of its name; the usual one for None.

    One that goes away is silent, and is tried again with every sound. `on_change` is told so, in a
    plain sentence, from any thread. `volume`, 0 to 100, holds from the next sound on. Raises
    `SpeakerError` where the loudspeaker is not there to begin with.
    """

    def __init__(
        self,
        device: str | int | None = None,
        volume: int = VOLUME,
        on_change: Callable[[str], None] | None = None,
        *,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self.volume = volume
        self._tell = on_change or _nobody
        self._clock = clock
        self._access = Lock()
        self._part = _Part(np.zeros(0, np.float32), 0)
        self._ends: float | None = None
        self._gone = False
        try:
            self._stream = self._opened(device)
        except DeviceError as error:
            raise SpeakerError(str(error)) from None
        # A number holds only until devices are looked for again.
        self._wanted = None if device is None else self.name

    def play(self, sound: Samples, rate: int) -> None:
        with self._access:
            self._part.stopped = True
            portaudio.silence(self._stream)
            self._ends = None
            if self._started(sound, rate):
                self._ends = self._clock() + len(sound) / rate + LATE
                if self._gone:
                    self._gone = False
                    self._tell(f"the loudspeaker {self.name} is back")
            else:
                self._lost()

    def stop(self) -> None:
        self._part.stopped = True  # at once, whoever has the device at the moment
        with self._access:
            self._part.stopped = True
            portaudio.silence(self._stream)
            self._ends = None

    @property
    def playing(self) -> bool:
        ends = self._ends
        return (
            ends is not None
            and self._clock() < min(ends, self._part.heard)
            and not self._part.stopped
            and portaudio.runs(self._stream)
        )

    def close(self) -> None:
        """Gives the device back; nothing is heard any more."""
        with self._access:
            self._part.stopped = True
            portaudio.close(self._stream)

    def _started(self, sound: Samples, rate: int) -> bool:
        """Whether it is being played: by the stream that is there, a new one, or after a look."""
        for way in (self._same, self._anew, self._after_a_look):
            try:
                way()
                louder = sound * np.float32((self.volume / 100) ** 2)
                tail = round(TAIL * self._rate)
                self._part = _Part(_resampled(louder, rate, self._rate), tail)
                portaudio.start(self._stream)
            except DeviceError:
                continue
            return True
        return False

    def _same(self) -> None:
        """The stream that is there."""

    def _anew(self) -> None:
        self._stream = self._opened(self._wanted)

    def _after_a_look(self) -> None:
        # Looking closes what runs: a microphone that hears is worth more than an answer.
        if not portaudio.look_again():
            raise DeviceError("the microphone is in use")
        self._stream = self._opened(self._wanted)

    def _opened(self, wanted: str | int | None) -> Any:
        device = portaudio.find(wanted, "output")
        self.name, self._rate = device.name, device.rate
        return portaudio.opened(
            "output",
            {
                "device": device.number,
                "samplerate": device.rate,
                "channels": min(2, device.outputs),
                "dtype": "float32",
                "latency": BUFFER,
                "callback": self._fill,
                "finished_callback": self._finished,
            },
        )

    def _fill(self, out: Samples, frames: int, _time: Any, _status: Any) -> None:
        part = self._part
        sound = part.next(frames)
        out[: len(sound)] = sound[:, np.newaxis]
        out[len(sound) :] = 0.0
        if part.given and part.heard == float("inf"):
            part.heard = self._clock() + BUFFER
        if part.over:
            portaudio.end_of_sound()

    def _finished(self) -> None:
        if not self._part.given:
            self._lost()

    def _lost(self) -> None:
        if not self._gone:
            self._gone = True
            self._tell(
                f"the loudspeaker {self.name} is gone; plug it in or switch it on: "
                "answers are not heard until it is back"
            )


class SilentSpeaker:
    """Plays nothing, but for as long as it would take by `clock`, which gives seconds."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        self._clock = clock
        self._ends = float("-inf")

    def play(self, sound: Samples, rate: int) -> None:
        self._ends = self._clock() + len(sound) / rate

    def stop(self) -> None:
        self._ends = min(self._ends, self._clock())

    @property
    def playing(self) -> bool:
        return self._clock() < self._ends


class FileSpeaker(SilentSpeaker):
    """Keeps what would be heard, and when by `clock`; `close` writes it as a 16-bit WAV.

    The file begins where `clock` stood when the speaker was made, and is silent between sounds.
    """

    def __init__(
        self,
        file: Path | None = None,
        clock: Callable[[], float] = time.monotonic,
        volume: int = 100,
    ) -> None:
        super().__init__(clock)
        self.volume = volume
        self.heard: list[tuple[float, Samples]] = []
        """Seconds by the clock, and what was heard from then on, at 16 kHz."""
        self._file = file
        self._begun = clock()

    def play(self, sound: Samples, rate: int) -> None:
        self.stop()
        louder = sound * np.float32((self.volume / 100) ** 2)
        self.heard.append((self._clock(), _resampled(louder, rate, RATE)))
        super().play(sound, rate)

    def stop(self) -> None:
        if self.playing:
            began, sound = self.heard[-1]
            self.heard[-1] = (began, sound[: round((self._clock() - began) * RATE)])
        super().stop()

    def close(self) -> None:
        """Nothing is heard any more, and the file holds what was."""
        self.stop()
        if self._file is None:
            return
        with wave.open(str(self._file), "wb") as file:
            file.setnchannels(1)
            file.setsampwidth(2)
            file.setframerate(RATE)
            for began, sound in self.heard:
                silent = round((began - self._begun) * RATE) - file.tell()
                file.writeframes(bytes(2 * max(0, silent)))
                file.writeframes(np.rint(np.clip(sound, -1, 1) * 32767).astype("<i2").tobytes())


class _Part:
    """A sound at the device's rate, and how much of it and of the silence after it was taken."""

    def __init__(self, sound: Samples, tail: int) -> None:
        self._sound = sound
        self._tail = tail
        self._taken = 0
        self.stopped = False
        self.heard = float("inf")
        """When the last of it is heard, by the clock; unknown until it was taken."""

    def next(self, count: int) -> Samples:
        """What is next of the sound; less than `count` at its end, nothing once it is stopped."""
        if self.stopped:
            return self._sound[:0]
        part = self._sound[self._taken : self._taken + count]
        self._taken += count
        return part

    @property
    def given(self) -> bool:
        """Whether nothing of the sound is left."""
        return self.stopped or self._taken >= len(self._sound)

    @property
    def over(self) -> bool:
        """Whether nothing of the silence is left either."""
        return self.stopped or self._taken >= len(self._sound) + self._tail


def _resampled(sound: Samples, rate: int, wanted: int) -> Samples:
    """The sound at another rate, never over full scale."""
    frame = av.AudioFrame.from_ndarray(
        np.ascontiguousarray(sound, np.float32)[np.newaxis], format="flt", layout="mono"
    )
    frame.sample_rate = rate
    resampler = av.AudioResampler(format="flt", layout="mono", rate=wanted)
    pieces = [*resampler.resample(frame), *resampler.resample(None)]
    whole: Samples = np.concatenate([piece.to_ndarray().reshape(-1) for piece in pieces])
    return np.clip(whole, np.float32(-1), np.float32(1))


def _nobody(_text: str) -> None:
    """Where nobody is to be told."""
