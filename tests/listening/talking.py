"""A person and a conversation, for tests: what he says, when, and what is answered."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

from joblog.dictation import best
from joblog.listening.acts import Act, Ask, Keep, Say
from joblog.listening.conversation import Conversation, Heard
from joblog.model import Alternative, HeardUtterance, Hearing, Utterance, Vocabulary, Word
from tests.bench.corpus import words

BEGUN = datetime(2026, 10, 5, 14, 0, tzinfo=UTC)
SPOKEN = 2.0
"""Seconds that an utterance takes, and an answer."""


def hearings(text: str, other: str | None = None, sure: float = 0.99) -> tuple[Hearing, ...]:
    """What three hearings make of it: all the same, or the general recognizer hears `other`."""
    general = text if other is None else other
    told = (("trade", text), ("general free", general), ("general constrained", general))
    return tuple(_hearing(name, line, sure) for name, line in told)


def _hearing(name: str, text: str, sure: float) -> Hearing:
    said = tuple(Word(word, at, at + 0.3, sure) for at, word in enumerate(text.split()))
    return Hearing(name, text, said, (Alternative(text, -1.0),), sure)


class Talk:
    """Does what a listening loop does, with a book that only counts its entries."""

    def __init__(self, conversation: Conversation, vocabulary: Vocabulary) -> None:
        self.conversation = conversation
        self.vocabulary = vocabulary
        self.now = BEGUN
        self.acts: tuple[Act, ...] = ()
        self._next = 1

    def hears(
        self,
        text: str,
        *,
        other: str | None = None,
        sure: float = 0.99,
        level: float | None = 0.0,
        after: float = 0.5,
        answered: bool = True,
    ) -> tuple[Act, ...]:
        """He says it `after` so many seconds. What is said back is spoken to its end, if
        `answered`; else it still sounds when he speaks next."""
        self.now += timedelta(seconds=after)
        heard = hearings(text, other, sure)
        context = replace(self.conversation.context, at=self.now.replace(tzinfo=None))
        chosen, reading = best(heard, self.vocabulary, context)
        ordered = (heard[chosen], *(one for at, one in enumerate(heard) if at != chosen))
        begun, ended = self.now, self.now + timedelta(seconds=SPOKEN)
        utterance = HeardUtterance(Utterance(0.0, SPOKEN, ordered), reading)
        self.acts = self.conversation.hear(Heard(utterance, begun, ended, level))
        self.now = ended
        for act in self.acts:
            if isinstance(act, Keep):
                ids = range(self._next, self._next + len(act.reading.entries))
                self._next += len(ids)
                self.conversation.stored(ids)
        for act in self.acts:
            if isinstance(act, Say | Ask):
                self.conversation.answering(act.words, self.now)
                if answered:
                    self.now += timedelta(seconds=SPOKEN)
                    self.conversation.answered(self.now)
        return self.acts

    def waits(self, seconds: float) -> tuple[Act, ...]:
        self.now += timedelta(seconds=seconds)
        self.acts = self.conversation.passed(self.now)
        return self.acts

    @property
    def said(self) -> str:
        """The words of the last answer."""
        return next((act.words for act in self.acts if isinstance(act, Say | Ask)), "")

    def of(self, *kinds: type) -> list[Act]:
        """The acts of these kinds, of the last moment."""
        return [act for act in self.acts if isinstance(act, kinds)]


def talk(*, aloud: bool = True) -> Talk:
    vocabulary = words()
    return Talk(Conversation(vocabulary, aloud=aloud), vocabulary)
