"""What was heard, to be listened to again: where it lies, and the command that plays it."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from joblog.book.media import INCOMING, incoming_of
from joblog.model import BookEntry
from joblog.service.desk import Desk
from joblog.service.errors import ServiceError, use_case
from joblog.service.pictures import GONE

BEFORE, AFTER = 0.5, 0.7
"""Seconds around an utterance: where it begins and ends is a guess, and words fade."""
AROUND = 10.0
"""Seconds before and after, for what else was going on."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of a recording, in seconds from its beginning."""

    path: Path
    name: str
    """Of the recording."""
    start: float
    end: float
    said_from: float
    said_to: float
    """Where in it the words are that are asked for."""
    whole: bool = True
    """False where the recording has holes, so that its own times do not count."""


@use_case
def stretch_of(desk: Desk, entry: BookEntry, *, around: bool = False) -> Stretch:
    """Where an entry was said, with a little before and after it, or with the seconds `around`.

    Raises `ServiceError` for one that was typed, and for a recording that is gone from the book.
    """
    if entry.utterance is None:
        raise ServiceError("this was typed: there is no sound of it")
    said = desk.book.utterance(entry.utterance)
    recording = desk.book.recording(said.recording)
    path = desk.book.media(recording.sha256)
    if not path.is_file():
        raise ServiceError(f"{recording.name}: this recording is {GONE}")
    start, end = said.utterance.start, said.utterance.end
    before, after = (AROUND, AROUND) if around else (BEFORE, AFTER)
    return Stretch(
        path,
        recording.name,
        max(0.0, start - before),
        min(end + after, max(end, recording.seconds)),
        start,
        end,
        whole=recording.trouble is None,
    )


@use_case
def command_for(desk: Desk, wanted: Stretch, *, slower: bool = False) -> list[str]:
    """What to start to have it played; see `joblog.audio.playing`."""
    from joblog.audio.playing import Wanted, command

    with suppress(OSError):  # Where nothing can be written it may still play without.
        incoming_of(desk.book.store)
    return command(
        Wanted(
            str(wanted.path),
            wanted.start,
            wanted.end,
            wanted.whole,
            slower,
            # Swept when the book is opened, should anything ever be left there.
            str(desk.book.store / INCOMING),
        )
    )
