"""What waits for a person, as questions with the answers that fit; the dearest first.

`questions` is cheap: it lists what is asked, without answers. Only the question that is shown needs
these: `with_answers` works them out for it alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from typing import Literal

from joblog.book import decisions
from joblog.book.decisions import Settled
from joblog.form import describe
from joblog.model import STOCK_KINDS, BookEntry
from joblog.service.desk import Desk, remember
from joblog.service.errors import ServiceError, use_case
from joblog.service.reading import reader_instead
from joblog.service.record import read_entries
from joblog.service.rereading import other_choices

About = Literal[
    "item", "place", "became", "number", "whose", "time", "kind", "words", "record", "stock"
]
"""What is asked."""


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer to a question, and what it makes of the entries asked about."""

    says: str
    """In a few words: "soffit panel", "16", "south eave", "scrapped"."""
    means: str
    """The entry as it would then stand, one line."""
    because: str = ""
    """Such as "the only one counted in sheets", "the other recognizer", "answered so 3 times"."""
    settles: tuple[Settled, ...] = ()


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked of one entry, or once of several of the same kind."""

    about: About
    asks: str
    """One plain sentence: "3 times 'J' today: which item?"."""
    entries: tuple[BookEntry, ...]
    answers: tuple[Answer, ...] = ()
    """Most likely first, at most 9; none until `with_answers`."""
    keep: bool = True
    """False where it cannot count as it stands: "8 sheets of something"."""
    cost: Decimal = Decimal(0)
    """What it would cost if it were wrong."""
    unsure: tuple[str, ...] = ()
    """Words that were not surely heard."""


@use_case
def questions(desk: Desk, day: date | None = None) -> tuple[Question, ...]:
    """What waits on a day, or in the whole job; the dearest first, the same kind together."""
    return tuple(
        Question(
            "words",
            "; ".join(entry.doubts),
            (entry,),
            keep=entry.entry.kind not in STOCK_KINDS
            or None not in (entry.entry.item, entry.entry.quantity),
        )
        for entry in read_entries(desk, day)
        if entry.open
    )


@use_case
def with_answers(desk: Desk, question: Question) -> Question:
    """The question with its answers, as it is shown."""
    answers: list[Answer] = []
    for entry in question.entries:
        if entry.utterance is None:
            continue
        said = desk.book.utterance(entry.utterance).utterance
        for choice in other_choices(entry, said, reader_instead(desk, entry)):
            [found] = choice.revision.reading.entries
            settled = Settled(entry.id, found, choice.revision.text)
            line = describe(found)
            answers.append(Answer(line, line, choice.heard_by, (settled,)))
    return replace(question, answers=tuple(answers[:9]))


@use_case
def answer(desk: Desk, question: Question, number: int) -> tuple[BookEntry, ...]:
    """Settles it by the answer of that number, the first one being 1, in one step.

    The entries as they then stand, those that came beside them last. Raises `ServiceError` for an
    answer that is not there.
    """
    if not 1 <= number <= len(question.answers):
        raise ServiceError(f"there is no answer {number} to that; choose 1 to 9, or another key")
    return _settle(desk, question, question.answers[number - 1].settles)


@use_case
def keep(desk: Desk, question: Question) -> tuple[BookEntry, ...]:
    """All its entries are right as they stand. Raises `ServiceError` where none can count so."""
    if not question.keep:
        raise ServiceError("it cannot count as it stands: answer it, edit it or drop it")
    asis = [Settled(one.id, one.entry, one.said) for one in question.entries]
    return _settle(desk, question, asis)


@use_case
def drop(desk: Desk, question: Question) -> tuple[BookEntry, ...]:
    """None of its entries counts; they stay readable."""
    return _settle(desk, question, [Settled(one.id, None, one.said) for one in question.entries])


@use_case
def keep_rest(desk: Desk, day: date | None = None) -> int:
    """Everything of the day, or of the job, that nobody doubts is right, in one step; how many."""
    rest = [
        one
        for one in read_entries(desk, day)
        if not one.open and one.standing == "heard" and not one.looked_at
    ]
    remember(desk)
    return len(decisions.settle(desk.book, [Settled(one.id, one.entry, one.said) for one in rest]))


@use_case
def keep_cheap(desk: Desk, asked: Sequence[Question]) -> int:
    """Keeps as they stand, in one step, those of these that cost nothing in any figure and are no
    record of covered work; how many entries."""
    cheap = [
        one
        for question in asked
        if question.keep and not question.cost
        for one in question.entries
        if one.entry.kind != "covered"
    ]
    remember(desk)
    seen = {one.id: one.doubts for one in cheap}
    asis = [Settled(one.id, one.entry, one.said) for one in cheap]
    return len(decisions.settle(desk.book, asis, seen=seen))


def _settle(desk: Desk, question: Question, settled: Sequence[Settled]) -> tuple[BookEntry, ...]:
    remember(desk)
    seen = {one.id: one.doubts for one in question.entries}
    return decisions.settle(desk.book, settled, seen=seen)
