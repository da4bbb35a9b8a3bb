"""What is done to one original when it comes in, away from the book: it is heard, or looked at."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

from joblog.book.media import Stowed
from joblog.book.schema import operating_system_words
from joblog.model import (
    HeardUtterance,
    Moment,
    Photo,
    Problem,
    Recording,
    Utterance,
    Vocabulary,
)
from joblog.speech import SpeechError

if TYPE_CHECKING:
    from joblog.speech import Heard, Recognizer

Listen = Callable[[Path, Vocabulary, "Sequence[Recognizer]"], "Heard"]


@dataclass(frozen=True, slots=True)
class Sound:
    """A recording to be heard: its copy in the store, and what only its source could tell.

    `made` is as if it had no length.
    """

    source: Path
    copy: Path
    stowed: Stowed
    made: Moment


@dataclass(frozen=True, slots=True)
class Picture:
    """A photo to be looked at, and its copy in the store."""

    source: Path
    copy: Path
    stowed: Stowed


@dataclass(frozen=True, slots=True)
class Listened:
    """A recording with everything that was said in it."""

    recording: Recording
    heard: tuple[HeardUtterance, ...]


Outcome = Listened | Photo | Problem


def prepared(
    zone: str,
    vocabulary: Vocabulary,
    recognizers: Sequence[Recognizer] | None,
    listen: Listen | None,
) -> Callable[[Sound | Picture], Outcome]:
    """What turns a sound or picture into what the book keeps; it never raises.

    The recognizers are those that come with joblog unless others are given.
    """
    return partial(_outcome, zone, vocabulary, _Ears(recognizers, listen))


def read_out(
    utterances: Iterable[Utterance], made: Moment, zone: str, vocabulary: Vocabulary
) -> tuple[HeardUtterance, ...]:
    """The utterances of one recording with their entries, the hearing that stands put first.

    A place said in one utterance holds in the next ones until another is said.
    """
    from joblog.dictation import Context, after, best

    heard: list[HeardUtterance] = []
    context = Context()
    for one in utterances:
        at = made.at + timedelta(seconds=one.start)
        context = replace(context, at=at.astimezone(ZoneInfo(zone)).replace(tzinfo=None))
        chosen, reading = best(one.hearings, vocabulary, context)
        others = one.hearings[:chosen] + one.hearings[chosen + 1 :]
        hearings = (*one.hearings[chosen : chosen + 1], *others)
        heard.append(HeardUtterance(replace(one, hearings=hearings), reading))
        context = after(context, reading)
    return tuple(heard)


def heard_in(
    path: Path, zone: str, vocabulary: Vocabulary, recognizers: Sequence[Recognizer]
) -> Listened | Problem:
    """What a file would be heard and read as, without a book; a problem when it cannot be."""
    from joblog.audio.made import made_at
    from joblog.book.media import fingerprint

    try:
        stowed = Stowed(fingerprint(path), "", path.stat().st_size)
        sound = Sound(path, path, stowed, made_at(path, zone, 0.0))
        return _heard(sound, zone, vocabulary, _Ears(recognizers, None))
    except Exception as error:  # As in intake: one file must not stop the others.
        return Problem(str(path), why(error))


class _Ears:
    """Recognizers that wake up when the first recording comes."""

    def __init__(self, recognizers: Sequence[Recognizer] | None, listen: Listen | None) -> None:
        self._recognizers, self._listen = recognizers, listen

    def __call__(self, path: Path, vocabulary: Vocabulary) -> Heard:
        if self._listen is None:
            from joblog.speech import listen

            self._listen = listen
        if self._recognizers is None:
            from joblog.speech import recognizers

            self._recognizers = recognizers()
        return self._listen(path, vocabulary, self._recognizers)


def _outcome(zone: str, vocabulary: Vocabulary, ears: _Ears, task: Sound | Picture) -> Outcome:
    try:
        if isinstance(task, Sound):
            return _heard(task, zone, vocabulary, ears)
        return _seen(task, zone)
    except SpeechError as error:  # It is not the file's fault, and is said once for all of them.
        return Problem("recordings", str(error))
    except Exception as error:  # Codecs raise anything; one file must not stop the others.
        return Problem(str(task.source), why(error))


def _heard(sound: Sound, zone: str, vocabulary: Vocabulary, ears: _Ears) -> Listened:
    heard = ears(sound.copy, vocabulary)
    made = sound.made
    if made.source == "file time":
        made = replace(made, at=made.at - timedelta(seconds=heard.seconds))
    trouble = heard.trouble or (None if heard.utterances else "no speech was found in it")
    recording = Recording(sound.stowed.sha256, sound.source.name, made, heard.seconds, trouble)
    return Listened(recording, read_out(heard.utterances, made, zone, vocabulary))


def _seen(picture: Picture, zone: str) -> Photo | Problem:
    from joblog.photos import read

    # The source, not the copy: its name and its file's time may be all that tells when.
    photo = read(picture.source, zone)
    if photo.sha256 != picture.stowed.sha256:
        return Problem(str(picture.source), "changed while it was being read. Add it again.")
    return photo


def why(error: BaseException) -> str:
    """Why a file could not be taken in, in words for a person."""
    said: Any = getattr(error, "why", None)
    if said:
        return str(said)
    if type(error).__module__.startswith("joblog."):
        return str(error)
    if isinstance(error, OSError):
        return operating_system_words(error)
    if isinstance(error, MemoryError):
        return "is too large for this computer's memory. Cut it into shorter files."
    return f"could not be read ({type(error).__name__}: {error})."
