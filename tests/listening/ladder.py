"""A ladder: sound that was scripted, ears that know the script, and a book for what is kept.

Only the finding of speech, the talk and the book are the real ones. Times are in seconds of the
sound, which begins at `BEGUN`; nothing waits for a clock.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path
from typing import TypeVar
from zoneinfo import ZoneInfo

import numpy as np

from joblog.aloud.voices import VoiceError
from joblog.audio.decode import RATE, Samples
from joblog.audio.microphone import BLOCK, Block
from joblog.book import Book
from joblog.dictation import read_heard
from joblog.listening.doing import Promise
from joblog.listening.ear import Said, Unheard
from joblog.listening.session import Answered, Caught, Event, Session, Stopped, Warned, listen
from joblog.model import BookEntry, HeardUtterance, Job, Utterance
from joblog.service import Desk, open_desk, record
from tests.audio.sounds import even_babble
from tests.listening.talking import hearings

JOB = Job("Corner porch", "America/Chicago", ("north eave", "south eave"))
ZONE = ZoneInfo(JOB.zone)
BEGUN = datetime(2026, 10, 5, 8, 0, tzinfo=ZONE)
MEASURE = "north eave eleven and seven eighths"
OTHER = "south eave fourteen and a half"

Result = TypeVar("Result")


@dataclass(frozen=True)
class Line:
    """Words said from `at` on; as loud as they are near."""

    at: float
    words: str
    seconds: float = 1.5
    decibels: float = 0.0
    other: str | None = None
    """What one of the recognizers takes it for."""

    @property
    def end(self) -> float:
        return self.at + self.seconds


@dataclass
class Later:
    """Has everything done at once, and keeps it back for so many seconds of the sound."""

    seconds: float = 0.2
    live: bool = False
    closed: bool = False

    def start(self, now: float, do: Callable[[], Result]) -> Promise[Result]:
        return _Done(do(), now + self.seconds)

    def close(self) -> None:
        self.closed = True


@dataclass(frozen=True)
class _Done:
    outcome: object
    at: float

    def ready(self, now: float) -> bool:
        return now >= self.at

    def result(self) -> object:
        return self.outcome


class Speaks:
    """A voice: a quarter of a second for every word."""

    name = "babble"

    def __init__(self) -> None:
        self.said: list[str] = []
        self.hoarse = False

    def say(self, text: str) -> tuple[Samples, int]:
        if self.hoarse:
            raise VoiceError("The voice is gone.")
        self.said.append(text)
        return even_babble(0.25 * len(text.split()), pitch=200.0), RATE


@dataclass
class Ladder:
    """Microphone, loudspeaker and ear at one place, and what came of a session there."""

    desk: Desk
    script: Sequence[Line]
    seconds: float
    missing: dict[float, float] = field(default_factory=dict)
    """Where sound is lost: at this second, so many."""
    interrupted: float | None = None
    """When Ctrl-C is pressed."""
    deaf: Callable[[Said], bool] = lambda said: False
    at_block: Callable[[float], None] = lambda second: None
    echo: float | None = None
    """Decibels by which what is played comes back; None for headphones."""
    begun: datetime = BEGUN
    name: str = "ladder"

    def __post_init__(self) -> None:
        self.now = 0.0
        self.asked: list[Said] = []
        self.played: list[tuple[float, float]] = []
        """When each answer began, and when it was over or was stopped."""
        self.events: list[Event] = []
        self.voice = Speaks()
        self._answer = np.zeros(0, np.float32)

    # As a microphone.

    def blocks(self) -> Iterator[Block]:
        sound = np.zeros(round(self.seconds * RATE), np.float32)
        for line in self.script:
            if 0 <= line.at < self.seconds:
                said = even_babble(line.seconds, decibels=line.decibels)
                at = round(line.at * RATE)
                sound[at : at + len(said)] += said[: len(sound) - at]
        at, lost = 0, False
        while at < len(sound):
            self.now = at / RATE
            for second, length in list(self.missing.items()):
                if self.now >= second:
                    del self.missing[second]
                    at, lost = at + round(length * RATE), True
            if self.interrupted is not None and self.now >= self.interrupted:
                raise KeyboardInterrupt
            self.at_block(self.now)
            heard = sound[at : at + BLOCK] + self._comes_back(len(sound[at : at + BLOCK]))
            whole = (np.clip(heard, -1, 1) * 32767).astype(np.int16)
            yield Block(whole, self.begun + timedelta(seconds=at / RATE), lost)
            at, lost = at + BLOCK, False
        self.now = self.seconds

    def close(self) -> None:
        """It ends by itself."""

    # As a loudspeaker.

    def play(self, sound: Samples, rate: int) -> None:
        assert rate == RATE
        self._answer = sound
        self.played.append((self.now, self.now + len(sound) / rate))

    def stop(self) -> None:
        self._answer = self._answer[:0]
        if self.played:
            began, ends = self.played[-1]
            self.played[-1] = (began, min(ends, self.now))

    @property
    def playing(self) -> bool:
        return len(self._answer) > 0

    def _comes_back(self, count: int) -> Samples:
        now, self._answer = self._answer[:count], self._answer[count:]
        loud = 0.0 if self.echo is None else 10 ** (self.echo / 20)
        return loud * np.pad(now, (0, count - len(now)))

    # As an ear.

    def wake(self) -> None:
        """It is awake."""

    def hear(self, said: Said) -> HeardUtterance | Unheard:
        """The script's words that lie in the sound."""
        self.asked.append(said)
        if self.deaf(said):
            return Unheard("what hears it came to an end; it is begun anew")
        assert said.context.at is not None
        begin = (said.context.at - self.begun.replace(tzinfo=None)).total_seconds()
        end = begin + len(said.sound) / RATE
        lines = [one for one in self.script if begin < (one.at + one.end) / 2 < end]
        words = " ".join(one.words for one in lines) or self._own_words(begin, end)
        other = " ".join(one.other or one.words for one in lines) or words
        utterance = Utterance(0.0, end - begin, hearings(words, other) if words else ())
        return read_heard(utterance, self.desk.vocabulary, said.context)

    def _own_words(self, begin: float, end: float) -> str:
        """What comes back of an answer that began at that moment."""
        answers = [one.words for one in self.of(Answered) if begin < one.begin + 0.5 < end + 0.5]
        return "" if self.echo is None else " ".join(answers)

    # What came of it.

    def of(self, *kinds: type) -> list:
        return [event for event in self.events if isinstance(event, kinds)]

    @property
    def caught(self) -> list[str]:
        return [event.heard for event in self.of(Caught)]

    @property
    def answers(self) -> list[str]:
        return [event.words for event in self.of(Answered)]

    @property
    def told(self) -> list[str]:
        """All that was shown to be put right, or to be known."""
        return [event.words for event in self.of(Warned)]

    @property
    def warnings(self) -> list[str]:
        return [words for words in self.told if not words.startswith("noise of the place")]

    @property
    def stops(self) -> int:
        return len(self.of(Stopped))

    def entries(self) -> tuple[BookEntry, ...]:
        """All that stands or may; a correction is no fact of its own."""
        every = record.read_entries(self.desk)
        facts = (one for one in every if one.entry.kind != "correction")
        return tuple(one for one in facts if one.standing != "dropped")

    def standing(self) -> list[tuple[str, str]]:
        """Place and inches of what was measured, and what became of it."""
        return [(f"{one.entry.place} {one.entry.inches}", one.standing) for one in self.entries()]

    def waiting(self) -> list[str]:
        """Files of the spool."""
        folder = self.desk.book.folder / "listening"
        return sorted(one.name for one in folder.iterdir() if one.suffix != ".lock")


def on_ladder(desk: Desk, *script: Line, seconds: float | None = None, **how: object) -> Ladder:
    """The session of this script, which ends a while after its last line; over and done with."""
    ladder = made(desk, *script, seconds=seconds, **how)
    listen(session(ladder))
    return ladder


def made(desk: Desk, *script: Line, seconds: float | None = None, **how: object) -> Ladder:
    last = max((line.end for line in script), default=0.0)
    return Ladder(desk, script, last + 1.5 if seconds is None else seconds, **how)  # type: ignore[arg-type]


def session(ladder: Ladder, **how: object) -> Session:
    settings: dict[str, object] = {"voice": ladder.voice, "greets": False} | how
    return Session(
        ladder.desk,
        ladder,
        ladder,
        Later(),
        Later(),
        ladder,  # type: ignore[arg-type]
        on_event=ladder.events.append,
        **settings,  # type: ignore[arg-type]
    )


@contextmanager
def a_desk(folder: Path) -> Iterator[Desk]:
    """A book with one job in which soffit is used."""
    with Book.create(folder / "book") as book:
        book.add_job(JOB)
        yield open_desk(book, JOB.name)
