"""What hears an utterance may die, hang or fail; the next one is heard all the same."""

from __future__ import annotations

import os
from collections.abc import Iterator
from datetime import datetime
from fractions import Fraction

import pytest

from joblog.dictation import Context, Judgement
from joblog.listening.ear import Ear, Said, Unheard
from joblog.model import HeardUtterance, Vocabulary
from joblog.workers import Limits
from tests.listening.poor_ears import LINE, Poor, PoorOfTwo, sound

WORDS = Vocabulary(places=("north eave", "south eave"))
LIMITS = Limits(idle=5.0)
HERE = Context(at=datetime(2026, 10, 5, 8, 0), place="south eave")


@pytest.fixture(scope="module")
def ear() -> Iterator[Ear]:
    """One for all tests, in whatever state the one before left it."""
    ear = Ear(WORDS, recognizers=(Poor("trade"), PoorOfTwo("general free")), limits=LIMITS)
    ear.wake()
    yield ear
    ear.close()


def heard(ear: Ear, order: str = "hears", context: Context = HERE) -> HeardUtterance | Unheard:
    return ear.hear(Said(sound(order), context))


def told(outcome: HeardUtterance | Unheard) -> tuple[int, int, bool]:
    """Which process it was, how often its first recognizer was begun, and whether it knows of the
    commands."""
    assert isinstance(outcome, HeardUtterance)
    [first] = [one for one in outcome.utterance.hearings if one.recognizer == "trade"]
    process, begun, commands = first.alternatives[1].text.split()
    return int(process), int(begun), commands == "True"


def test_an_utterance_is_heard_by_every_recognizer_and_read(ear: Ear) -> None:
    outcome = heard(ear)
    assert isinstance(outcome, HeardUtterance)
    hearings = outcome.utterance.hearings
    assert sorted(one.recognizer for one in hearings) == [
        "general free",
        "general free again",
        "trade",
    ]
    assert [one.text for one in hearings] == [LINE] * 3
    [entry] = outcome.reading.entries
    assert (entry.place, entry.inches) == ("south eave", Fraction(95, 8))
    assert (outcome.utterance.start, outcome.utterance.end) == (0.0, 1.0)


def test_it_is_read_in_what_holds_from_before(ear: Ear) -> None:
    outcome = heard(ear, context=Context(at=HERE.at, place="north eave"))
    assert isinstance(outcome, HeardUtterance)
    assert [entry.place for entry in outcome.reading.entries] == ["north eave"]


@pytest.mark.parametrize(("below", "asks"), [(2.0, True), (0.0, False)])
def test_how_sure_one_must_be_is_handed_in(below: float, asks: bool) -> None:
    recognizers = (Poor("trade"), PoorOfTwo("general free"))
    ear = Ear(WORDS, recognizers=recognizers, judgement=Judgement(asks_below=below), limits=LIMITS)
    try:
        outcome = heard(ear)
    finally:
        ear.close()
    assert isinstance(outcome, HeardUtterance)
    assert bool(outcome.reading.doubts) is asks


def test_the_recognizers_expect_the_spoken_commands(ear: Ear) -> None:
    assert told(heard(ear))[2]


def test_it_is_heard_in_a_process_of_its_own_that_stays(ear: Ear) -> None:
    first, second = told(heard(ear)), told(heard(ear))
    assert first[0] == second[0] != os.getpid()


def test_every_utterance_is_heard_by_recognizers_that_were_begun_anew(ear: Ear) -> None:
    first, second = told(heard(ear)), told(heard(ear))
    assert second[1] == first[1] + 1


@pytest.mark.parametrize(
    ("order", "why"),
    [
        ("dies", "what hears it came to an end; it is begun anew"),
        ("hangs", "what hears it got stuck; it is begun anew"),
    ],
)
def test_one_that_is_lost_says_so_and_the_next_utterance_is_heard(
    ear: Ear, order: str, why: str
) -> None:
    before = told(heard(ear))[0]
    assert heard(ear, order) == Unheard(why)
    assert told(heard(ear))[0] != before


def test_one_that_fails_says_why_and_stays(ear: Ear) -> None:
    before = told(heard(ear))[0]
    assert heard(ear, "fails") == Unheard("the model is of another make")
    assert heard(ear, "fails without a word") == Unheard("ValueError")
    assert told(heard(ear))[0] == before


def test_after_it_was_closed_no_process_is_left_and_another_one_may_be_begun(ear: Ear) -> None:
    before = told(heard(ear))[0]
    ear.close()
    assert told(heard(ear))[0] != before
