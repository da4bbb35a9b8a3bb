"""Sound as it comes: from a microphone, or from a recording played as if it came from one."""

from __future__ import annotations

import queue
import threading
import time
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any, Protocol

import av
import numpy as np
from numpy.typing import NDArray

from joblog.audio import portaudio
from joblog.audio.decode import RATE, AudioError, Samples
from joblog.audio.decode import blocks as decoded
from joblog.audio.portaudio import Device, DeviceError, devices

__all__ = [
    "Block",
    "Device",
    "DeviceMicrophone",
    "FileMicrophone",
    "Microphone",
    "MicrophoneError",
    "devices",
]

Whole = NDArray[np.int16]

BLOCK = 512
"""Samples of a block where it is ours to say: 32 ms, as much as the detector of speech judges."""
PATIENCE = 2.0
"""Seconds without a block after which a microphone counts as gone. One that runs never pauses."""
BEGINS = 5.0
"""Seconds that a microphone may take to give its first block; headsets over Bluetooth do."""
AGAIN = 1.0
"""Seconds between two looks for a microphone that is gone."""
FORCED = 15
"""Looks put off because a loudspeaker is at work, after which it is interrupted."""
WAITING = 20.0
"""Seconds of sound kept for a listener who is late; what comes then is lost, and said to be."""
BUFFER = 0.2
"""Seconds of sound that the system keeps for a process that is late."""


class MicrophoneError(DeviceError):
    """A microphone that cannot be used; one plain sentence."""


@dataclass(frozen=True, slots=True)
class Block:
    """Sound of a moment, as it came."""

    sound: Whole
    """Mono, 16 bits, at 16 kHz; of any length."""
    at: datetime
    """When its first sample was heard: aware, UTC, never before the block before it."""
    lost: bool = False
    """Sound is missing between the block before and this one."""


class Microphone(Protocol):
    """What is listened to."""

    name: str

    def blocks(self) -> Iterator[Block]:
        """The sound as it comes; ends when there is no more, or after `close`."""
        ...

    def close(self) -> None:
        """Ends the blocks, from any thread; what was heard before still comes."""
        ...


class FileMicrophone:
    """A recording, or blocks of 16 kHz mono sound, as if they were heard now.

    `begun` (aware) is when the first sample was heard. At `speed` 1 the blocks come when they
    would from a microphone, at 20 twenty times as fast, at None as fast as they are taken; none is
    dropped where the listener is late. `trouble` says afterwards what the recording lacks.
    Raises `MicrophoneError` where the recording cannot be read.
    """

    def __init__(
        self,
        source: Path | str | Iterable[Whole],
        begun: datetime,
        speed: float | None = 1.0,
    ) -> None:
        if begun.tzinfo is None:
            raise ValueError("a moment needs its zone")
        if speed is not None and speed <= 0:
            raise ValueError("the speed is more than nothing, or None")
        self.name = "sound"
        self.trouble: str | None = None
        self._recording = None
        self._source: Iterator[Whole]
        if isinstance(source, Path | str):
            self.name = Path(source).name
            try:
                self._recording = decoded(Path(source))
            except AudioError as error:
                raise MicrophoneError(str(error)) from None
            self._source = map(_whole, self._recording)
        else:
            self._source = iter(source)
        self._begun = begun.astimezone(UTC)
        self._speed = speed
        self._closed = threading.Event()

    def blocks(self) -> Iterator[Block]:
        started = time.monotonic()
        count = 0
        for sound in self._readable(_in_blocks(self._source)):
            if self._speed is not None:
                due = started + (count + len(sound)) / RATE / self._speed
                self._closed.wait(max(0.0, due - time.monotonic()))
            if self._closed.is_set():
                return
            yield Block(sound, self._begun + timedelta(seconds=count / RATE))
            count += len(sound)
        if self._recording is not None:
            self.trouble = self._recording.trouble

    def close(self) -> None:
        self._closed.set()

    def _readable(self, blocks: Iterator[Whole]) -> Iterator[Whole]:
        try:
            yield from blocks
        except AudioError as error:  # one that is too long shows it only at its end
            raise MicrophoneError(str(error)) from None


class DeviceMicrophone:
    """A microphone of this computer, by its number or a part of its name; the usual one for None.

    One that is unplugged, switched off or out of reach is looked for every second and goes on
    when it is back, with its first block marked `lost`. `on_change` is told so, in a plain
    sentence, from the thread that takes the blocks. Raises `MicrophoneError` where it is not
    there to begin with.
    """

    def __init__(
        self,
        device: str | int | None = None,
        on_change: Callable[[str], None] | None = None,
        *,
        now: Callable[[], datetime] = lambda: datetime.now(UTC),
        patience: float = PATIENCE,
        begins: float = BEGINS,
        again: float = AGAIN,
    ) -> None:
        self._tell = on_change or _nobody
        self._now = now
        self._patience, self._begins, self._again = patience, begins, again
        self._device = self._find(device)
        self.name = self._device.name
        # A number holds only until devices are looked for again; the usual one may be another then.
        self._wanted = None if device is None else self.name
        self._closed = threading.Event()
        self._arrivals: queue.Queue[_Arrival | None] = queue.Queue()
        self._times = _Times()

    def blocks(self) -> Iterator[Block]:
        stream, resampled = self._open()
        back = True
        while True:
            lost = not back
            for sound, arrived, overrun in self._heard(stream):
                if not back:
                    self._tell(f"the microphone {self.name} is back")
                    back = True
                yield from self._block(resampled(sound), arrived, lost or overrun)
                lost = False
            if self._closed.is_set():
                return
            if back:
                self._tell(
                    f"the microphone {self.name} gives no sound; plug it in or switch it on: "
                    "nothing is heard until it is back"
                )
            back = False
            reopened = self._wait_for_it()
            if reopened is None:
                return
            stream, resampled = reopened

    def close(self) -> None:
        self._closed.set()
        self._arrivals.put(None)

    def _find(self, wanted: str | int | None) -> Device:
        try:
            return portaudio.find(wanted, "input")
        except DeviceError as error:
            raise MicrophoneError(str(error)) from None

    def _open(self) -> tuple[Any, Callable[[Whole], Whole]]:
        rate, channels = _form(self._device)
        most = round(WAITING * rate / (BLOCK * rate / RATE))
        overrun = False

        def came(sound: Whole, _frames: int, _time: Any, status: Any) -> None:
            nonlocal overrun
            overrun = overrun or bool(status and status.input_overflow)
            if self._arrivals.qsize() >= most:
                overrun = True
                return
            self._arrivals.put(_Arrival(sound[:, :2].copy(), self._now(), overrun))
            overrun = False

        settings = {
            "device": self._device.number,
            "samplerate": rate,
            "channels": channels,
            "dtype": "int16",
            "blocksize": round(BLOCK * rate / RATE),
            "latency": BUFFER,
            "callback": came,
            "finished_callback": lambda: self._arrivals.put(None),
        }
        try:
            stream = portaudio.opened("input", settings)
            portaudio.start(stream)
        except DeviceError as error:
            raise MicrophoneError(
                f"the microphone {self.name} cannot be opened ({error}); "
                "is another program using it?"
            ) from None
        return stream, _resampler(rate, min(2, channels))

    def _heard(self, stream: Any) -> Iterator[tuple[Whole, datetime, bool]]:
        """What comes from the stream until it ends, by itself or by `close`."""
        patience = self._begins
        try:
            while True:
                try:
                    arrival = self._arrivals.get(timeout=patience)
                except queue.Empty:
                    return
                if arrival is None:
                    return
                patience = self._patience
                yield arrival.sound, arrival.at, arrival.overrun
        finally:
            portaudio.close(stream)
            while not self._arrivals.empty():
                self._arrivals.get()

    def _wait_for_it(self) -> tuple[Any, Callable[[Whole], Whole]] | None:
        """The stream of the microphone once it is there again; None after `close`."""
        put_off = 0
        while not self._closed.wait(self._again):
            try:
                if not portaudio.look_again(even_if_in_use=put_off >= FORCED):
                    put_off += 1
                    continue
                put_off = 0
                self._device = self._find(self._wanted)
                self.name = self._device.name
                return self._open()
            except DeviceError:
                continue
        return None

    def _block(self, sound: Whole, arrived: datetime, lost: bool) -> Iterator[Block]:
        if not len(sound):
            return
        at, jumped, set_back = self._times.of(len(sound), arrived, lost)
        if set_back:
            self._tell("the computer's clock was set back; times of what is said go on as before")
        yield Block(sound, at, lost or jumped)


@dataclass(frozen=True, slots=True)
class _Arrival:
    sound: Whole
    at: datetime
    overrun: bool


class _Times:
    """When each block began: by the count of its samples, held to the clock.

    A sound card counts up to a ten-thousandth wrong, three seconds in eight hours, and a busy
    computer hands over a block late, never early: the least lateness of the last ten seconds says
    how far the count is off, and the count is led back by a tenth of a block's length at a time.
    """

    KEPT = timedelta(seconds=10)
    NEAR = timedelta(milliseconds=50)
    """A difference that is left alone."""
    FAR = timedelta(seconds=1)
    """A difference that no sound card makes: the clock was set, the computer slept, or sound is
    missing unsaid."""

    def __init__(self) -> None:
        self._begun: datetime | None = None
        self._count = 0
        self._late: deque[tuple[datetime, timedelta]] = deque()
        """Of each block lately: when it came, and how much later than by the count alone."""
        self._led = timedelta(0)
        self._clock_back = timedelta(0)
        self._last: datetime | None = None
        self._arrived: datetime | None = None

    def of(self, length: int, arrived: datetime, lost: bool) -> tuple[datetime, bool, bool]:
        """When it began, whether sound is missing before it, whether the clock was set back."""
        lasted = timedelta(seconds=length / RATE)
        step = timedelta(0) if self._arrived is None else arrived - self._arrived
        self._arrived = arrived
        set_back = step < -self.FAR
        if set_back:
            self._clock_back += lasted - step
        jumped = step > self.FAR + lasted
        if self._begun is None or lost or jumped:
            self._anchor(arrived - lasted)
        off = self._lateness(arrived + self._clock_back, lasted) - self._led
        if off > self.FAR:
            jumped = True
            self._anchor(arrived - lasted)
        elif abs(off) > self.NEAR:
            most = lasted / 10
            self._led += min(max(off, -most), most)
        at = self._counted() + self._led
        at = at if self._last is None else max(at, self._last)
        self._last = at
        self._count += length
        return at, jumped, set_back

    def _anchor(self, begun: datetime) -> None:
        """Counts anew from here; never from before what was counted already."""
        counted = begun if self._begun is None else self._counted() + self._led
        self._begun = max(begun, counted)
        ahead = self._begun - begun
        self._clock_back = ahead if ahead > self.FAR else timedelta(0)
        self._count, self._led = 0, timedelta(0)
        self._late.clear()

    def _counted(self) -> datetime:
        assert self._begun is not None
        return self._begun + timedelta(seconds=self._count / RATE)

    def _lateness(self, arrived: datetime, lasted: timedelta) -> timedelta:
        """The least of the last ten seconds."""
        late = arrived - lasted - self._counted()
        while self._late and (self._late[-1][1] >= late):
            self._late.pop()  # none of these can be the least again
        self._late.append((arrived, late))
        while arrived - self._late[0][0] > self.KEPT:
            self._late.popleft()
        return self._late[0][1]


def _form(device: Device) -> tuple[int, int]:
    """Samples a second and channels at which the microphone opens, the nearest to ours first."""
    for channels in dict.fromkeys((1, min(2, device.inputs), device.inputs)):
        for rate in dict.fromkeys((RATE, device.rate, 48_000, 44_100, 32_000, 8_000)):
            if portaudio.works("input", device, rate, channels):
                return rate, channels
    return device.rate, min(2, device.inputs)


def _resampler(rate: int, channels: int) -> Callable[[Whole], Whole]:
    """A function of sound as it came, one or two channels side by side, to mono at 16 kHz."""
    if (rate, channels) == (RATE, 1):
        return lambda sound: sound.reshape(-1)
    resampler = av.AudioResampler(format="s16", layout="mono", rate=RATE)
    layout = {1: "mono", 2: "stereo"}[channels]

    def resampled(sound: Whole) -> Whole:
        frame = av.AudioFrame.from_ndarray(sound.reshape(1, -1), format="s16", layout=layout)
        frame.sample_rate = rate
        pieces = [piece.to_ndarray().reshape(-1) for piece in resampler.resample(frame)]
        return np.concatenate([np.zeros(0, np.int16), *pieces])

    return resampled


def _in_blocks(pieces: Iterator[Whole]) -> Iterator[Whole]:
    """The same sound in blocks of 32 ms; the last one may be shorter."""
    rest = np.zeros(0, np.int16)
    for piece in pieces:
        sound = np.concatenate([rest, piece])
        whole = len(sound) - len(sound) % BLOCK
        yield from sound[:whole].reshape(-1, BLOCK)
        rest = sound[whole:]
    if len(rest):
        yield rest


def _whole(sound: Samples) -> Whole:
    """At 16 bits, what was recorded at 16 bits exactly as it was."""
    return np.clip(np.rint(sound * 32768), -32768, 32767).astype(np.int16)


def _nobody(_text: str) -> None:
    """Where nobody is to be told."""
