"""A session of listening as a person wishes it, and a try of the microphone."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import ExitStack
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, Literal
from zoneinfo import ZoneInfo

import numpy as np

from joblog.listening.cut_walk import CutWalk, walk_of_entries, walk_of_plans
from joblog.service import listening as service
from joblog.service.desk import Desk
from joblog.service.errors import refusing
from joblog.service.planning import read_cut_list
from joblog.service.voice import judgement_in

if TYPE_CHECKING:
    from joblog.aloud.voices import Voice
    from joblog.audio.microphone import Device, Microphone
    from joblog.audio.speaker import Speaker
    from joblog.listening.session import Cuts, Event
    from joblog.model import HeardUtterance

Answers = Literal["voice", "beeps", "none"]

TRY = 5.0
"""Seconds that a try of the microphone records."""


@dataclass(frozen=True, slots=True)
class Wishes:
    """How somebody wants to be listened to."""

    source: Path | None = None
    """A recording to be listened to in place of a microphone."""
    fast: bool = False
    """As fast as it goes, not in real time; a recording only, and nothing sounds."""
    microphone: str | None = None
    """Its number or a part of its name; the usual one for None."""
    speaker: str | None = None
    volume: int = 80
    answers: Answers = "voice"
    voice: str | None = None
    """The best one that is installed for None."""
    keep_day: bool = False
    cuts: Path | None = None
    """A printed cut list (JSON); the pieces called out on that day for None."""
    shorter: Fraction | None = None
    """Inches by which a piece is cut shorter than measured; said with each measure then."""


@dataclass(frozen=True, slots=True)
class Tried:
    """What a try of the microphone found."""

    microphone: str
    decibels: float
    """The loudest half second, against full scale."""
    warning: str | None
    heard: tuple[HeardUtterance, ...]
    troubles: tuple[str, ...]
    """Why something was not heard."""


def listen_to(
    desk: Desk, wishes: Wishes, on_event: Callable[[Event], None]
) -> tuple[str | None, str | None]:
    """Listens until the recording ends, the microphone is closed, or Ctrl-C.

    What the recording lacks, and how large the recording of the day is, in words; None for nothing
    to say. Raises `ServiceError` in one plain line where a device, recording or voice is not to be
    had, and where the book is being listened for already.
    """
    from joblog.aloud.voices import VoiceError
    from joblog.audio.microphone import MicrophoneError
    from joblog.audio.portaudio import without_chatter
    from joblog.audio.speaker import SpeakerError
    from joblog.listening.doing import AtOnce, Beside
    from joblog.listening.ear import Ear
    from joblog.listening.session import Session, Warned, listen
    from joblog.speech.streaming import WordsSoFar

    def tell(words: str) -> None:
        on_event(Warned(words))

    with ExitStack() as stack, refusing(VoiceError, MicrophoneError, SpeakerError):
        if wishes.source is None:
            stack.enter_context(without_chatter())
        voice = _voice(desk, wishes, tell)
        microphone = _microphone(desk, wishes, tell)
        stack.callback(microphone.close)
        speaker = _speaker(wishes, tell)
        if (close := getattr(speaker, "close", None)) is not None:
            stack.callback(close)
        doing = AtOnce if wishes.fast else Beside
        judgement = judgement_in(desk.book)
        ear = Ear(desk.vocabulary, judgement=judgement)
        stack.callback(ear.close)
        recorder = stack.enter_context(service.record_day(desk, tell)) if wishes.keep_day else None
        session = Session(
            desk,
            microphone,
            speaker,
            doing(),
            doing(),
            ear,
            voice,
            silent=wishes.answers == "none",
            greets=wishes.source is None,
            cuts=_cuts(desk, wishes),
            shorter=wishes.shorter,
            words=WordsSoFar(),
            judgement=judgement,
            record=recorder.write if recorder else None,
            on_event=on_event,
        )
        listen(session)
        lacks = getattr(microphone, "trouble", None)
        return lacks, recorder.size if recorder else None


def try_microphone(desk: Desk, wishes: Wishes, on_ready: Callable[[str], None]) -> Tried:
    """Records five seconds and tells how loud they are and what is understood. Keeps nothing.

    `on_ready` is told when to speak, with the microphone's name.
    """
    from joblog.audio.decode import RATE
    from joblog.audio.level import Conditioner, Meter
    from joblog.audio.microphone import MicrophoneError
    from joblog.audio.portaudio import without_chatter
    from joblog.audio.voice import Cutter
    from joblog.dictation import Context
    from joblog.listening.ear import Ear, Said, Unheard

    ear = Ear(desk.vocabulary, judgement=judgement_in(desk.book))
    heard: list[HeardUtterance] = []
    troubles: list[str] = []
    try:
        ear.wake()
        with refusing(MicrophoneError), without_chatter():
            microphone = _microphone(desk, wishes, troubles.append)
            on_ready(microphone.name)
            meter, conditioner, cutter = Meter(), Conditioner(), Cutter()
            clear, found, loudest, count = [], [], -100.0, 0
            for block in microphone.blocks():
                meter.feed(block.sound)
                loudest = max(loudest, meter.level)
                made = conditioner.feed(block.sound)
                clear.append(made.for_hearing)
                found += cutter.feed(made.for_finding)
                count += len(block.sound)
                if count >= TRY * RATE:
                    microphone.close()
                    break
        made = conditioner.end()
        whole = np.concatenate([*clear, made.for_hearing])
        found += [*cutter.feed(made.for_finding), *cutter.finish()]
        for one in found:
            sound = whole[round(one.start * RATE) : round(one.end * RATE)]
            outcome = ear.hear(Said(sound, Context()))
            if isinstance(outcome, Unheard):
                troubles.append(outcome.why)
            else:
                heard.append(outcome)
        return Tried(microphone.name, loudest, meter.warning, tuple(heard), tuple(troubles))
    finally:
        ear.close()


def sound_devices() -> tuple[Device, ...]:
    """Microphones and loudspeakers of this computer. Raises `ServiceError`."""
    from joblog.audio.microphone import devices
    from joblog.audio.portaudio import DeviceError

    with refusing(DeviceError):
        return devices()


def _microphone(desk: Desk, wishes: Wishes, tell: Callable[[str], None]) -> Microphone:
    from joblog.audio.microphone import DeviceMicrophone, FileMicrophone

    if wishes.source is None:
        return DeviceMicrophone(_device(wishes.microphone), tell)
    begun = service.begun(desk, wishes.source)
    return FileMicrophone(wishes.source, begun, None if wishes.fast else 1.0)


def _voice(desk: Desk, wishes: Wishes, tell: Callable[[str], None]) -> Voice | None:
    """None answers by beeps: by wish, or where nobody asked for a voice and none is installed."""
    from joblog.aloud.voices import VoiceError, best_voice

    if wishes.answers != "voice":
        return None
    try:
        return best_voice(service.said_through(desk), wishes.voice)
    except VoiceError as error:
        if wishes.voice is not None:
            raise
        tell(f"{error} Until then it answers by beeps.")
        return None


def _speaker(wishes: Wishes, tell: Callable[[str], None]) -> Speaker:
    from joblog.audio.speaker import DeviceSpeaker, SilentSpeaker, SpeakerError

    if wishes.answers == "none" or wishes.fast:
        return SilentSpeaker()
    try:
        return DeviceSpeaker(_device(wishes.speaker), wishes.volume, tell)
    except SpeakerError as error:
        if wishes.source is None or wishes.speaker is not None:
            raise
        # A recording can be listened to on a machine that has no sound at all.
        tell(f"{error}; nothing is said aloud")
        return SilentSpeaker()


def _device(named: str | None) -> str | int | None:
    return int(named) if named is not None and named.isdecimal() else named


def _cuts(desk: Desk, wishes: Wishes) -> Cuts:
    if wishes.cuts is None:
        return _CalledOut(desk)
    walk = walk_of_plans(read_cut_list(wishes.cuts))
    return _Printed(desk, walk)


class _Printed:
    """A printed list; how far it is cut is noted in the book."""

    def __init__(self, desk: Desk, walk: CutWalk) -> None:
        self._desk, self._walk = desk, walk
        self._name = service.name_of_list(walk.pieces)

    def walk(self, at: datetime) -> CutWalk:
        return CutWalk(self._walk.pieces, service.pieces_cut(self._desk, self._name))

    def one_more(self, at: datetime) -> None:
        service.note_pieces_cut(self._desk, self._name, self.walk(at).one_more().done)


class _CalledOut:
    """The pieces that were called out on the day."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk

    def walk(self, at: datetime) -> CutWalk:
        entries = service.entries_today(self._desk, at)
        return walk_of_entries(entries, service.pieces_cut(self._desk, self._name(at)))

    def one_more(self, at: datetime) -> None:
        service.note_pieces_cut(self._desk, self._name(at), self.walk(at).one_more().done)

    def _name(self, at: datetime) -> str:
        return f"called out {at.astimezone(ZoneInfo(self._desk.job.zone)):%Y-%m-%d}"
