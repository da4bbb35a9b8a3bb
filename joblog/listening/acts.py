"""What a conversation decides. Ids are those of the book; each act names what to do and no more."""

from __future__ import annotations

from dataclasses import dataclass

from joblog.aloud.beeps import Beep
from joblog.listening.commands import Command
from joblog.listening.questions import Question
from joblog.model import Entry, Reading


@dataclass(frozen=True, slots=True)
class Keep:
    """The utterance goes into the book with these entries, none where nothing in it was for us.

    At most one of `Drop`, `Replace`, `Settle` and `KeepBoth` comes with it: what its words decide.
    """

    reading: Reading


@dataclass(frozen=True, slots=True)
class Replace:
    """An entry becomes another. The utterance's own first entry, which is the same, gives way."""

    id: int
    by: Entry
    said: str
    doubts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Drop:
    """An entry was taken back."""

    id: int


@dataclass(frozen=True, slots=True)
class Settle:
    """A doubtful entry is what an answer said, without a doubt."""

    id: int
    by: Entry
    said: str


@dataclass(frozen=True, slots=True)
class KeepBoth:
    """Takes back the last `Replace`: both were meant."""


@dataclass(frozen=True, slots=True)
class Accept:
    """Nothing was said against what was read back."""

    ids: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Say:
    """The answer: these words with a voice, that beep without one."""

    words: str
    beep: Beep


@dataclass(frozen=True, slots=True)
class Ask:
    """A question in these words. One at a time; unanswered, what it asks of stays doubtful."""

    question: Question
    words: str


@dataclass(frozen=True, slots=True)
class Do:
    """A spoken command that needs more than the conversation knows."""

    command: Command


@dataclass(frozen=True, slots=True)
class Ignore:
    """It is not kept: our own voice, or said while paused."""

    why: str


Act = Keep | Replace | Drop | Settle | KeepBoth | Accept | Say | Ask | Do | Ignore
