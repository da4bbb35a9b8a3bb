"""Whether something that was heard was said to joblog at all, or is a radio, a neighbor, a shout.

What was not is kept with its sound and asked of nobody. All figures of it stand here.
"""

from __future__ import annotations

from collections.abc import Sequence, Set
from datetime import timedelta

from joblog.dictation.hypotheses import plain_words
from joblog.dictation.judgement import DOUBTFUL
from joblog.dictation.numbers import NUMBER_WORDS
from joblog.listening.questions import ANYBODYS, is_only_words
from joblog.model import UNHEARD, Hearing, Reading, Vocabulary

MOSTLY_UNHEARD = 0.5
"""Share of unheard words, in the hearing that has most of them, from which it is other talk."""
MUCH_SOFTER = -8.0
"""Decibels against his usual voice, more than two times as far away; his own goes 6 up and down."""
NEAR = -3.0
"""Decibels against his usual voice, from which it is he though others talk all the time."""
OTHERS, LATELY = 3, timedelta(seconds=60)
"""So many times somebody spoke, in so long, and it was not for us: a radio, or company."""
SURE_FACT = DOUBTFUL
"""Confidence from which a fact speaks for itself, however soft."""

EMPTY = frozenset(
    "yes yeah yep yup no nope okay ok alright all right well so now then uh um hm oh ah hey hi"
    " thanks thank you please sure good great fine there we go let's see the a and i it".split()
)
"""Words that say nothing when nothing else is said."""


def is_for_us(
    reading: Reading,
    hearings: Sequence[Hearing],
    level: float | None,
    trade: Set[str] = frozenset(),
    among_others: bool = False,
) -> bool:
    """False for talk that holds no sure fact and is mostly unheard, much softer than he speaks, no
    more than "okay", or mere words without a number, a place or a word of the trade that nobody
    called a note; and for "forget it" said by a neighbor. While others talk all the time it must be
    about as loud as he is.

    He hears that nothing is read back, and says it again with "note" before it if he meant it.

    `level` is in decibels against his usual voice, None where that is not known yet; `trade` are
    words of the job's items, places and tasks.
    """
    soft = is_soft(level)
    if has_sure_fact(reading) and not (soft and _takes_back(reading)):
        return True
    if all(map(_is_empty, hearings)):
        return False
    if _mere_words(reading, hearings) and not _tells(reading, hearings, trade):
        return False
    if among_others and not _is_called(hearings) and (level is None or level < NEAR):
        return False
    return not soft and unheard_share(hearings) < MOSTLY_UNHEARD


def words_of_the_trade(vocabulary: Vocabulary) -> frozenset[str]:
    """Words that nobody says who talks of something else."""
    items = (name for item in vocabulary.items for name in (item.name, *item.spoken))
    tasks = (name for task in vocabulary.tasks for name in (task.name, *task.spoken))
    words = (word for name in (*items, *tasks, *vocabulary.places) for word in plain_words(name))
    known = (word for word in words if len(word) > 2 and word not in NUMBER_WORDS)
    return frozenset(known) - EVERYDAY


EVERYDAY = frozenset(
    "the a an of on at in to and house home water paint door window left right front back side top"
    " end work clean up down out drive cut measure box can tape line under inside outside corner"
    " common finish step stock solid paper rock roll post cap four fours sixes".split()
)


def _mere_words(reading: Reading, hearings: Sequence[Hearing]) -> bool:
    if any(
        entry.kind != "note" and not (entry.kind in ANYBODYS and is_only_words(entry))
        for entry in reading.entries
    ):
        return not is_worth_an_answer(reading, hearings)
    return not _is_called(hearings)


def _is_called(hearings: Sequence[Hearing]) -> bool:
    return any(CALLED.intersection(plain_words(hearing.text)[:2]) for hearing in hearings)


def is_worth_an_answer(reading: Reading, hearings: Sequence[Hearing]) -> bool:
    """False for words that were not heard clearly and were not called a note, or the like: nobody
    could tell from five unclear words what was meant, and a radio makes many of them."""
    doubtful = {doubt.entry for doubt in reading.doubts}
    if any(
        not is_only_words(entry) or at not in doubtful for at, entry in enumerate(reading.entries)
    ):
        return True
    return _is_called(hearings)


CALLED = frozenset(
    "note photo picture problem reminder remind remember forget todo covering covered".split()
)
"""What begins words that are certainly for the log."""


def _tells(reading: Reading, hearings: Sequence[Hearing], trade: Set[str]) -> bool:
    """Whether a fact may lie behind mere words: a place, a word of the trade, or a number that is
    no figure of speech."""
    if any(entry.place and "place" not in entry.carried for entry in reading.entries):
        return True
    words = plain_words(hearings[0].text) if hearings else ()
    return any(
        word in trade or (word in NUMBER_WORDS and word not in FIGURES_OF_SPEECH) for word in words
    )


FIGURES_OF_SPEECH = frozenset("a an one and couple second half quarter point oh by".split())


def is_soft(level: float | None) -> bool:
    """Whether it is so much softer than he speaks that it is hardly he: what takes back, answers
    or commands is not taken from anybody else."""
    return level is not None and level <= MUCH_SOFTER


def has_sure_fact(reading: Reading) -> bool:
    """Whether it holds a fact with a number, or a correction, that nobody doubts and that is not
    what people say to each other every day."""
    doubtful = {doubt.entry for doubt in reading.doubts}
    sure = reading.confidence or (1.0,) * len(reading.entries)
    return any(
        at not in doubtful
        and not is_only_words(entry)
        and entry.kind not in ANYBODYS
        and sure[at] >= SURE_FACT
        for at, entry in enumerate(reading.entries)
    )


def _takes_back(reading: Reading) -> bool:
    return reading.entries[0].kind == "correction"


def unheard_share(hearings: Sequence[Hearing]) -> float:
    """The share of words that were not heard, in the hearing that has most of them."""
    return max((_share(hearing.text) for hearing in hearings), default=0.0)


def _is_empty(hearing: Hearing) -> bool:
    return EMPTY.issuperset(plain_words(hearing.text))


def _share(text: str) -> float:
    unheard = text.count(UNHEARD)
    return unheard / max(1, unheard + len(plain_words(text.replace(UNHEARD, " "))))
