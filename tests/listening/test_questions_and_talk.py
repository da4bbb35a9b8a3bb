"""What is asked back, what answers it, and what talk is for us."""

from datetime import datetime
from fractions import Fraction

import pytest

from joblog.dictation import Context, best
from joblog.listening.for_us import has_sure_fact, is_for_us, unheard_share, words_of_the_trade
from joblog.listening.questions import Question, agrees, answer_in, declines, question_for
from joblog.model import UNHEARD, Entry, HeardUtterance, Reading, Utterance
from tests.bench.corpus import words
from tests.listening.talking import hearings

NOON = Context(at=datetime(2026, 10, 5, 12))


def question(text: str, other: str, sure: float = 0.8) -> Question | None:
    heard = hearings(text, other, sure)
    _, reading = best(heard, words(), NOON)
    return question_for(HeardUtterance(Utterance(0.0, 2.0, heard), reading), words(), NOON)


def answer(asked: Question | None, text: str, other: str | None = None) -> Entry | None:
    assert asked is not None
    reading = answer_in(hearings(text, other), asked, words(), NOON)
    return reading.entries[0] if reading else None


@pytest.mark.parametrize(
    ("text", "other", "asked"),
    [
        ("south eave fourteen", "south eave forty", "fourteen, or forty?"),
        (
            "north eave fourteen and five eighths",
            "north eave fourteen and three eighths",
            "fourteen and five eighths, or fourteen and three eighths?",
        ),
        (
            "used three sheets of soffit",
            "used thirteen sheets of soffit",
            "three sheets, or thirteen sheets?",
        ),
        ("quit at eleven ten", "quit at eleven twelve", "eleven ten, or eleven twelve?"),
        ("lunch fifteen minutes", "lunch fifty minutes", "fifteen minutes, or fifty minutes?"),
    ],
)  # fmt: skip
def test_one_number_heard_two_ways_is_asked_by_that_number(
    text: str, other: str, asked: str
) -> None:
    found = question(text, other)
    assert found is not None
    assert set(found.words.rstrip("?").split(", or ")) == set(asked.rstrip("?").split(", or "))


def test_what_is_heard_alike_is_not_asked() -> None:
    assert (
        question("south eave fourteen and a half", "south eave fourteen and a half", 0.99) is None
    )


def test_what_differs_in_more_than_a_number_is_only_read_back() -> None:
    found = question("used three sheets of soffit", "used thirteen sticks of gutter")
    assert found is not None
    assert (len(found.candidates), found.words) == (1, "")


def test_what_is_meant_is_not_asked_by_ear() -> None:
    assert question("used a couple of elbows", "used a couple of elbows") is None


@pytest.mark.parametrize(
    ("said", "inches"),
    [
        ("forty", 40),
        ("fourteen inches", 14),
        ("it's forty", 40),
        ("uh fourteen", 14),
        ("the first", 14),
        ("second", 40),
        ("the second one", 40),
        ("the last one", 40),
    ],
)
def test_a_number_or_its_turn_chooses_it(said: str, inches: int) -> None:
    asked = question("south eave fourteen", "south eave forty")
    assert asked is not None
    turned = Question(
        asked.at,
        tuple(sorted(asked.candidates, key=lambda one: one.inches or 0)),
        asked.words,
        asked.number,
    )
    chosen = answer(turned, said)
    assert chosen is not None
    assert (chosen.inches, chosen.place) == (inches, "south eave")


@pytest.mark.parametrize("said", ["yes", "fourteen or forty", "fifteen", "the third", "gutter", ""])
def test_other_words_choose_nothing(said: str) -> None:
    assert answer(question("south eave fourteen", "south eave forty"), said) is None


def test_two_hearings_that_choose_otherwise_choose_nothing() -> None:
    assert answer(question("south eave fourteen", "south eave forty"), "forty", "fourteen") is None


def test_a_number_that_one_recognizer_alone_heard_again_chooses_nothing() -> None:
    asked = question("south eave fourteen", "south eave forty")
    assert answer(asked, "forty", "four tea") is None
    assert answer(asked, "the second", "this egg and") is not None


def test_a_number_in_other_words_than_were_asked_chooses_it_though_one_recognizer_heard_it() -> (
    None
):
    asked = question("west gable one foot one and an eighth", "west gable one and an eighth")
    chosen = answer(asked, "thirteen and an eighth", "thirteen and an eighty")
    assert chosen is not None
    assert chosen.inches == Fraction(105, 8)


def test_a_time_said_again_chooses_it() -> None:
    asked = question("started at seven thirty", "started at seven thirteen")
    chosen = answer(asked, "seven thirteen")
    assert chosen is not None and chosen.time is not None
    assert chosen.time.minute == 13


def test_yes_and_no_are_told_from_anything_else() -> None:
    assert agrees(hearings("yeah, that's right"))
    assert declines(hearings("no, neither"))
    assert declines(hearings("that's not right"))
    assert not agrees(hearings("that's not right"))
    assert not agrees(hearings("right side"))
    assert not declines(hearings("no more soffit"))


def test_the_share_that_was_not_heard_is_that_of_the_hearing_with_most() -> None:
    assert unheard_share(hearings(f"one {UNHEARD} {UNHEARD} {UNHEARD}", "one two")) == 0.75
    assert unheard_share(()) == 0.0


def test_a_doubtful_fact_is_no_sure_one() -> None:
    [_, doubtful] = best(hearings("used about three sheets of soffit"), words(), NOON)
    [_, sure] = best(hearings("used three sheets of soffit"), words(), NOON)
    assert not has_sure_fact(doubtful)
    assert has_sure_fact(sure)


def test_a_level_that_is_not_known_yet_speaks_against_nobody() -> None:
    note = Reading((Entry("note", note="the ladder is on the south eave"),))
    said = hearings("note the ladder is on the south eave")
    assert is_for_us(note, said, None)
    assert not is_for_us(note, said, -10.0)


def test_mere_words_are_for_us_when_they_are_called_a_note_or_are_of_the_trade() -> None:
    note = Reading((Entry("note", note="be careful"),))
    trade = words_of_the_trade(words())
    assert not is_for_us(note, hearings("be careful up there"), None, trade)
    assert is_for_us(note, hearings("note be careful up there"), None, trade)
    assert is_for_us(note, hearings("be careful with the soffit"), None, trade)


def test_while_others_talk_all_the_time_he_must_be_about_as_loud_as_ever() -> None:
    [_, doubtful] = best(hearings("used about three sheets of soffit"), words(), NOON)
    said = hearings("used about three sheets of soffit")
    assert is_for_us(doubtful, said, -5.0)
    assert not is_for_us(doubtful, said, -5.0, among_others=True)
    assert not is_for_us(doubtful, said, None, among_others=True)
    assert is_for_us(doubtful, said, -2.0, among_others=True)
    [_, sure] = best(hearings("used three sheets of soffit"), words(), NOON)
    assert is_for_us(sure, hearings("used three sheets of soffit"), -5.0, among_others=True)
