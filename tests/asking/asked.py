"""Entries that are asked about, and where they stand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime
from decimal import Decimal
from fractions import Fraction
from typing import Any

from joblog.asking.answer import Answer
from joblog.asking.answers import answers_to
from joblog.asking.doubts import told_apart
from joblog.asking.setting import Setting
from joblog.dictation import Context, read
from joblog.model import (
    BookEntry,
    Entry,
    Hearing,
    Item,
    Plan,
    PlannedItem,
    PlannedTask,
    Scored,
    Task,
    Utterance,
    Word,
)
from joblog.plan import vocabulary

PANEL = Item("soffit panel", "sheet", ("soffit",))
FASCIA = Item("fascia", "stick")
CHANNEL = Item("j channel", "stick", ("j",))
PLAN = Plan(
    items=tuple(
        PlannedItem(item, Fraction(20), cost)
        for item, cost in (
            (PANEL, Decimal("21.40")), (FASCIA, Decimal("14.90")), (CHANNEL, Decimal("9.00")),
        )
    ),
    tasks=(PlannedTask(Task("hang soffit"), Fraction(12), Decimal("40.00")),),
    places=("north eave", "south eave"),
)  # fmt: skip
WORDS = vocabulary(PLAN)
AT = datetime(2026, 10, 5, 20, tzinfo=UTC)


def kept(entry: Entry, *doubts: str, said: str = "as it was said", id: int = 1) -> BookEntry:
    """An entry as it was heard, with why it is doubted."""
    utterance = 1 if said else None
    return BookEntry(id, 1, AT, entry, doubts, "heard", "heard", AT, said, utterance)


def used(quantity: int | None = 8, item: str | None = "soffit panel", **told: Any) -> Entry:
    many = None if quantity is None else Fraction(quantity)
    return Entry("used", item=item, quantity=many, **{"unit": "sheet", **told})


def answers(*asked: BookEntry, **told: Any) -> tuple[Answer, ...]:
    """The answers to what these entries are doubted for, with the words of a small job."""
    context = Context(at=datetime(2026, 10, 5, 15, 20))
    setting = Setting(
        asked,
        lambda text: read(text, WORDS, context),
        WORDS,
        PLAN,
        context=context,
        breath=asked,
    )
    return answers_to(
        replace(setting, **told), told_apart(why for one in asked for why in one.doubts)
    )


def says(found: Sequence[Answer]) -> list[str]:
    return [one.says for one in found]


def heard(*lines: tuple[str, str, float], scored: Sequence[str] = ()) -> Utterance:
    """What each recognizer heard, and how sure it was of every word."""
    hearings = tuple(
        Hearing(
            name,
            text,
            tuple(Word(word, at, at + 0.3, sure) for at, word in enumerate(text.split())),
            confidence=sure,
        )
        for name, text, sure in lines
    )
    each = tuple(Scored(text, 10.0 - at, -1.0 - at, -8.0) for at, text in enumerate(scored))
    return Utterance(0.0, 3.0, hearings, each)
