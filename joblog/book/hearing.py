"""What is done to one original when it comes in, away from the book: it is heard, or looked at."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any
from zoneinfo import ZoneInfo

from joblog.book.media import Stowed
from joblog.book.schema import operating_system_words
from joblog.model import (
    BookEntry,
    Doubt,
    Entry,
    HeardUtterance,
    Moment,
    Photo,
    Problem,
    Reading,
    Recording,
    Track,
    Utterance,
    Vocabulary,
)
from joblog.speech import SpeechError
from joblog.workers import HEARING, LOOKING, Limits, Lost, Pool

if TYPE_CHECKING:
    from joblog.audio.sameness import SoundPrint
    from joblog.dictation import Judgement
    from joblog.speech import Heard, Recognizer

Listen = Callable[[Path, Vocabulary, "Sequence[Recognizer]"], "Heard"]


@dataclass(frozen=True, slots=True)
class Found:
    """A recording of which nothing is known yet: its source, and its copy in the store."""

    source: Path
    copy: Path
    stowed: Stowed


@dataclass(frozen=True, slots=True)
class Original:
    """A recording of the book of which it is not known yet what it sounds like."""

    source: Path
    sha256: str


@dataclass(frozen=True, slots=True)
class Met:
    """When a recording was made, as if it had no length, what is odd about that, and what it
    sounds like; None when no sound can be had of it. `broken` where some of it is missing."""

    made: Moment
    doubts: tuple[str, ...]
    sound: SoundPrint | None
    broken: bool


@dataclass(frozen=True, slots=True)
class Sound:
    """A recording to be heard: its copy in the store, and what only its source could tell.

    `made` is as if it had no length. `doubts` are what a person should know of the recording,
    `perhaps` why none of its entries may count yet.
    """

    source: Path
    copy: Path
    stowed: Stowed
    made: Moment
    doubts: tuple[str, ...] = ()
    perhaps: str | None = None
    decodes: bool = True
    """Whether it did when it was met; what did not is only to be told of."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A photo to be looked at, and its copy in the store."""

    source: Path
    copy: Path
    stowed: Stowed


@dataclass(frozen=True, slots=True)
class Log:
    """A log of a track to be read, and its copy in the store."""

    source: Path
    copy: Path
    stowed: Stowed


@dataclass(frozen=True, slots=True)
class Listened:
    """A recording with everything that was said in it."""

    recording: Recording
    heard: tuple[HeardUtterance, ...]


Task = Found | Original | Sound | Picture | Log
Outcome = Met | Listened | Photo | Track | Problem


def prepared(
    zone: str,
    vocabulary: Vocabulary,
    recognizers: Sequence[Recognizer] | None,
    listen: Listen | None,
    judgement: Judgement | None = None,
) -> Callable[[Task], Outcome]:
    """What turns a sound or picture into what the book keeps; it never raises.

    What is found, and the original of a recording that the book has, are only met.

    The recognizers, and the judgement of what they hear, are those that come with joblog unless
    others are given.
    """
    return partial(_outcome, zone, vocabulary, _Ears(recognizers, listen), judgement)


def limits_of(task: Task) -> Limits:
    """What one task may take: only to hear, models are loaded; a picture is read in a second."""
    if isinstance(task, Sound) and task.decodes:
        return HEARING
    return LOOKING if isinstance(task, Picture | Log) else Limits()


def read_out(
    utterances: Iterable[Utterance],
    made: Moment,
    zone: str,
    vocabulary: Vocabulary,
    before: Sequence[Entry] = (),
    judgement: Judgement | None = None,
) -> tuple[HeardUtterance, ...]:
    """The utterances of one recording with their entries, the hearing that stands put first.

    What was said last holds in the next ones: the place until another is said, the item, and what
    "make it nine" means. `before` is what stands of what was said earlier that day.
    """
    from joblog.dictation import SHIPPED, Context, after, read_heard

    heard: list[HeardUtterance] = []
    context = after(Context(), Reading(tuple(before)))
    for one in utterances:
        at = made.at + timedelta(seconds=one.start)
        context = replace(context, at=at.astimezone(ZoneInfo(zone)).replace(tzinfo=None))
        heard.append(read_heard(one, vocabulary, context, judgement or SHIPPED))
        context = after(context, heard[-1].reading)
    return tuple(heard)


def read_after(
    listened: Listened,
    zone: str,
    vocabulary: Vocabulary,
    before: Sequence[BookEntry],
    perhaps: str | None = None,
    judgement: Judgement | None = None,
) -> tuple[HeardUtterance, ...]:
    """What was heard in a recording as it reads after what was said before it on that day.

    `perhaps` is why none of it may count yet.
    """
    if not before:
        return listened.heard
    said = [one.utterance for one in listened.heard]
    facts = [one.entry for one in before]
    read = read_out(said, listened.recording.made, zone, vocabulary, facts, judgement)
    return tuple(_doubtful(one, perhaps) for one in read)


def heard_in(
    paths: Sequence[Path], zone: str, vocabulary: Vocabulary, recognizers: Sequence[Recognizer]
) -> Iterator[tuple[Path, Listened | Problem]]:
    """What each file would be heard and read as, without a book; a problem when it cannot be."""
    ready = partial(prepared, zone, vocabulary, recognizers, None)
    pool: Pool[Task, Outcome] = Pool(ready, 1, HEARING)
    with pool:
        for path in paths:
            yield path, _heard_alone(pool, path)


def _heard_alone(pool: Pool[Task, Outcome], path: Path) -> Listened | Problem:
    from joblog.book.media import fingerprint

    try:
        stowed = Stowed(fingerprint(path), "", path.stat().st_size)
    except OSError as error:
        return Problem(str(path), why(error))
    [(_, outcome)] = pool.answers([Found(path, path, stowed)])
    if isinstance(outcome, Met):
        [(_, outcome)] = pool.answers([Sound(path, path, stowed, outcome.made, outcome.doubts)])
    if isinstance(outcome, Listened | Problem):
        return outcome
    return Problem(str(path), lost(outcome if isinstance(outcome, Lost) else Lost("died")))


class _Ears:
    """Recognizers that wake up when the first recording comes."""

    def __init__(self, recognizers: Sequence[Recognizer] | None, listen: Listen | None) -> None:
        self._recognizers, self._listen = recognizers, listen

    def __call__(self, path: Path, vocabulary: Vocabulary) -> Heard:
        if self._listen is None:
            from joblog.dictation import candidates
            from joblog.speech import listen

            self._listen = partial(listen, candidates=candidates)
        if self._recognizers is None:
            from joblog.speech import recognizers

            self._recognizers = recognizers()
        return self._listen(path, vocabulary, self._recognizers)


def _outcome(
    zone: str, vocabulary: Vocabulary, ears: _Ears, judgement: Judgement | None, task: Task
) -> Outcome:
    try:
        match task:
            case Found():
                return _met(task, zone)
            case Original():
                return Met(Moment(datetime.now(UTC), ""), (), *_print_of(task.source))
            case Sound():
                return _heard(task, zone, vocabulary, ears, judgement)
            case Picture():
                return _seen(task, zone)
            case Log():
                return _followed(task)
    except SpeechError as error:  # It is not the file's fault, and is said once for all of them.
        return Problem("recordings", str(error))
    except Exception as error:  # Codecs raise anything; one file must not stop the others.
        return Problem(str(task.source), why(error))


def _met(found: Found, zone: str) -> Met:
    from joblog.audio.made import dated

    made, doubts = dated(found.source, zone, 0.0)
    return Met(made, doubts, *_print_of(found.copy))


def _print_of(path: Path) -> tuple[SoundPrint | None, bool]:
    """None for what cannot be decoded, for why is said when it is to be heard; and whether some of
    it is missing."""
    from joblog.audio.decode import AudioError, blocks
    from joblog.audio.sameness import sound_print

    try:
        stream = blocks(path)
        return sound_print(stream), stream.trouble is not None
    except AudioError:
        return None, True


def _heard(
    sound: Sound, zone: str, vocabulary: Vocabulary, ears: _Ears, judgement: Judgement | None
) -> Listened:
    heard = ears(sound.copy, vocabulary)
    made = sound.made
    if made.source == "file time":
        made = replace(made, at=made.at - timedelta(seconds=heard.seconds))
    trouble = heard.trouble or (None if heard.utterances else "no speech was found in it")
    troubles = "; ".join(filter(None, (trouble, *sound.doubts, sound.perhaps))) or None
    recording = Recording(sound.stowed.sha256, sound.source.name, made, heard.seconds, troubles)
    said = read_out(heard.utterances, made, zone, vocabulary, judgement=judgement)
    return Listened(recording, tuple(_doubtful(one, sound.perhaps) for one in said))


def _doubtful(one: HeardUtterance, why: str | None) -> HeardUtterance:
    if why is None:
        return one
    doubts = tuple(Doubt(at, why) for at, _ in enumerate(one.reading.entries))
    return replace(one, reading=replace(one.reading, doubts=one.reading.doubts + doubts))


def _seen(picture: Picture, zone: str) -> Photo | Problem:
    from joblog.photos import read

    # The source, not the copy: its name and its file's time may be all that tells when.
    photo = read(picture.source, zone)
    if photo.sha256 != picture.stowed.sha256:
        return Problem(str(picture.source), "changed while it was being read. Add it again.")
    return photo


def _followed(log: Log) -> Track | Problem:
    from joblog.photos.gpx import read_track

    track = read_track(log.source)
    if track.sha256 != log.stowed.sha256:
        return Problem(str(log.source), "changed while it was being read. Add it again.")
    return track


def lost(answer: Lost) -> str:
    """Why the one who had the file gave no answer, in words for a person."""
    return _LOST[answer.how]


_LOST = {
    "died": "the program that was reading it died. It was left out: save it anew with another"
    " program, or add it again by itself.",
    "stuck": "could not be read to an end: nothing came of it for minutes of work. It was left"
    " out: save it anew with another program, and add that.",
    "memory": "takes too much memory to be read. It was left out: cut it into shorter parts, or"
    " save a smaller copy, and add that.",
}


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
        return (
            "takes too much memory to be read. It was left out: it is very large, or damaged; save"
            " it anew with another program, smaller or in parts, and add that."
        )
    return f"could not be read ({type(error).__name__}: {error})."
